namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about letters, and about the people round a watch.</summary>
    private static Dictionary<string, string> Letters => new()
    {
        ["Ask the family or the executor who decides now, save it under /v1/jobs/{label}/parties, and send the answer again."] = "Die Angehörigen oder die Erbverwaltung fragen, wer nun entscheidet, es unter /v1/jobs/{label}/parties eintragen und die Antwort nochmals senden.",
        ["whoever decides about the watch is alive"] = "wer über die Uhr entscheidet, lebt",
        ["Whoever decided has died"] = "Wer entschied, ist verstorben",
        ["write down who decides now, then answer again"] = "eintragen, wer nun entscheidet, dann nochmals antworten",
    };
}
