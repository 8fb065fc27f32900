namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about hand-offs, the safe and spare parts.</summary>
    private static Dictionary<string, string> HouseAndParts => new()
    {
        ["hands off, as it was put down"] = "nicht anfassen, so wurde es hingelegt",
        ["free to go on with, as it was put down"] = "frei zum Weitermachen, so wurde es hingelegt",
        ["{0} is open on it"] = "{0} ist daran offen",
        ["it waits for cleaning"] = "es wartet auf die Reinigung",
        ["nothing is open on it"] = "nichts ist daran offen",
        ["{0} pieces went with note {1}: count each in"] = "{0} Stücke gingen mit Schein {1}: einzeln zählen",
        ["take each piece by its kind or label, with its number"] = "jedes Stück nach Art oder Etikett nehmen, mit seiner Anzahl",
        ["{0} is not in the house; it comes on {1}"] = "{0} ist nicht im Haus; kommt am {1}",
        ["{0} is not in the house"] = "{0} ist nicht im Haus",
        ["wait for it, unless only taking it apart tells more"] = "darauf warten, außer wenn erst das Zerlegen mehr zeigt",
        ["Set aside for {0}"] = "Zurückgelegt für {0}",
        ["ask first: {0} would then be done on {1}"] = "erst fragen: {0} wäre dann am {1} fertig",
        ["ask first, or take another one"] = "erst fragen, oder ein anderes nehmen",
        ["None is free: {0} on the shelf, all set aside"] = "Keins frei: {0} im Regal, alle zurückgelegt",
        ["None is on the shelf by our count"] = "Nach unserer Zählung liegt keins im Regal",
        ["an order, or a count of the shelf"] = "eine Bestellung, oder das Regal zählen",
        ["it waits for {0}"] = "es wartet auf {0}",
        ["A sum is not less than nothing."] = "Ein Betrag ist nicht weniger als nichts.",
        ["A sum and its currency go together."] = "Ein Betrag und seine Währung gehören zusammen.",
        ["A currency is three capital letters, for example CHF."] = "Eine Währung sind drei Großbuchstaben, zum Beispiel CHF.",
        ["Fewer than none cannot be counted."] = "Weniger als keins lässt sich nicht zählen.",
        ["A part comes and goes in whole pieces, one at least."] = "Ein Teil kommt und geht in ganzen Stücken, mindestens eins.",
        ["Which part is missing."] = "Es fehlt, welches Teil.",
        ["Only the service says who was given it."] = "Nur der Dienst sagt, wer es bekam.",
        ["Which piece is missing."] = "Es fehlt, welches Stück.",
        ["This names no watch and no piece of the house."] = "Das benennt keine Uhr und kein Stück des Hauses.",
        ["{0} set aside"] = "{0} zurückgelegt",
        ["{0} came"] = "{0} ist da",
        ["{0} is the wrong one; still awaited"] = "{0} ist falsch; es fehlt weiter",
        ["{0} fits"] = "{0} passt",
        ["{0} does not fit; awaited anew"] = "{0} passt nicht; fehlt wieder",
        ["{0} fitted"] = "{0} eingebaut",
        ["{0} is free again"] = "{0} ist wieder frei",
        ["{0} counted, nothing is missing"] = "{0} gezählt, nichts fehlt",
        ["{0} counted, {1} missing: look before you lock"] = "{0} gezählt, {1} fehlen: suchen, dann schließen",
        ["Another number than went there: a manager is told"] = "Andere Anzahl als hingegeben: Leitung weiß es",

        ["{0}: {1} {2} declared, the policy covers {3}"] = "{0}: {1} {2} angegeben, die Police deckt {3}",
        ["watches that were sent back to their owners and have not arrived yet"] = "Uhren, die an ihre Besitzer zurückgesandt wurden und noch nicht angekommen sind",

        // What the gates ask for, and what their refusals are called.
        ["what left with a delivery note comes back one piece at a time"] = "was mit Lieferschein ging, kommt Stück für Stück zurück",
        ["no part that the work cannot go on without is still to come"] = "kein Teil, ohne das es nicht weitergeht, fehlt noch",
        ["as many as are wanted lie on the shelf for nobody else"] = "so viele wie gewünscht liegen im Regal für niemand anderen",
        ["the part is not set aside for another watch"] = "das Teil ist für keine andere Uhr zurückgelegt",
        ["Several pieces came back at once"] = "Mehrere Stücke kamen auf einmal zurück",
        ["Count each in by itself; a new event with 'despite' takes them all at once."] = "Jedes einzeln zählen; ein neues Ereignis mit 'despite' nimmt alle auf einmal.",
        ["A part that the work needs is not in the house"] = "Ein nötiges Teil ist nicht im Haus",
        ["Wait for the part the answer names; a new event with 'despite' goes on; a manager can waive it."] = "Auf das genannte Teil warten; ein neues Ereignis mit 'despite' geht weiter; die Leitung kann darauf verzichten.",
        ["No such part is free"] = "Kein solches Teil ist frei",
        ["Order one, or count the shelf; where the gate asks, a new event with 'despite' goes on."] = "Eins bestellen oder das Regal zählen; wo die Prüfung fragt, geht ein neues Ereignis mit 'despite' weiter.",
        ["The part is set aside for another watch"] = "Das Teil ist für eine andere Uhr zurückgelegt",
        ["Ask whoever waits for it; a new event with 'despite' takes it, and the other watch is then done on the later day the answer names."] =
            "Fragen, wer darauf wartet; ein neues Ereignis mit 'despite' nimmt es, und die andere Uhr wird dann am genannten späteren Tag fertig.",
    };
}
