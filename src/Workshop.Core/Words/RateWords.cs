using System.Collections.Immutable;
using Workshop.Core.Timekeeping;

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
            ("running-beat-error", "beat error, chronograph running", "Abfallfehler, Chronograph an")),
        WordList.Of<CriterionOutcome>("criterionOutcome",
            ("holds", "eingehalten"), ("fails", "nicht eingehalten"), ("not-measured", "nicht gemessen")),
    ];
}
