namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about messages that leave the house.</summary>
    private static Dictionary<string, string> Outgoing => new()
    {
    };
}
