using System.Collections.Immutable;
using Workshop.Core.Intake;

namespace Workshop.Core.Words;

/// <summary>Words of the counter: how a watch came in, and how somebody may be reached.</summary>
internal static class IntakeWordLists
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<PolishWish>("polish",
            ("yes", "ja"), ("no", "nein"), ("ask", "nachfragen")),
        WordList.Of<ConditionPlace>("conditionPlace",
            ("dial", "Zifferblatt"), ("crystal", "Glas"), ("bezel", "Lünette"), ("flanks", "case flanks", "Gehäuseflanken"), ("lugs", "Bandanstöße"), ("back", "case back", "Boden"),
            ("crown", "Krone"), ("pushers", "Drücker"), ("bracelet", "bracelet or strap", "Metall- oder Lederband"), ("clasp", "Schließe")),
        WordList.Of<ConditionWord>("conditionWord",
            ("none-seen", "nothing seen", "nichts gesehen"), ("light", "light marks", "leichte Spuren"), ("clear", "clear marks", "deutliche Spuren"),
            ("deep", "deep marks", "tiefe Spuren"), ("missing", "fehlt"), ("not-looked", "not looked at", "nicht angesehen")),
        WordList.Of<ArrivalRun>("arrivalRun",
            ("running", "läuft"), ("stopped", "steht"), ("unknown", "unbekannt")),
        WordList.Of<ArrivalState>("arrivalState",
            ("works", "in Ordnung"), ("faulty", "fehlerhaft"), ("missing", "fehlt"), ("not-tried", "nicht geprüft")),
        WordList.Of<ReachableBasis>("reachableBasis",
            ("own-figures", "counted from jobs of the house", "aus eigenen Aufträgen gezählt"), ("usual", "as usual", "wie üblich")),
        WordList.Of("consentKind",
            ("messages", "messages about this job", "Nachrichten zu diesem Auftrag"), ("care", "care after the work", "Pflege nach der Arbeit")),
        WordList.Of("consentChannel",
            ("email", "e-mail", "E-Mail"), ("telephone", "Telefon"), ("letter", "Brief"), ("none", "keine")),
        WordList.Of("contactRule",
            ("normal", "wie üblich"), ("none", "no contact", "kein Kontakt"), ("only-by", "only by this way", "nur auf diesem Weg")),
    ];
}
