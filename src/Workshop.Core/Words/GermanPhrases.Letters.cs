namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about letters, and about the people round a watch.</summary>
    private static Dictionary<string, string> Letters => new()
    {
    };
}
