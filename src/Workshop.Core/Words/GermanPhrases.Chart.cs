namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about control charts and plots.</summary>
    private static Dictionary<string, string> Charts => new()
    {
    };
}
