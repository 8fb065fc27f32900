namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about money.</summary>
    private static Dictionary<string, string> Money => new()
    {
        ["Something is still to be paid"] = "Es ist noch etwas zu bezahlen",
        ["a payment, or the account of the customer"] = "eine Zahlung, oder auf Rechnung",
        ["Something is still to be paid back"] = "Es ist noch etwas zurückzuzahlen",
        ["Still to be paid: {0}"] = "Noch zu zahlen: {0}",
        ["Still to be paid back: {0}"] = "Noch zurückzuzahlen: {0}",
        ["The deposit has not come yet"] = "Die Anzahlung ist noch nicht da",
        ["the desk, by writing the payment down; a manager may waive it"] = "der Empfang, indem er die Zahlung einträgt; die Leitung kann davon absehen",
        ["the deposit that the accepted quote asks for is here, or the job is on account"] =
            "die Anzahlung, die der angenommene Kostenvoranschlag verlangt, ist da, oder der Auftrag geht auf Rechnung",
        ["The deposit that was agreed has not come"] = "Die vereinbarte Anzahlung ist nicht da",
        ["Write the payment down, or put the job on account; where the money is kept elsewhere, a new event with 'despite' says that it has come; a manager can waive it."] =
            "Die Zahlung eintragen oder den Auftrag auf Rechnung setzen; wird das Geld anderswo geführt, sagt ein neues Ereignis mit 'despite', dass sie da ist; die Leitung kann davon absehen.",
        ["Nothing is agreed yet, {0} paid"] = "Noch ist nichts vereinbart, gezahlt sind {0}",
        ["Nothing is agreed or paid yet"] = "Noch ist nichts vereinbart oder gezahlt",
        ["{0} still to be paid of {1}"] = "{0} von {1} noch zu zahlen",
        ["{0} still to be paid of {1}, on account"] = "{0} von {1} noch zu zahlen, auf Rechnung",
        ["{0} to be paid back"] = "{0} zurückzuzahlen",
        ["Nothing is owed; {0} was asked"] = "Nichts ist offen; verlangt waren {0}",
        ["nothing is owed, or it is on account; where the shop keeps its money elsewhere it is not asked"] =
            "nichts ist offen, oder es geht auf Rechnung; führt das Haus sein Geld anderswo, wird nicht gefragt",
        ["Write the payment down, or put the job on account; where the gate asks, a new event with 'despite' goes on; a manager can waive it."] =
            "Die Zahlung eintragen oder den Auftrag auf Rechnung setzen; wo nachgefragt wird, geht ein neues Ereignis mit 'despite' weiter; die Leitung kann davon absehen.",
    };
}
