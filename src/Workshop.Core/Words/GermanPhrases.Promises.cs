namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about promised dates.</summary>
    private static Dictionary<string, string> Promises => new()
    {
        ["Forecast {0}, {1} open days after the promised day: {2}"] = "Voraussichtlich {0}, {1} offene Tage nach dem zugesagten Tag: {2}",
        ["it waits for a part"] = "es wartet auf ein Teil",
        ["the work that is left"] = "die restliche Arbeit",
        ["No date was promised yet"] = "Noch ist kein Tag zugesagt",
        ["an accepted quote"] = "ein angenommener Kostenvoranschlag",
        ["The shop has moved this date {0} times already"] = "Der Betrieb hat den Tag schon {0}-mal verschoben",
        ["a date that holds"] = "ein Tag, der hält",
        ["by {0}, most likely around {1}"] = "bis {0}, am ehesten um den {1}",
        ["by {0}"] = "bis {0}",
        ["counted from the day the deposit comes"] = "gezählt ab dem Tag, an dem die Anzahlung kommt",
        ["counted from the day we know: {0}"] = "gezählt ab dem Tag, an dem wir wissen: {0}",
        ["counted from the day the deposit comes and we know: {0}"] = "gezählt ab dem Tag, an dem die Anzahlung da ist und wir wissen: {0}",
        ["{0} bench minutes at {1} a working day: {2} working days"] = "{0} Minuten am Werktisch, {1} je Arbeitstag: {2} Arbeitstage",
        ["{0} elapsed days that no bench shortens"] = "{0} Tage, die kein Werktisch verkürzt",
        ["nothing before {0}"] = "nichts vor dem {0}",
        ["the queue before each bench and the other jobs at it"] = "die Warteschlange und die anderen Aufträge am Werktisch",
        ["when a part comes for which nobody has said a day"] = "wann ein Teil kommt, für das niemand einen Tag nannte",
        ["checks that will fail, and people who will be away"] = "Prüfungen, die misslingen, und Personen, die fehlen",

        // What the gates ask for, and what their refusals are called.
        ["a date was promised"] = "ein Tag ist zugesagt",
        ["the shop has moved the promise fewer times than its rules allow"] = "der Betrieb hat den Tag seltener verschoben, als seine Regeln erlauben",
        ["The promised date was moved often already"] = "Der zugesagte Tag wurde schon oft verschoben",
        ["An accepted quote gives the first date; there is none to move before that."] = "Den ersten Tag gibt ein angenommener Kostenvoranschlag; vorher ist keiner zu verschieben.",
        ["Say a date that will hold, and move with 'despite' where that is meant."] = "Einen Tag nennen, der hält, und mit 'despite' verschieben, wo es so gemeint ist.",
    };
}
