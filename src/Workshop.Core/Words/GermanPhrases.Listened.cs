namespace Workshop.Core.Words;

public static partial class GermanPhrases
{
    // What a drawing says of a recording.
    private static Dictionary<string, string> Listened => new()
    {
        ["Tick"] = "Tick",
        ["Tock"] = "Tack",
        ["time"] = "Zeit",
        ["rate"] = "Gang",
        ["amplitude"] = "Amplitude",
        ["beat error"] = "Abfallfehler",
        ["s/d against the whole"] = "s/d gegen gesamt",
        ["whole {0} s/d"] = "gesamt {0} s/d",
        ["{0}–{1} s"] = "{0}–{1} s",
        ["{0} ± {1} s/d, {2}"] = "{0} ± {1} s/d, {2}",
        ["{0}° ± {1}°, {2}"] = "{0}° ± {1}°, {2}",
        ["{0} ± {1} ms, {2}"] = "{0} ± {1} ms, {2}",
        ["no rate"] = "kein Gang",
        ["no amplitude"] = "keine Amplitude",
        ["no beat error"] = "kein Abfallfehler",
        ["noise 1"] = "Geräusch 1",
        ["noise 3"] = "Geräusch 3",
        ["ms from the drop"] = "ms vom Abfall an",
        ["{0}, dB: noise 1 to 3 in {1} ms"] = "{0}, dB: Geräusch 1 bis 3 in {1} ms",
        ["{0}, dB: noise 1 does not stand out"] = "{0}, dB: Geräusch 1 hebt sich nicht ab",
        ["Time runs down the sheet. A mark is the rate of one stretch against the rate of the whole; its bar is the 95 % interval of that stretch. Full square: good; open diamond: fair."] =
            "Die Zeit läuft nach unten. Eine Marke ist der Gang eines Abschnitts gegen den Gang im Ganzen, ihr Balken der 95-%-Bereich dieses Abschnitts. Volles Quadrat: gut; offene Raute: mäßig.",
        ["Mean of all ticks and of all tocks, against the noise between the beats. Dashed lines: where the unlocking (noise 1) and the drop (noise 3) were taken to begin; tint: their 95 % interval."] =
            "Mittel aller Ticks und aller Tacks, gegen das Rauschen zwischen den Schlägen. Gestrichelt: wo Auslösung (Geräusch 1) und Abfall (Geräusch 3) angesetzt wurden; getönt: ihr 95-%-Bereich.",
        ["Rate {0} s/d, from {1} to {2}, {3}."] = "Gang {0} s/d, von {1} bis {2}, {3}.",
        ["No rate."] = "Kein Gang.",
        ["Amplitude {0}°, from {1}° to {2}°, {3}; the error of the lift angle is not in it."] = "Amplitude {0}°, von {1}° bis {2}°, {3}; der Fehler des Hebungswinkels ist nicht darin.",
        ["Beat error {0} ms, from {1} to {2}, {3}."] = "Abfallfehler {0} ms, von {1} bis {2}, {3}.",
        ["{0} vibrations an hour; {1} beats in {2} s; single beats scatter by {3} µs; signal to noise {4} dB."] =
            "{0} Halbschwingungen in der Stunde; {1} Schläge in {2} s; einzelne Schläge streuen um {3} µs; Signal zu Rauschen {4} dB.",
        ["No amplitude."] = "Keine Amplitude.",
        ["No beat error."] = "Kein Abfallfehler.",
        ["To know: {0}."] = "Zu wissen: {0}.",
        ["Lift angle {0}°."] = "Hebungswinkel {0}°.",
        ["The recorder's clock is not calibrated: what it is off is in the rate and in no interval; 10 ppm are 0.86 s/d."] =
            "Die Uhr des Aufnahmegeräts ist nicht abgeglichen: Ihr Fehler steckt im Gang und in keinem Bereich; 10 ppm sind 0,86 s/d.",
        ["The recorder's clock is {0} ± {1} ppm fast, and the rate is free of that."] = "Die Uhr des Aufnahmegeräts geht {0} ± {1} ppm vor; der Gang ist davon befreit.",
        ["Listened to by version {0} of the analyser. Computed by the definitions of rate 86400·(T nominal/T − 1), of amplitude L/(2 sin(π·t/T)) with lift angle L and the whole period T, and of beat error as half the difference of the half periods."] =
            "Gehört von Fassung {0} der Auswertung. Berechnet nach den Definitionen: Gang 86400·(T nominal/T − 1), Amplitude L/(2 sin(π·t/T)) mit Hebungswinkel L und ganzer Periode T, Abfallfehler als halber Unterschied der Halbperioden.",
    };
}
