namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    private static Dictionary<string, string> AtTheCounter => new()
    {
        ["Polish: the customer is asked again first"] = "Polieren: erst nochmals beim Kunden nachfragen",
        ["whoever asks the customer; a manager may waive it"] = "wer nachfragt; die Leitung kann darauf verzichten",
        ["No polish is wished for; the desk asks first"] = "Kein Polieren gewünscht; erst fragt die Annahme",
        ["the desk, by writing down the wish"] = "die Annahme, indem sie den Wunsch aufschreibt",
        ["Polish confirmed"] = "Polieren bestätigt",
        ["Sure by {0} only; needed by {1}"] = "Sicher erst am {0}; gebraucht am {1}",
        ["say so to the customer now; despite goes on"] = "es jetzt dem Kunden sagen; mit despite geht es weiter",
        ["Of the last {0} jobs of this kind nine in ten were ready within {1} open days: by {2}."] =
            "Von den letzten {0} Aufträgen dieser Art waren neun von zehn in {1} offenen Tagen bereit: bis {2}.",
        ["Too few jobs of this kind to count ({0} of {1}): {2} promised open days and {3} until an approval lead to {4}."] =
            "Zu wenige Aufträge dieser Art, um zu zählen ({0} von {1}): {2} zugesagte offene Tage und {3} bis zur Zusage führen zum {4}.",
        ["a polish that is wished for was confirmed again"] = "ein gewünschtes Polieren wurde nochmals bestätigt",
        ["the day it is needed by can be kept nine times in ten"] = "der gebrauchte Tag lässt sich in neun von zehn Fällen halten",
        ["The polish was not confirmed"] = "Das Polieren ist nicht bestätigt",
        ["Ask the customer once more and send 'polish.confirmed'; a manager can waive it."] = "Nochmals beim Kunden nachfragen und 'polish.confirmed' senden; die Leitung kann darauf verzichten.",
        ["The day it is needed by can hardly be kept"] = "Der gebrauchte Tag ist kaum zu halten",
        ["Say so to the customer now; the same again with 'despite' takes the watch in all the same."] = "Es jetzt dem Kunden sagen; dasselbe nochmals mit 'despite' nimmt die Uhr trotzdem an.",
    };
}
