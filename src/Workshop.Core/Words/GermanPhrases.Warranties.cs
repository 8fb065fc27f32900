namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about warranties and their days.</summary>
    private static Dictionary<string, string> Warranties => new()
    {
        // Terms and days.
        ["{0} and {1}"] = "{0} und {1}",
        ["1 day"] = "1 Tag",
        ["{0} days"] = "{0} Tage",
        ["1 week"] = "1 Woche",
        ["{0} weeks"] = "{0} Wochen",
        ["1 month"] = "1 Monat",
        ["{0} months"] = "{0} Monate",
        ["1 year"] = "1 Jahr",
        ["{0} years"] = "{0} Jahre",

        // How a last day comes about.
        ["delivery on {0}"] = "der Zustellung am {0}",
        ["hand-over on {0}"] = "der Abgabe am {0}",
        ["the last day for collecting it, {0}"] = "dem letzten Abholtag, {0}",
        ["presumed delivery on {0}"] = "der vermuteten Zustellung am {0}",
        ["{0} from {1}: {2} is the last day."] = "{0} ab {1}: letzter Tag ist der {2}.",
        ["{0} from {1}: {2} is the last day, the end of that month."] = "{0} ab {1}: letzter Tag ist der {2}, das Ende jenes Monats.",
        ["{0} from {1}, that day counted: {2} is the last day."] = "{0} ab {1}, dieser Tag mitgezählt: letzter Tag ist der {2}.",
        ["{0} from {1}, that day counted: {2} is the last day, the end of that month."] = "{0} ab {1}, dieser Tag mitgezählt: letzter Tag ist der {2}, das Ende jenes Monats.",
        ["It was ready on {0} and collected on {1}; without that the warranty starts {2} after it was ready."] =
            "Bereit war sie am {0}, abgeholt wurde sie am {1}; die Garantie beginnt spätestens {2} danach, dass sie bereit war.",
        ["It was dispatched on {0}; where nobody proves a later day it counts as delivered {1} later."] =
            "Versandt wurde sie am {0}; ohne Nachweis eines späteren Tages gilt sie {1} später als zugestellt.",
        ["Claim {0} was reported on {1}, but the watch came on {2}, more than {3} later: that report covers nothing."] =
            "Garantiefall {0} wurde am {1} gemeldet, die Uhr kam aber erst am {2}, mehr als {3} später: diese Meldung deckt nichts.",
        ["On the day it came claim {0} was no longer in time and adds nothing."] = "Am Tag des Eintreffens war Garantiefall {0} nicht mehr rechtzeitig und verlängert nichts.",
        ["For claim {0} the day it came counts."] = "Für Garantiefall {0} zählt der Tag, an dem sie kam.",
        ["Claim {0} is not decided yet."] = "Garantiefall {0} ist noch nicht entschieden.",
        ["Claim {0} was not covered and adds nothing."] = "Garantiefall {0} war nicht gedeckt und verlängert nichts.",
        ["Claim {0} was not covered; done free of charge all the same: {1}, which adds nothing."] =
            "Garantiefall {0} war nicht gedeckt; trotzdem ohne Berechnung: {1}; das verlängert nichts.",
        ["Claim {0} was not covered."] = "Garantiefall {0} war nicht gedeckt.",
        ["Claim {0} is covered if the watch arrives by {1}."] = "Garantiefall {0} ist gedeckt, wenn die Uhr bis {1} da ist.",
        ["Claim {0}, covered"] = "Garantiefall {0}, gedeckt",
        ["Claim {0}"] = "Garantiefall {0}",
        ["{0}: here since {1}, which adds nothing until the watch is returned."] = "{0}: hier seit {1}; das verlängert erst, wenn die Uhr zurück ist.",
        ["{0}: here from {1} to {2}, {3}."] = "{0}: hier vom {1} bis {2}, {3}.",
        ["{0}: here from {1} to {2}, both days counted {3}."] = "{0}: hier vom {1} bis {2}, beide Tage mitgezählt {3}.",
        ["{0}: here from {1} to {2}, {3}; less than {4} add nothing."] = "{0}: hier vom {1} bis {2}, {3}; weniger als {4} verlängern nichts.",
        ["The first covered claim adds {0}, once: the last day is {1}."] = "Der erste gedeckte Garantiefall bringt {0}, einmal: letzter Tag ist der {1}.",
        ["A covered claim adds {0}: the last day is {1}."] = "Ein gedeckter Garantiefall bringt {0}: letzter Tag ist der {1}.",
        ["Covered claims add {0} each, {1} times: the last day is {2}."] = "Gedeckte Garantiefälle bringen je {0}, {1} Mal: letzter Tag ist der {2}.",
        ["With {0} in the house the last day is {1}."] = "Dazu {0} im Haus: letzter Tag ist der {1}.",
        ["With {0} in the house, each day once, the last day is {1}."] = "Dazu {0} im Haus, jeder Tag einmal: letzter Tag ist der {1}.",
        ["{0} falls on a weekend, so that {1} is the last day."] = "{0} ist Wochenende; damit ist {1} der letzte Tag.",
        ["{0} is a public holiday, so that {1} is the last day."] = "{0} ist ein Feiertag; damit ist {1} der letzte Tag.",
        ["On {0} the workshop is closed, so that {1} is the last day."] = "{0} ist die Werkstatt zu; damit ist {1} der letzte Tag.",
        ["Public holidays were not known at hand-over; weekends alone were looked at."] = "Feiertage waren bei der Abgabe nicht bekannt; es zählen nur Wochenenden.",
        ["At hand-over the calendar was known through {0}; after it weekdays alone were looked at."] =
            "Bei der Abgabe war der Kalender bis {0} bekannt; danach zählen nur Wochentage.",
        ["The work of claim {0}, returned on {1}, has {2} of its own: {3} is later and counts."] =
            "Die Arbeit zu Garantiefall {0}, zurück am {1}, hat selbst {2}: der {3} ist später und zählt.",
        ["The work of claim {0} has {1} of its own, to {2}, which is no later."] = "Die Arbeit zu Garantiefall {0} hat selbst {1}, bis {2}; das ist nicht später.",

        // Whether it is covered.
        ["Statutory rights may give more than this; local law decides."] = "Das Gesetz kann mehr geben; es gilt das Recht am Ort.",
        ["Under warranty on {0}; the last day is {1}."] = "Am {0} unter Garantie; letzter Tag ist der {1}.",
        ["Under warranty on {0}, if the watch then arrives by {1}; the last day is {2}."] =
            "Am {0} unter Garantie, wenn die Uhr danach bis {1} da ist; letzter Tag ist der {2}.",
        ["Not under warranty on {0}: it was handed over on {1}."] = "Am {0} nicht unter Garantie: abgegeben wurde sie am {1}.",
        ["Not under warranty on {0}: the last day was {1}."] = "Am {0} nicht unter Garantie: letzter Tag war der {1}.",
        ["This kind of work gives no warranty on it."] = "Diese Arbeitsart gibt darauf keine Garantie.",
        ["Promised only with {0}, which was not done or not passed."] = "Zugesagt nur mit {0}; das fehlte oder war nicht bestanden.",
        ["The warranty starts with delivery on {0}."] = "Die Garantie läuft ab der Zustellung am {0}.",
        ["A later day is known already: the warranty starts on {0}."] = "Ein späterer Tag steht schon fest: die Garantie beginnt am {0}.",
        ["Kept; this work came without a warranty."] = "Aufgenommen; diese Arbeit kam ohne Garantie.",

        // Rule sets to begin with.
        ["No advice; check before use."] = "Keine Beratung; vor Gebrauch prüfen.",
        ["nothing; the day of hand-over is not counted, the like-numbered day is the last"] = "nichts; der Tag der Abgabe zählt nicht, der gleich bezifferte Tag ist der letzte",
        ["The manner of several laws on periods; most shops count so."] = "So zählen mehrere Gesetze und die meisten Betriebe.",
        ["the day of hand-over counts as the first, the last lies a day before the like-numbered one"] =
            "der Tag der Abgabe zählt als erster, der letzte liegt einen Tag vor dem gleich bezifferten",
        ["The manner of periods that begin with the beginning of a day."] = "So zählen Fristen, die mit dem Beginn eines Tages anfangen.",
        ["a last day on a weekend or public holiday gives way to the next working day; name the region"] =
            "ein letzter Tag am Wochenende oder Feiertag weicht dem nächsten Werktag; die Region nennen",
        ["The manner of some laws; for a private promise it holds only where the shop says so."] = "So zählen manche Gesetze; für eine private Zusage gilt es nur, wenn der Betrieb es sagt.",
        ["the warranty pauses while the watch is here, and the repair itself has twelve months"] = "die Garantie ruht, solange die Uhr hier ist, und die Reparatur selbst hat zwölf Monate",
        ["A manner known from Spain."] = "So aus Spanien bekannt.",
        ["a stay adds its days only from seven on"] = "ein Aufenthalt verlängert erst ab sieben Tagen",
        ["A manner known from France."] = "So aus Frankreich bekannt.",
        ["the first covered claim adds twelve months, later ones add nothing; no days are added"] =
            "der erste gedeckte Garantiefall bringt zwölf Monate, spätere nichts; Tage kommen keine dazu",
        ["The manner of a seller's liability in the European Union from 31 July 2026 on; a repairer's promise is another matter."] =
            "So für die Haftung des Verkäufers in der Europäischen Union ab 31. Juli 2026; die Zusage eines Reparaturbetriebs ist etwas anderes.",

        // Refusals.
        ["The watch was not sent"] = "Die Uhr wurde nicht versandt",
        ["A delivery belongs to a parcel; a watch that was collected is with its owner from its hand-over on."] =
            "Eine Zustellung gehört zu einem Paket; eine abgeholte Uhr ist seit der Abgabe beim Besitzer.",
    };
}
