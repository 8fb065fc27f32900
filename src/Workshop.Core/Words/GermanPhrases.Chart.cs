namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    /// <summary>What is said about control charts and plots.</summary>
    private static Dictionary<string, string> Charts => new()
    {
        ["The chart begins anew"] = "Die Karte beginnt neu",
        ["{0}: rates by position, s/d"] = "{0}: Gang nach Lagen, s/d",
        ["Left as measured {0}, right {1}."] = "Links gemessen {0}, rechts {1}.",
        ["Mean {0} s/d before, {1} s/d after; spread {2} and {3} s/d."] = "Mittel {0} s/d vorher, {1} s/d nachher; Lagenunterschied {2} und {3} s/d.",
        ["Measured {0}; there is no earlier set. Mean {1} s/d, spread {2} s/d."] = "Gemessen {0}; eine frühere Messung gibt es nicht. Mittel {1} s/d, Lagenunterschied {2} s/d.",
        ["Tint: window of the mean, {0} to {1} s/d ({2})."] = "Getönt: Fenster des Mittels, {0} bis {1} s/d ({2}).",
        ["No tolerance is set for this kind of work."] = "Für diese Art von Arbeit ist keine Toleranz festgelegt.",
        ["Bars: half a step of the figures as they were told, ± {0} s/d; what a position repeats by is not in them."] =
            "Balken: ein halber Schritt der notierten Werte, ± {0} s/d; wie gut eine Lage sich wiederholt, steckt nicht darin.",
        ["Bars: half a step of the figures as they were told, ± {0} s/d before and ± {1} after; what a position repeats by is not in them."] =
            "Balken: ein halber Schritt der notierten Werte, ± {0} s/d vorher und ± {1} nachher; wie gut eine Lage sich wiederholt, steckt nicht darin.",
        ["s/d"] = "s/d",
        ["before"] = "vorher",
        ["after"] = "nachher",
        ["mean"] = "Mittel",
        ["{0}: amplitude and hours since full wind"] = "{0}: Amplitude und Stunden seit Vollaufzug",
        ["Bars that lie: dial up and dial down, their means joined by a whole line. Bars that stand: upright positions, means joined by a dashed line."] =
            "Liegende Striche: Zifferblatt oben und unten, Mittel mit durchgezogener Linie. Stehende Striche: senkrechte Lagen, Mittel gestrichelt.",
        ["Tint: enough upright, from {0} ({1})."] = "Getönt: genug für senkrechte Lagen, ab {0} ({1}).",
        ["{0}° at {1} h"] = "{0}° bei {1} h",
        ["Bracket at full wind: flat from {0}° to {1}°."] = "Klammer bei Vollaufzug: waagrecht {0}° bis {1}°.",
        ["Bracket at full wind: flat from {0}°."] = "Klammer bei Vollaufzug: waagrecht ab {0}°.",
        ["Sets since the movement was rebuilt."] = "Messungen seit dem Zusammenbau.",
        ["One set is left out: nobody told how far the mainspring was wound, or no amplitude."] = "Eine Messung fehlt: der Aufzug oder die Amplitude ist nicht notiert.",
        ["{0} sets are left out: nobody told how far the mainspring was wound, or no amplitude."] =
            "{0} Messungen fehlen: der Aufzug oder die Amplitude ist nicht notiert.",
        ["degrees"] = "Grad",
        ["hours since full wind"] = "Stunden seit Vollaufzug",
        ["{0}: readings of check {1}"] = "{0}: Ablesungen der Probe {1}",
        ["{0} ± {1} s/d: {2}."] = "{0} ± {1} s/d: {2}.",
        ["{0} ± {1} s/d so far; the check runs."] = "Bisher {0} ± {1} s/d; die Probe läuft.",
        ["Nothing was read yet but the start."] = "Außer dem Anfang ist noch nichts abgelesen.",
        ["Tint: what {0} to {1} s/d would make of the start. Bars: uncertainty of a reading, k = 2."] =
            "Getönt: was {0} bis {1} s/d aus dem Anfang machen. Balken: Unsicherheit einer Ablesung, k = 2.",
        ["seconds ahead"] = "Sekunden vor",
        ["hours since the start"] = "Stunden seit dem Anfang",
        ["Worn rates: {0}"] = "Gänge nach Trageproben: {0}",
        ["regulated by {0}"] = "reguliert mit {0}",
        ["step to the next, s/d"] = "Sprung zum nächsten, s/d",
        ["worn check, from {0} to {1}"] = "Trageprobe, {0} bis {1}",
        ["Limits from the first {0} worn checks, frozen: {1} to {2} s/d about {3}; a step is at most {4}."] =
            "Grenzen aus den ersten {0} Trageproben, fest: {1} bis {2} s/d um {3}; ein Sprung höchstens {4}.",
        ["Limits from {0} worn checks, still moving until there are {1}: {2} to {3} s/d about {4}; a step is at most {5}."] =
            "Grenzen aus {0} Trageproben, noch nicht fest (erst mit {1}): {2} bis {3} s/d um {4}; ein Sprung höchstens {5}.",
        ["Mean ± 3 mean steps / {0}; a step at most {1} mean steps."] = "Mittel ± 3 mittlere Sprünge / {0}; ein Sprung höchstens {1} mittlere Sprünge.",
        ["{0} worn checks: no limits before there are {1}."] = "{0} Trageproben: Grenzen gibt es erst ab {1}.",
        ["Begun anew {0}: {1}"] = "Neu begonnen {0}: {1}",
        ["Nothing lies outside."] = "Nichts liegt außerhalb.",
        ["And {0} more outside."] = "Und {0} weitere außerhalb.",
        ["{0}: {1} of {2}, {3} s/d, lies above the upper limit {4}."] = "{0}: {1} vom {2}, {3} s/d, liegt über der oberen Grenze {4}.",
        ["{0}: {1} of {2}, {3} s/d, lies below the lower limit {4}."] = "{0}: {1} vom {2}, {3} s/d, liegt unter der unteren Grenze {4}.",
        ["{0}: {1} of {2} is {3} s/d away from the one before; a step is at most {4}."] = "{0}: {1} vom {2} liegt {3} s/d neben der vorigen; ein Sprung ist höchstens {4}.",
        ["{0} shows {1} s/d more than {2} in {3} pairs; with fewer than {4} nothing can be said."] =
            "{0} zeigt {1} s/d mehr als {2} in {3} Paaren; mit weniger als {4} lässt sich nichts sagen.",
        ["{0} shows {1} s/d more than {2}: {3} to {4} s/d, {5} pairs."] = "{0} zeigt {1} s/d mehr als {2}: {3} bis {4} s/d, {5} Paare.",
        ["{0} and {1} may well show the same: {2} to {3} s/d, {4} pairs."] = "{0} und {1} zeigen vielleicht dasselbe: {2} bis {3} s/d, {4} Paare.",
    };
}
