namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about checks after wear.</summary>
    private static Dictionary<string, string> Wears => new()
    {
    };
}
