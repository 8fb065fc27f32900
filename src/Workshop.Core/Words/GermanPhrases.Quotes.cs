namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about quotes, deliveries and disputes.</summary>
    private static Dictionary<string, string> Quotes => new()
    {
    };
}
