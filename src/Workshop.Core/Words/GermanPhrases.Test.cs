namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about function checks, reserve tests, water tests and stops.</summary>
    private static Dictionary<string, string> Tests => new()
    {
    };
}
