using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;

namespace Workshop.Tests.Core.Timekeeping;

/// <summary>Rate sets for tests, as the fold gives them.</summary>
internal static class Measured
{
    public static readonly Instant Monday = Instant.FromUtc(2026, 3, 2, 9, 0);

    /// <summary>Dial up +4, dial down +5, crown up +9, left +4, down −3, right +2: mean +3.5, spread 12.</summary>
    public static ImmutableArray<RateReading> Six { get; } =
    [
        new(Position.DialUp, 4, 290, 0.1m), new(Position.DialDown, 5, 288, 0.2m), new(Position.CrownUp, 9, 262, 0.2m), new(Position.CrownLeft, 4, 260, 0.3m),
        new(Position.CrownDown, -3, 255, 0.2m), new(Position.CrownRight, 2, 258, 0.1m),
    ];

    public static ToleranceKind Kind(string kind) => ToleranceKind.UsualByName[kind];

    public static RateSet Set(
        IEnumerable<RateReading>? readings = null, WindState? wind = WindState.Full, string tolerance = "modern-automatic", int hour = 0, int adjustment = 0, Func<RateSetRecorded, RateSetRecorded>? told = null,
        Func<RateTerms, RateTerms>? terms = null)
    {
        var set = new RateSetRecorded { WindState = wind, LiftAngleDegrees = 52, VibrationsPerHour = 28_800, Readings = [.. readings ?? Six] };
        set = told?.Invoke(set) ?? set;
        var known = new RateTerms { Kind = tolerance == "quartz" ? CalibreKind.Quartz : CalibreKind.Automatic, Tolerance = Kind(tolerance) };
        return new RateSet(new EventId("/devices/bench-1/1", $"s-{hour}-{adjustment}"), Monday + Duration.FromHours(hour), set, RateSetFigures.Of(set.Readings)!, "mara")
        {
            Adjustment = adjustment,
            Terms = terms?.Invoke(known) ?? known,
        };
    }

    public static TimekeepingRecord Record(params RateSet[] sets) => new() { RateSets = [.. sets], Adjustment = sets.Max(set => set.Adjustment) };

    public static RateVerdict Verdict(RateSet set, params RateSet[] others) => RateVerdict.Of(set, Record([.. others, set]), null, PlausibilityRules.Usual)!;

    public static RateReading[] Shifted(decimal rate, decimal amplitude = 0) =>
        [.. Six.Select(one => one with { RatePerDaySeconds = one.RatePerDaySeconds + rate, AmplitudeDegrees = one.AmplitudeDegrees + amplitude })];

    public static Criterion Of(this RateVerdict verdict, CriterionKind kind) => verdict.Criteria.Single(one => one.Kind == kind);
}
