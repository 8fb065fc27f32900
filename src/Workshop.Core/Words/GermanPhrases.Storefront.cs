namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about orders and arrivals.</summary>
    private static Dictionary<string, string> Storefront => new()
    {
    };
}
