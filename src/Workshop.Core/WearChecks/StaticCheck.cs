using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;

namespace Workshop.Core.WearChecks;

/// <summary>What a static check is judged by, frozen at its start; open where the tolerance names no limit.</summary>
public sealed record StaticTerms
{
    /// <summary>Mean a day after full wind less mean at full wind, either way; seconds a day.</summary>
    public decimal? IsochronismMostSeconds { get; init; }

    /// <summary>Amplitude with the dial upright a day after full wind, degrees.</summary>
    public decimal? VerticalOneDayLeastDegrees { get; init; }

    /// <summary>Positions that both sets must have.</summary>
    public ImmutableArray<Position> Positions { get; init; } = [];

    /// <summary>The name of the tolerance kind.</summary>
    public string? Tolerance { get; init; }

    public static StaticTerms Of(ToleranceKind? tolerance) => new()
    {
        IsochronismMostSeconds = tolerance?.IsochronismMostSeconds,
        VerticalOneDayLeastDegrees = tolerance?.VerticalOneDayLeastDegrees,
        Positions = tolerance?.RequiredPositions() ?? [],
        Tolerance = tolerance?.Kind,
    };
}

/// <summary>One reading of a static check.</summary>
/// <param name="Full">The first set at full wind since the start.</param>
/// <param name="OneDay">The newest set a day later.</param>
/// <param name="OutOfManner">The first set was not measured 15 to 60 minutes after winding.</param>
public sealed record StaticReading(
    EventId Id, Instant At, WearVerdict Verdict, Duration Elapsed, EventId? Full = null, EventId? OneDay = null, bool OutOfManner = false)
{
    public ImmutableArray<Criterion> Criteria { get; init; } = [];
}

/// <summary>A watch that was wound fully and lies still for a day: what the rate and the amplitude do when the spring runs down.</summary>
public sealed record StaticCheck
{
    /// <summary>The first set is measured this long after winding at the earliest. Common practice.</summary>
    public static readonly Duration FullSetFrom = Duration.FromMinutes(15);

    /// <summary>And this long after it at the latest. Common practice.</summary>
    public static readonly Duration FullSetThrough = Duration.FromMinutes(60);

    /// <summary>A spring that is full so long after the start was wound again. Common practice.</summary>
    public static readonly Duration WoundAgainAfter = Duration.FromHours(12);

    public required EventId Start { get; init; }

    public required Instant StartedAt { get; init; }

    public required StaticTerms Terms { get; init; }

    /// <summary>The case was closed at the start: opening it makes the check void.</summary>
    public bool Cased { get; init; }

    public string? StartedBy { get; init; }

    public ImmutableArray<StaticReading> Readings { get; init; } = [];

    /// <summary>Null while it runs.</summary>
    public WearVerdict? Verdict { get; init; }

    public Instant? EndedAt { get; init; }

    public bool Runs => Verdict is null;

    /// <summary>In absolute time.</summary>
    public Instant Due => StartedAt + Duration.FromHours(24);

    public Instant Earliest => StartedAt + StaticStart.Earliest;

    public Instant Latest => StartedAt + StaticStart.Latest;

    public bool InWindow(Instant at) => at >= Earliest && at <= Latest;

    /// <summary>The first set at full wind since the start.</summary>
    public RateSet? FullSet(TimekeepingRecord rates) => Sets(rates, WindState.Full).FirstOrDefault(set => set.At - StartedAt < WoundAgainAfter);

    /// <summary>The newest set a day after full wind, measured within the window.</summary>
    public RateSet? OneDaySet(TimekeepingRecord rates) => Sets(rates, WindState.OneDay).LastOrDefault(set => InWindow(set.At));

    /// <summary>Positions that the second set lacks to be compared with the first.</summary>
    public ImmutableArray<Position> Missing(RateSet full, RateSet oneDay) => oneDay.Figures.Missing(full.Figures.Positions.Union(Terms.Positions).Order());

    /// <summary>Positions the tolerance asks for that the first set lacks.</summary>
    public ImmutableArray<Position> MissingAtFull(RateSet full) => full.Figures.Missing(Terms.Positions);

    /// <summary>A set that could not have been taken of a watch nobody wound since.</summary>
    public bool ShowsWinding(RateSetRecorded set, Instant at) =>
        set.HoursSinceFullWind is { } hours && hours >= 0 && hours < 10_000
            ? at - Duration.FromNanoseconds((long)(hours * 3_600_000_000_000m)) > StartedAt + FullSetThrough
            : set.WindState == WindState.Full && at - StartedAt >= WoundAgainAfter;

    /// <summary>Reads it by the sets measured since it began.</summary>
    public StaticReading Read(WearCheckRead read, EventId id, Instant at, TimekeepingRecord rates)
    {
        var elapsed = at - StartedAt;
        var (full, oneDay) = (FullSet(rates), OneDaySet(rates));
        var outOfManner = full is not null && OffManner(full);
        var reading = new StaticReading(id, at, WearVerdict.Interim, elapsed, full?.Id, oneDay?.Id, outOfManner);
        if (read.Stopped == true)
        {
            return reading with { Verdict = WearVerdict.Stopped };
        }

        // Its window is fixed: what lies outside compares another state of the spring, and is neither pass nor fail.
        if (elapsed > StaticStart.Latest)
        {
            return reading with { Verdict = WearVerdict.InvalidWindow };
        }

        if (elapsed < StaticStart.Earliest || read.Interim == true || full is null || oneDay is null || !Missing(full, oneDay).IsEmpty || !MissingAtFull(full).IsEmpty)
        {
            return reading;
        }

        var criteria = Judge(full, oneDay);
        var judged = criteria.Where(one => one.Least is not null || one.Most is not null).ToList();
        return reading with
        {
            Criteria = criteria,
            Verdict = judged.Count == 0 || judged.Any(one => one.Outcome == CriterionOutcome.NotMeasured) ? WearVerdict.Inconclusive
                : judged.TrueForAll(one => one.Outcome == CriterionOutcome.Holds) ? WearVerdict.Pass
                : WearVerdict.Outside,
        };
    }

    private ImmutableArray<Criterion> Judge(RateSet full, RateSet oneDay)
    {
        // The same positions: what only one of them has is left out.
        var common = full.Figures.Positions;
        var isochronism = Mean(oneDay, common) - Mean(full, common);
        var upright = oneDay.Readings
            .Where(reading => reading.Position is not (Position.DialUp or Position.DialDown) && reading.AmplitudeDegrees is not null)
            .GroupBy(reading => reading.Position).Select(group => group.Last()).OrderBy(reading => reading.AmplitudeDegrees).FirstOrDefault();
        return
        [
            Criterion.Of(CriterionKind.Isochronism, isochronism, -Terms.IsochronismMostSeconds, Terms.IsochronismMostSeconds),
            Criterion.Of(CriterionKind.VerticalOneDay, upright?.AmplitudeDegrees, Terms.VerticalOneDayLeastDegrees, null, upright?.Position),
        ];
    }

    private bool OffManner(RateSet full)
    {
        var sinceWound = full.Told.HoursSinceFullWind is { } hours && hours is >= 0 and < 10_000 ? Duration.FromNanoseconds((long)(hours * 3_600_000_000_000m)) : full.At - StartedAt;
        return sinceWound < FullSetFrom || sinceWound > FullSetThrough;
    }

    private static decimal Mean(RateSet set, ImmutableArray<Position> positions) =>
        RateSetFigures.Of(set.Readings.Where(reading => positions.Contains(reading.Position)))!.MeanPerDaySeconds;

    private IEnumerable<RateSet> Sets(TimekeepingRecord rates, WindState wind) =>
        rates.RateSets.Where(set => set.At >= StartedAt && set.Told.WindState == wind && set.Told.ChronographRunning != true).OrderBy(set => set.At);
}
