namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    // Recordings of a watch, and what was heard in them.
    private static Dictionary<string, string> Recordings => new()
    {
    };
}
