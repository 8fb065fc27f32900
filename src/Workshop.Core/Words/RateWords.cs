using System.Collections.Immutable;
using Workshop.Core.Timekeeping;
using Workshop.Core.Timekeeping.Quantities;

namespace Workshop.Core.Words;

/// <summary>Words of what rate sets are judged by.</summary>
internal static class RateWords
{
    public static ImmutableArray<WordList> Lists { get; } =
    [
        WordList.Of<CriterionKind>("criterion",
            ("mean-full", "mean rate at full wind", "mittlerer Gang bei Vollaufzug"), ("spread-full", "spread over the positions at full wind", "Lagenunterschied bei Vollaufzug"),
            ("flat-full", "amplitude flat at full wind", "Amplitude waagrecht bei Vollaufzug"), ("vertical-full", "amplitude upright at full wind", "Amplitude senkrecht bei Vollaufzug"),
            ("vertical-one-day", "amplitude upright after a day", "Amplitude senkrecht nach einem Tag"), ("beat-error", "beat error", "Abfallfehler"),
            ("isochronism", "change of the mean rate over a day", "Änderung des mittleren Gangs über einen Tag"),
            ("running-mean", "mean rate, chronograph running less stopped", "mittlerer Gang, Chronograph an minus aus"),
            ("running-spread", "spread with the chronograph running", "Lagenunterschied mit laufendem Chronographen"),
            ("running-drop", "amplitude lost when the chronograph runs", "Amplitudenverlust bei laufendem Chronographen"),
            ("running-vertical-full", "amplitude upright at full wind, chronograph running", "Amplitude senkrecht bei Vollaufzug, Chronograph an"),
            ("running-vertical-one-day", "amplitude upright after a day, chronograph running", "Amplitude senkrecht nach einem Tag, Chronograph an"),
            ("running-beat-error", "beat error, chronograph running", "Abfallfehler, Chronograph an"),
            ("quartz-rate", "rate of the quartz watch", "Gang der Quarzuhr")),
        WordList.Of("toleranceKind",
            ("modern-automatic-fine", "modern automatic, fine", "moderne Automatik, fein"), ("modern-automatic", "moderne Automatik"), ("modern-chronograph", "moderner Chronograph"),
            ("hand-wound", "hand-wound", "Handaufzug"), ("vintage", "alte Uhr"), ("small-movement", "kleines Werk"),
            ("pin-pallet-or-worn", "pin pallet or worn", "Stiftanker oder verschlissen"), ("quartz", "Quarz")),
        WordList.Of<RateOutcome>("rateOutcome",
            ("passes", "bestanden"), ("outside", "außerhalb"), ("incomplete", "unvollständig")),
        WordList.Of<RateDoubtKind>("rateDoubt",
            ("amplitude-high", "amplitude too high: knocking, or a wrong lift angle", "Amplitude zu hoch: Prellen oder falscher Hebungswinkel"),
            ("amplitude-above-usual", "amplitude above the usual", "Amplitude über dem Üblichen"),
            ("lift-angle-unusual", "unusual lift angle", "ungewöhnlicher Hebungswinkel"),
            ("lift-angle-unlike-calibre", "lift angle unlike the calibre's", "anderer Hebungswinkel als das Kaliber"),
            ("vibrations-unusual", "unusual vibrations an hour", "ungewöhnliche Schlagzahl"),
            ("vibrations-unlike-calibre", "vibrations unlike the calibre's", "andere Schlagzahl als das Kaliber"),
            ("rates-alike", "typed, not measured", "getippt, nicht gemessen"),
            ("flat-amplitudes-apart", "dial up and down far apart: pivot or endstone", "Zifferblatt oben und unten weit auseinander: Zapfen oder Deckstein"),
            ("far-off-and-weak", "far off and weak: magnetism or touching coils", "weit daneben und schwach: Magnetismus oder klebende Windungen"),
            ("wind-unlike-hours", "wind state unlike the hours since full wind", "anderer Aufzug als die Stunden seit Vollaufzug"),
            ("sample-meaningless", "not measured over the module's window", "nicht über das Zeitfenster des Moduls gemessen")),
        WordList.Of<ComparisonLimit>("comparisonLimit",
            ("one-set", "anything over time: there is one set alone", "etwas über die Zeit: es gibt nur eine Messung"),
            ("one-wind", "full wind from a day later: all sets are of one wind", "Vollaufzug von einem Tag danach: alle Messungen sind bei einem Aufzug"),
            ("amplitudes-alike", "the rate at one amplitude from that at another: too few, or too close together", "den Gang bei einer Amplitude von dem bei einer anderen: zu wenige, oder zu nah beieinander"),
            ("flat-or-vertical-missing", "flat from upright: no set has both", "waagrecht von senkrecht: keine Messung hat beides"),
            ("no-before-and-after", "as received from now: one of the two is missing", "wie erhalten von jetzt: eines von beiden fehlt"),
            ("imbalance-from-hairspring", "an imbalance of the balance from a hairspring out of its centre", "eine Unwucht der Unruh von einer nicht mittig atmenden Spirale"),
            ("one-instrument", "the watch from the instrument: all sets came from one", "die Uhr vom Gerät: alle Messungen stammen von einem")),
        WordList.Of<Attitude>("attitude",
            ("dial-up", "Zifferblatt oben"), ("dial-down", "Zifferblatt unten"), ("upright", "senkrecht")),
        WordList.Of<ClutchKind>("clutchKind",
            ("lateral", "lateral clutch", "seitliche Kupplung"), ("vertical", "vertical clutch", "Vertikalkupplung")),
        WordList.Of<CriterionOutcome>("criterionOutcome",
            ("holds", "eingehalten"), ("fails", "nicht eingehalten"), ("not-measured", "nicht gemessen")),
    ];
}
