namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about quotes, deliveries and disputes.</summary>
    private static Dictionary<string, string> Quotes => new()
    {
        // Evidence about a claim.
        ["Measured, {0}: {1} s/d in 1 position"] = "Gemessen, {0}: {1} s/d in 1 Lage",
        ["Measured, {0}: mean {1} s/d in {2} positions"] = "Gemessen, {0}: Mittel {1} s/d in {2} Lagen",
        ["Passed after wear: {0} s/d"] = "Nach dem Tragen bestanden: {0} s/d",
        ["Water test passed: {0}, {1} bar"] = "Wasserdichtheit bestanden: {0}, {1} bar",
        ["Water test passed: {0}"] = "Wasserdichtheit bestanden: {0}",
        ["Water test not passed: {0}"] = "Wasserdichtheit nicht bestanden: {0}",
        ["No seal was written down: it excludes nothing"] = "Kein Siegel vermerkt: es schliesst nichts aus",
        ["No seal was ever fitted: it excludes nothing"] = "Nie ein Siegel gesetzt: es schliesst nichts aus",
        ["Seal {0}: {1}"] = "Siegel {0}: {1}",
        ["Seal: {0}"] = "Siegel: {0}",
        ["Final control passed: {0} checks"] = "Endkontrolle bestanden: {0} Punkte",
        ["Fitted: {0}, lot {1}"] = "Eingesetzt: {0}, Charge {1}",
        ["Fitted: {0}"] = "Eingesetzt: {0}",
        ["Declined in quote {0}: {1}"] = "Abgelehnt im Kostenvoranschlag {0}: {1}",
        ["The customer told of it"] = "Vom Kunden gemeldet",
        ["A photo from the customer"] = "Ein Foto des Kunden",
        ["Found as it came"] = "Befund bei der Annahme",
        ["Damaged as it came"] = "Beschädigt bei der Annahme",

        // What gates ask for, and problems.
        ["a parcel is insured, within what its carrier insures, for what its watches were declared at"] = "ein Paket ist im Rahmen dessen, was der Beförderer versichert, mit dem angegebenen Wert seiner Uhren versichert",
        ["The parcel is insured for less than was declared"] = "Das Paket ist tiefer versichert, als seine Uhren angegeben sind",
        ["Insure it for more, send it otherwise or in two parcels; the same again with 'despite' goes on."] = "Höher versichern, anders oder in zwei Paketen senden; dasselbe noch einmal mit 'despite' geht weiter.",
        ["The dispute ended otherwise"] = "Der Streitfall endete anders",
        ["Read how it ended; whatever is disputed anew is another dispute."] = "Lesen, wie er endete; was neu bestritten wird, ist ein anderer Streitfall.",
        ["The parcel has arrived"] = "Das Paket ist angekommen",
        ["What arrived is not lost on its way; a piece that is missing is looked for in the house."] = "Was ankam, ging unterwegs nicht verloren; ein fehlendes Stück wird im Haus gesucht.",
        ["This version of the quote is not what is agreed"] = "Diese Fassung ist nicht, was vereinbart ist",
        ["Name the version that was accepted last, or a supplement that was accepted since."] = "Die zuletzt angenommene Fassung nennen, oder einen seither angenommenen Nachtrag.",

        // Parcels.
        ["Insured for {0}, declared at {1}"] = "Versichert mit {0}, angegeben mit {1}",
        ["insure it for more, send it otherwise or in two parcels; despite goes on"] = "höher versichern, anders oder in zwei Paketen senden; trotzdem geht es weiter",
    };
}
