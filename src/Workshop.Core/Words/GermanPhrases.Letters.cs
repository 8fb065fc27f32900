namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about letters, and about the people round a watch.</summary>
    private static Dictionary<string, string> Letters => new()
    {
        ["Ask the family or the executor who decides now, save it under /v1/jobs/{label}/parties, and send the answer again."] = "Die Angehörigen oder die Erbverwaltung fragen, wer nun entscheidet, es unter /v1/jobs/{label}/parties eintragen und die Antwort nochmals senden.",
        ["whoever decides about the watch is alive"] = "wer über die Uhr entscheidet, lebt",
        ["we have waited for your answer"] = "wir haben auf Ihre Antwort gewartet",
        ["a part comes later than we were told"] = "ein Teil kommt später, als man uns gesagt hat",
        ["it needs more work than could be seen before"] = "sie braucht mehr Arbeit, als vorher zu sehen war",
        ["we test it once more, to be sure"] = "wir prüfen sie zur Sicherheit noch einmal",
        ["one step of the work takes longer"] = "ein Arbeitsschritt dauert länger",
        ["the workshop is closed for some days"] = "die Werkstatt ist einige Tage geschlossen",
        ["we have fewer hands than we had planned with"] = "wir haben weniger Hände als geplant",
        ["we have more to do than we had planned"] = "wir haben mehr zu tun als geplant",
        ["the work takes another time than we had thought"] = "die Arbeit dauert anders lang, als wir dachten",
        ["Whoever decided has died"] = "Wer entschied, ist verstorben",
        ["write down who decides now, then answer again"] = "eintragen, wer nun entscheidet, dann nochmals antworten",
    };
}
