namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about messages that leave the house.</summary>
    private static Dictionary<string, string> Outgoing => new()
    {
        ["Too many callers read along"] = "Zu viele lesen mit",
        ["Read the changes page by page meanwhile, and open the stream again after the time given."] =
            "Die Änderungen inzwischen seitenweise lesen, und den Strom nach der genannten Zeit wieder öffnen.",
    };
}
