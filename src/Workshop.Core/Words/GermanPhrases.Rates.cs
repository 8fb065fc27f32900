namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about trials and about the pattern of a rate set.</summary>
    private static Dictionary<string, string> Rates => new()
    {
        ["computed by the definitions of ISO 3159"] = "berechnet nach den Definitionen von ISO 3159",
        ["Day {0} told; {1} still missing"] = "Tag {0} notiert; noch {1} offen",
        ["Day {0} told, unlike the sequence: no verdict"] = "Tag {0} weicht von der Folge ab: kein Urteil",
        ["Day {0} told; all 15 days are there"] = "Tag {0} notiert; alle 15 Tage sind da",
        ["Day {0} was told with another figure"] = "Tag {0} ist mit einem anderen Wert notiert",
        ["the same again with 'insteadOf', where the first was wrong"] = "dasselbe nochmals mit 'insteadOf', wenn das erste falsch war",
        ["the day of the trial was not told with another figure"] = "der Tag der Prüfung ist nicht mit einem anderen Wert notiert",
        ["That day of the trial has another figure"] = "Dieser Tag der Prüfung hat einen anderen Wert",
        ["Send it anew with 'insteadOf' naming the first entry, where that was wrong; a day has one figure."] =
            "Mit 'insteadOf' neu senden, das den ersten Eintrag nennt, wenn dieser falsch war; ein Tag hat einen Wert.",
        ["The trial of ISO 3159 is of a watch with balance and spring; a quartz watch has none."] =
            "Die Prüfung nach ISO 3159 gilt einer Uhr mit Unruh und Spirale; eine Quarzuhr hat keine.",
        ["The name of a trial is 1 to {0} small letters, digits and hyphens."] = "Der Name einer Prüfung hat 1 bis {0} kleine Buchstaben, Ziffern und Bindestriche.",
        ["A trial has the days 1 to {0}."] = "Eine Prüfung hat die Tage 1 bis {0}.",
        ["A rate is at most {0} seconds a day either way."] = "Ein Gang ist höchstens ± {0} Sekunden am Tag.",
        ["The four vertical rates lie {0} s/d off that."] = "Die vier senkrechten Gänge liegen {0} s/d daneben.",
        ["Three vertical positions are met exactly: nothing is left over that would show how well it fits."] =
            "Drei senkrechte Lagen werden genau getroffen: es bleibt nichts übrig, das zeigte, wie gut es passt.",
        ["Flat less vertical: {0} s/d."] = "Waagrecht minus senkrecht: {0} s/d.",
        ["On the wrist about {0} s/d, by the hours of the shop's wear profile."] = "Am Arm etwa {0} s/d, nach den Stunden des Trageprofils.",
        ["{0} h of it are left out, in positions that were not measured: {1}."] = "{0} h davon fehlen, in nicht gemessenen Lagen: {1}.",
        ["The vertical positions are alike, {0} s/d."] = "Die senkrechten Lagen sind gleich, {0} s/d.",
        ["Vertical {0} ± {1} s/d, fastest {2}° from {3} towards {4}."] = "Senkrecht {0} ± {1} s/d, am schnellsten {2}° von {3} gegen {4}.",
        ["No watch was measured at this temperature."] = "Bei dieser Temperatur wurde keine Uhr gemessen.",
    };
}
