namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about money.</summary>
    private static Dictionary<string, string> Money => new()
    {
        ["Something is still to be paid"] = "Es ist noch etwas zu bezahlen",
        ["a payment, or the account of the customer"] = "eine Zahlung, oder auf Rechnung",
        ["nothing is owed, or it is on account; where the shop keeps its money elsewhere it is not asked"] =
            "nichts ist offen, oder es geht auf Rechnung; führt das Haus sein Geld anderswo, wird nicht gefragt",
        ["Write the payment down, or put the job on account; where the gate asks, a new event with 'despite' goes on; a manager can waive it."] =
            "Die Zahlung eintragen oder den Auftrag auf Rechnung setzen; wo nachgefragt wird, geht ein neues Ereignis mit 'despite' weiter; die Leitung kann davon absehen.",
    };
}
