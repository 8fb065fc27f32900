namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about reports of customers.</summary>
    private static Dictionary<string, string> WearReports => new()
    {
        ["{0} ± {1}"] = "{0} ± {1}",
        ["no rate"] = "kein Gang",
        ["Ask the customer: fast or slow?"] = "Beim Kunden nachfragen: vor oder nach?",
        ["It stopped on the wrist: ask the customer to bring it"] = "Am Arm stehen geblieben: um Vorbeibringen bitten",
        ["{0} s/d on the wrist: invite the customer"] = "{0} s/d am Arm: Kunden einladen",
        ["About {0} s/d, over {1} days."] = "Etwa {0} s/d, über {1} Tage.",
        ["Within the limits it left the house by: {0} to {1} s/d."] = "Innerhalb der Grenzen der Abgabe: {0} bis {1} s/d.",
        ["Outside the limits it left the house by: {0} to {1} s/d. An invitation, not by itself a claim."] =
            "Außerhalb der Grenzen der Abgabe: {0} bis {1} s/d. Eine Einladung, noch kein Garantiefall.",
        ["Said too roughly to tell: a reading in seconds over a week would."] = "Zu grob angegeben: in Sekunden über eine Woche ließe es sich sagen.",
        ["Fast or slow was not said: ask. Nothing is computed until then."] = "Vor oder nach fehlt: nachfragen. Bis dahin wird nichts gerechnet.",
        ["It stopped: no rate is computed."] = "Sie stand: es wird kein Gang gerechnet.",
        ["No rate can be computed from it."] = "Daraus lässt sich kein Gang rechnen.",
        ["Over fewer than {0} days a figure says little."] = "Über weniger als {0} Tage sagt eine Zahl wenig.",
        ["The bench predicted {0} s/d: {1} s/d from it."] = "Vorhergesagt waren {0} s/d: {1} s/d davon.",
        ["Adjusting it is free until {0}."] = "Nachregulieren ist bis {0} kostenlos.",
        ["The time for a free adjustment ended on {0}."] = "Kostenlos war es nur bis {0}.",
    };
}
