using System.Collections.Immutable;
using Workshop.Core.Gates;
using Workshop.Core.Insurance;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Parts;

namespace Workshop.Core.Words;

/// <summary>Words of the house and of its answers, among them those whose enums belong to the service.</summary>
internal static class HouseWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of("flag",
            (EntryFlag.Late, "nachgemeldet"), (EntryFlag.ForReview, "zu prüfen"), (EntryFlag.ClockSuspect, "clock suspect", "Uhr des Geräts zweifelhaft"),
            (EntryFlag.ClockStepped, "clock set anew", "Uhr des Geräts verstellt"), (EntryFlag.Gap, "something before it is missing", "davor fehlt etwas"),
            (EntryFlag.OpeningImplied, "opening taken as told", "Öffnung angenommen"), (EntryFlag.AlreadySo, "was so already", "war schon so"),
            (EntryFlag.UnknownMember, "unbekanntes Feld"), (EntryFlag.Unproven, "unproven", "nicht nachgewiesen"), (EntryFlag.MeanOfDays, "mean of several days", "Mittel über mehrere Tage"),
            (EntryFlag.PersonLeft, "the person had left the house", "war nicht mehr im Haus"), (EntryFlag.UnlikeSequence, "unlike the sequence of the trial", "nicht nach der Folge der Prüfung"), (EntryFlag.Implausible, "odd figures", "auffällige Werte"), (EntryFlag.BeyondCalendar, "counted without public holidays", "ohne Feiertage gezählt"),
            (EntryFlag.CountDiffers, "another number", "andere Anzahl"), (EntryFlag.PartTaken, "given to another watch", "an eine andere Uhr gegeben"),
            (EntryFlag.FunctionFiguresDiffer, "the figures say otherwise", "die Werte sagen anderes"), (EntryFlag.AgainstCaution, "tested against a caution", "gegen eine Vorsicht geprüft"),
            (EntryFlag.MidnightsDiffer, "midnights do not agree", "Mitternächte stimmen nicht"), (EntryFlag.UnlikePrediction, "unlike what the bench foretold", "anders als vorausgesagt")),
        WordList.Of("sheetForm",
            ("labels", "Etiketten"), ("intake-cards", "Annahmekarten")),
        WordList.Of("signal",
            ("ok", "go on", "weiter"), ("ask", "look, then decide", "ansehen, dann entscheiden"), ("stop", "halt")),
        WordList.Of("outcome",
            ("accepted", "angenommen"), ("noted", "zurückgestellt"), ("replayed", "schon bekannt"), ("held", "wartet"), ("refused", "abgelehnt")),
        WordList.Of("role",
            ("bench", "Werktisch"), ("desk", "Annahme"), ("manager", "Leitung"), ("storefront", "Onlineshop"), ("wall", "Wandanzeige"), ("operator", "Betrieb")),
        WordList.Of("sight",
            ("work", "Arbeit"), ("names", "Namen und Adressen"), ("amounts", "Beträge")),
        WordList.Of("quoteState",
            ("open", "offen"), ("accepted", "angenommen"), ("refused", "abgelehnt"), ("superseded", "ersetzt"), ("expired", "abgelaufen")),
        WordList.Of("receivedState",
            ("held", "wartet"), ("accepted", "angenommen"), ("refused", "abgelehnt")),
        WordList.Of("clockState",
            ("synchronised", "geht nach einer Referenz"), ("unknown", "unbekannt"), ("stepped", "was set within the last hour", "in der letzten Stunde verstellt")),
        WordList.Of("foundBy",
            ("label", "Etikett"), ("serial", "Nummer"), ("telephone", "Telefon"), ("name", "Name"), ("own-number", "own number", "eigene Nummer"), ("part-of-serial", "part of a number", "Teil einer Nummer"), ("watch", "Uhr")),
        WordList.Of<CalibreKind>("calibreKind",
            ("automatic", "Automatik"), ("hand-wound", "Handaufzug"), ("chronograph", "Chronograph"), ("quartz", "Quarz"), ("unknown", "unbekannt")),
        WordList.Of<InsuredWhere>("insuredWhere",
            ("house", "in the house", "im Haus"), ("safe", "in the safe", "im Tresor"), ("outside-safe", "outside the safe", "außerhalb des Tresors"),
            ("firms", "with firms", "bei Firmen"), ("in-transit", "on the way", "unterwegs"), ("one-watch", "a single watch", "eine einzelne Uhr")),
        WordList.Of<InterchangeDirection>("interchangeDirection",
            ("this-for-that", "dieses statt jenem"), ("that-for-this", "jenes statt diesem"), ("both-ways", "in beide Richtungen")),
        WordList.Of("accountEntry",
            ("agreed", "vereinbart"), ("asked", "verlangt"), ("refused", "abgelehnt"), ("reopened", "to be agreed anew", "neu zu vereinbaren"),
            ("deposit", "Anzahlung"), ("balance", "Restbetrag"), ("refund", "Rückzahlung"), ("corrected", "berichtigt")),
        WordList.Of("winderTurns",
            ("both", "both ways", "in beide Richtungen"), ("clockwise", "im Uhrzeigersinn"), ("anti-clockwise", "gegen den Uhrzeigersinn")),
        WordList.Of("gate", [.. GateTable.All.Select(gate => new WordTexts(gate.Family, gate.PassesWhen, GermanPhrases.Of(gate.PassesWhen) ?? gate.PassesWhen))]),
        WordList.Of("weekday",
            ("monday", "Monday", "Montag"), ("tuesday", "Tuesday", "Dienstag"), ("wednesday", "Wednesday", "Mittwoch"), ("thursday", "Thursday", "Donnerstag"),
            ("friday", "Friday", "Freitag"), ("saturday", "Saturday", "Samstag"), ("sunday", "Sunday", "Sonntag")),
        WordList.Of("month",
            ("january", "January", "Januar"), ("february", "February", "Februar"), ("march", "March", "März"), ("april", "April", "April"), ("may", "May", "Mai"),
            ("june", "June", "Juni"), ("july", "July", "Juli"), ("august", "August", "August"), ("september", "September", "September"),
            ("october", "October", "Oktober"), ("november", "November", "November"), ("december", "December", "Dezember")),
    ];
}
