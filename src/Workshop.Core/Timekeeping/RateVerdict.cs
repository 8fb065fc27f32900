using System.Collections.Immutable;

namespace Workshop.Core.Timekeeping;

/// <summary>What a set comes to, against its tolerance.</summary>
public enum RateOutcome
{
    Passes,
    Outside,

    /// <summary>A position that the tolerance requires was not measured, or a quartz watch over a meaningless stretch: it cannot pass.</summary>
    Incomplete,
}

/// <summary>
/// A set against its tolerance, criterion by criterion. A criterion that was not measured stands there as such and lets nothing fail; a
/// position that is missing lets nothing pass, whoever signs for it.
/// </summary>
/// <param name="Running">Judged by the limits of a chronograph that runs.</param>
/// <param name="Wind">How far the watch was wound: what was told, or what the hours since full wind say.</param>
/// <param name="Excepted">Criteria that fail, and that a manager lets this watch miss.</param>
/// <param name="ComparedWith">The other set that a difference was taken to; null where none was.</param>
public sealed record RateVerdict(
    RateOutcome Outcome, ToleranceKind Tolerance, bool Running, WindState Wind, ImmutableArray<Criterion> Criteria, ImmutableArray<Position> MissingPositions,
    ImmutableArray<ToleranceException> Excepted, RateSet? ComparedWith)
{
    /// <summary>The criteria that fail and are signed by nobody, the worst first.</summary>
    public IEnumerable<Criterion> Failing => Criteria.Where(one => one.Outcome == CriterionOutcome.Fails && Excepted.All(signed => signed.Criterion != one.Kind)).OrderBy(one => one.Margin);

    /// <summary>The verdict on a set of a job.</summary>
    /// <param name="tolerance">What judges a set that keeps none of its own.</param>
    /// <returns>null where nothing judges it: no tolerance, or a wind that is neither full nor a day.</returns>
    public static RateVerdict? Of(RateSet set, TimekeepingRecord record, ToleranceKind? tolerance, PlausibilityRules rules)
    {
        if ((set.Terms?.Tolerance ?? tolerance) is not { } kind)
        {
            return null;
        }

        if (kind.Quartz is { } quartz)
        {
            var meaningless = set.Told.SampleSeconds is not { } sample || !quartz.WindowSeconds.Any(window => window == sample);
            return Judged(set, record, kind, WindState.Unknown, [OfQuartz(set, quartz, meaningless)], [], null, meaningless);
        }

        var wind = WindOf(set, rules);
        if (wind is not (WindState.Full or WindState.OneDay))
        {
            return null;
        }

        var full = wind == WindState.Full;
        if (set.ChronographRunning)
        {
            var stopped = record.RateSets.LastOrDefault(other => !other.ChronographRunning && Comparable(other, set) && WindOf(other, rules) == wind);
            return kind.Running is not { } running ? null
                : Judged(set, record, kind, wind, [.. OfRunning(set, stopped, running, full)], MissingOf(set, kind), stopped);
        }

        var before = full ? null : record.RateSets.LastOrDefault(other => !other.ChronographRunning && other.At < set.At && Comparable(other, set) && WindOf(other, rules) == WindState.Full);
        return Judged(set, record, kind, wind, [.. full ? OfFull(set, kind) : OfOneDay(set, before, kind)], MissingOf(set, kind), before);
    }

    /// <summary>As told; where only the hours since full wind were told, as they say.</summary>
    public static WindState WindOf(RateSet set, PlausibilityRules rules) =>
        set.Told.WindState ?? (set.Told.HoursSinceFullWind is { } hours ? rules.WindAfter(hours) : null) ?? WindState.Unknown;

    /// <summary>A mean over other positions, or of another adjustment, is another mean.</summary>
    public static bool Comparable(RateSet one, RateSet other) =>
        one.Id != other.Id && one.Adjustment == other.Adjustment && one.Figures.Positions.SequenceEqual(other.Figures.Positions);

    private static RateVerdict Judged(
        RateSet set, TimekeepingRecord record, ToleranceKind kind, WindState wind, ImmutableArray<Criterion> criteria, ImmutableArray<Position> missing, RateSet? with, bool meaningless = false)
    {
        var failing = criteria.Where(one => one.Outcome == CriterionOutcome.Fails).Select(one => one.Kind).ToArray();
        ImmutableArray<ToleranceException> excepted = [.. record.ExceptionsOf(set.Adjustment).Where(one => failing.Contains(one.Criterion)).DistinctBy(one => one.Criterion)];
        var outcome = !missing.IsEmpty || meaningless ? RateOutcome.Incomplete
            : failing.Length > excepted.Length ? RateOutcome.Outside
            : RateOutcome.Passes;
        return new RateVerdict(outcome, kind, set.ChronographRunning, wind, criteria, missing, excepted, with);
    }

    /// <summary>Positions that the tolerance requires and the set lacks.</summary>
    public static ImmutableArray<Position> MissingOf(RateSet set, ToleranceKind? tolerance) =>
        tolerance is null ? [] : set.Figures.Missing(set.ChronographRunning && tolerance.Running is { } running ? running.RequiredPositions() : tolerance.RequiredPositions());

    private static IEnumerable<Criterion> OfFull(RateSet set, ToleranceKind kind)
    {
        var readings = set.Readings;
        yield return Criterion.Of(CriterionKind.MeanFull, set.Figures.MeanPerDaySeconds, kind.MeanFullPerDaySeconds?.Lowest, kind.MeanFullPerDaySeconds?.Highest);
        if (kind.SpreadFullSeconds is { } spread)
        {
            // Over one position there is none.
            yield return Criterion.Of(CriterionKind.SpreadFull, readings.Length > 1 ? set.Figures.SpreadPerDaySeconds : null, null, spread);
        }

        // Above the usual is a note: it knocks only further up.
        if (kind.FlatFullDegrees?.Least is { } flat)
        {
            yield return Lowest(CriterionKind.FlatFull, readings.Where(IsFlat), flat);
        }

        if (kind.VerticalFullLeastDegrees is { } vertical)
        {
            yield return Lowest(CriterionKind.VerticalFull, readings.Where(IsUpright), vertical);
        }

        if (kind.BeatErrorMostMilliseconds is { } error)
        {
            yield return HighestError(CriterionKind.BeatError, readings, error);
        }
    }

    private static IEnumerable<Criterion> OfOneDay(RateSet set, RateSet? before, ToleranceKind kind)
    {
        if (kind.VerticalOneDayLeastDegrees is { } vertical)
        {
            yield return Lowest(CriterionKind.VerticalOneDay, set.Readings.Where(IsUpright), vertical);
        }

        if (kind.IsochronismMostSeconds is { } most)
        {
            yield return Criterion.Of(CriterionKind.Isochronism, set.Figures.MeanPerDaySeconds - before?.Figures.MeanPerDaySeconds, -most, most);
        }

        if (kind.BeatErrorMostMilliseconds is { } error)
        {
            yield return HighestError(CriterionKind.BeatError, set.Readings, error);
        }
    }

    private static IEnumerable<Criterion> OfRunning(RateSet set, RateSet? stopped, RunningTolerance kind, bool full)
    {
        var readings = set.Readings;
        if (full && kind.MeanWithinOfStoppedSeconds is { } within)
        {
            yield return Criterion.Of(CriterionKind.RunningMean, set.Figures.MeanPerDaySeconds - stopped?.Figures.MeanPerDaySeconds, -within, within);
        }

        if (full && kind.SpreadFullSeconds is { } spread)
        {
            yield return Criterion.Of(CriterionKind.RunningSpread, readings.Length > 1 ? set.Figures.SpreadPerDaySeconds : null, null, spread);
        }

        if (kind.AmplitudeDropMostDegrees is { } drop)
        {
            var most = set.Terms?.Clutch switch { ClutchKind.Lateral => drop.Lateral, ClutchKind.Vertical => drop.Vertical, _ => drop.Unknown };
            var lost = readings
                .Select(one => (one.Position, Lost: stopped?.Readings.FirstOrDefault(other => other.Position == one.Position)?.AmplitudeDegrees - one.AmplitudeDegrees))
                .Where(one => one.Lost is not null).OrderByDescending(one => one.Lost).ThenBy(one => one.Position).Take(1).ToArray();
            yield return lost is [var (at, figure)]
                ? Criterion.Of(CriterionKind.RunningDrop, figure, null, most, at)
                : Criterion.Of(CriterionKind.RunningDrop, null, null, most);
        }

        if ((full ? kind.VerticalFullLeastDegrees : kind.VerticalOneDayLeastDegrees) is { } vertical)
        {
            yield return Lowest(full ? CriterionKind.RunningVerticalFull : CriterionKind.RunningVerticalOneDay, readings.Where(IsUpright), vertical);
        }

        if (kind.BeatErrorMostMilliseconds is { } error)
        {
            yield return HighestError(CriterionKind.RunningBeatError, readings, error);
        }
    }

    private static Criterion OfQuartz(RateSet set, QuartzTolerance quartz, bool meaningless) =>
        Criterion.Of(CriterionKind.QuartzRate, meaningless ? null : set.Figures.MeanPerDaySeconds, quartz.RatePerDaySeconds.Lowest, quartz.RatePerDaySeconds.Highest);

    private static Criterion Lowest(CriterionKind kind, IEnumerable<RateReading> readings, decimal least) =>
        readings.Where(one => one.AmplitudeDegrees is not null).OrderBy(one => one.AmplitudeDegrees).ThenBy(one => one.Position).FirstOrDefault() is { } weakest
            ? Criterion.Of(kind, weakest.AmplitudeDegrees, least, null, weakest.Position)
            : Criterion.Of(kind, null, least, null);

    private static Criterion HighestError(CriterionKind kind, IEnumerable<RateReading> readings, decimal most) =>
        readings.Where(one => one.BeatErrorMilliseconds is not null).OrderByDescending(one => one.BeatErrorMilliseconds).ThenBy(one => one.Position).FirstOrDefault() is { } worst
            ? Criterion.Of(kind, worst.BeatErrorMilliseconds, null, most, worst.Position)
            : Criterion.Of(kind, null, null, most);

    private static bool IsFlat(RateReading reading) => reading.Position is Position.DialUp or Position.DialDown;

    private static bool IsUpright(RateReading reading) => !IsFlat(reading);
}
