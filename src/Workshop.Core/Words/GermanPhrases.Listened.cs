namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    // What a drawing says of a recording.
    private static Dictionary<string, string> Listened => new()
    {
    };
}
