namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about sealed extracts, calendar feeds, and what is kept of people.</summary>
    private static Dictionary<string, string> Extracts => new()
    {
        ["Genuine: every line is as it was written on {0}. The job went on since; the workshop can give a newer extract."] =
            "Echt: jede Zeile ist so, wie sie am {0} geschrieben wurde. Der Auftrag ging seither weiter; die Werkstatt kann einen neueren Auszug geben.",
        ["Genuine: every line is as it was written on {0}."] = "Echt: jede Zeile ist so, wie sie am {0} geschrieben wurde.",
        ["Altered: line {0} is not as it was written."] = "Verändert: Zeile {0} ist nicht so, wie sie geschrieben wurde.",
        ["Altered: the seal does not belong to these lines."] = "Verändert: das Siegel gehört nicht zu diesen Zeilen.",
        ["Not ours: it names a key that this workshop does not have."] = "Nicht von hier: diesen Schlüssel hat die Werkstatt nicht.",
        ["Name, ways to reach them and free text are gone. Days, work, measurements, amounts and warranty stay with the watch, as long as the law or a warranty asks for them."] =
            "Name, Erreichbarkeit und freier Text sind gelöscht. Tage, Arbeit, Messwerte, Beträge und Garantie bleiben bei der Uhr, solange das Gesetz oder eine Garantie sie verlangt.",
        ["Unreadable: this is no extract, or not the whole of one."] = "Unlesbar: das ist kein Auszug, oder nicht der ganze.",
        ["Who this is, is still needed"] = "Wer das ist, wird noch gebraucht",
        ["See to what the answer names in because: hand the watch over, settle the money, decide the claim; a hold is a manager's."] =
            "Erledigen, was die Antwort in because nennt: die Uhr übergeben, das Geld klären, über die Reklamation entscheiden; eine Sperre ist Sache der Leitung.",
    };
}
