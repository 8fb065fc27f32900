using System.Collections.Immutable;

namespace Workshop.Core.Timekeeping;

/// <summary>What the sets of a job cannot tell apart together either.</summary>
public enum ComparisonLimit
{
    /// <summary>One set alone.</summary>
    OneSet,

    /// <summary>All sets of one wind: nothing shows what the amplitude does.</summary>
    OneWind,

    /// <summary>Too few amplitudes, or too close together, to put a rate against.</summary>
    AmplitudesAlike,

    /// <summary>No set has flat and upright positions.</summary>
    FlatOrVerticalMissing,

    /// <summary>Sets before and after have no positions in common, or there is only one of them.</summary>
    NoBeforeAndAfter,

    /// <summary>What an imbalance does to the rate and what a hairspring out of its centre does.</summary>
    ImbalanceFromHairspring,

    /// <summary>What the watch does from what the instrument does: all sets came from one instrument.</summary>
    OneInstrument,
}

/// <summary>A position in two sets; seconds gained per day.</summary>
public sealed record PositionChange(Position Position, decimal BeforePerDaySeconds, decimal AfterPerDaySeconds)
{
    public decimal ChangePerDaySeconds => AfterPerDaySeconds - BeforePerDaySeconds;
}

/// <summary>One set against another over the positions that both have; seconds gained per day, unrounded.</summary>
public sealed record RateChange(RateSet Before, RateSet After, ImmutableArray<PositionChange> Positions)
{
    public decimal MeanBeforePerDaySeconds => Positions.Average(one => one.BeforePerDaySeconds);

    public decimal MeanAfterPerDaySeconds => Positions.Average(one => one.AfterPerDaySeconds);

    public decimal SpreadBeforePerDaySeconds => Positions.Max(one => one.BeforePerDaySeconds) - Positions.Min(one => one.BeforePerDaySeconds);

    public decimal SpreadAfterPerDaySeconds => Positions.Max(one => one.AfterPerDaySeconds) - Positions.Min(one => one.AfterPerDaySeconds);

    public decimal ChangePerDaySeconds => MeanAfterPerDaySeconds - MeanBeforePerDaySeconds;

    /// <returns>null without a position that both have.</returns>
    public static RateChange? Of(RateSet before, RateSet after)
    {
        var rates = PositionPattern.LastRates(after.Readings);
        ImmutableArray<PositionChange> both =
            [.. PositionPattern.LastRates(before.Readings).Where(one => rates.ContainsKey(one.Key)).Select(one => new PositionChange(one.Key, one.Value, rates[one.Key]))];
        return both.IsEmpty ? null : new RateChange(before, after, both);
    }
}

/// <summary>
/// How the rate goes with the amplitude within each position, by least squares with one slope for all of them: a difference between
/// positions is no part of it.
/// </summary>
/// <param name="PerDaySecondsPerTenDegrees">Seconds a day for each ten degrees more.</param>
/// <param name="Readings">Readings it rests on: those of positions that were read at least twice.</param>
/// <param name="Positions">How many positions.</param>
/// <param name="LeastDegrees">The lowest of their amplitudes.</param>
/// <param name="MostDegrees">The highest.</param>
public sealed record AmplitudeDependence(decimal PerDaySecondsPerTenDegrees, int Readings, int Positions, decimal LeastDegrees, decimal MostDegrees)
{
    /// <summary>Of sets of one adjustment.</summary>
    /// <param name="apartLeastDegrees">Between the least and the greatest amplitude of a position there must be so much.</param>
    /// <returns>null with too few amplitudes, or too close together.</returns>
    public static AmplitudeDependence? Of(IEnumerable<RateSet> sets, decimal apartLeastDegrees)
    {
        var twice = sets.SelectMany(set => set.Readings).Where(one => one.AmplitudeDegrees is not null)
            .GroupBy(one => one.Position, one => (Amplitude: one.AmplitudeDegrees!.Value, Rate: one.RatePerDaySeconds))
            .Where(same => same.Count() > 1)
            .Select(same => same.ToArray()).ToArray();
        if (twice.Length == 0 || twice.Max(same => same.Max(one => one.Amplitude) - same.Min(one => one.Amplitude)) < apartLeastDegrees)
        {
            return null;
        }

        var (across, along) = (0m, 0m);
        foreach (var same in twice)
        {
            var (amplitude, rate) = (same.Average(one => one.Amplitude), same.Average(one => one.Rate));
            across += same.Sum(one => (one.Amplitude - amplitude) * (one.Rate - rate));
            along += same.Sum(one => (one.Amplitude - amplitude) * (one.Amplitude - amplitude));
        }

        var all = twice.SelectMany(same => same).ToArray();
        return new AmplitudeDependence(10 * across / along, all.Length, twice.Length, all.Min(one => one.Amplitude), all.Max(one => one.Amplitude));
    }
}

/// <summary>Flat less upright of one set, seconds gained per day.</summary>
/// <param name="AmplitudeDegrees">Mean amplitude of the set; absent where none was measured.</param>
public sealed record FlatToVertical(RateSet Set, decimal FlatMeanPerDaySeconds, decimal VerticalMeanPerDaySeconds, decimal? AmplitudeDegrees)
{
    public decimal FlatLessVerticalPerDaySeconds => FlatMeanPerDaySeconds - VerticalMeanPerDaySeconds;

    /// <returns>null for a set that lacks the one or the other.</returns>
    public static FlatToVertical? Of(RateSet set)
    {
        var figures = SetMeans.Of(set);
        return figures is { FlatPerDaySeconds: { } flat, VerticalPerDaySeconds: { } vertical } ? new FlatToVertical(set, flat, vertical, figures.AmplitudeDegrees) : null;
    }
}

/// <summary>Means of a set; seconds gained per day and degrees, unrounded; absent where nothing of the kind was measured.</summary>
public sealed record SetMeans(decimal? FlatPerDaySeconds, decimal? VerticalPerDaySeconds, decimal? AmplitudeDegrees)
{
    public static SetMeans Of(RateSet set) => new(
        Mean(set.Readings.Where(one => WatchIsFlat(one.Position)).Select(one => (decimal?)one.RatePerDaySeconds)),
        Mean(set.Readings.Where(one => !WatchIsFlat(one.Position)).Select(one => (decimal?)one.RatePerDaySeconds)),
        Mean(set.Readings.Select(one => one.AmplitudeDegrees)));

    private static decimal? Mean(IEnumerable<decimal?> figures) => figures.Average();

    private static bool WatchIsFlat(Position position) => Quantities.WatchPosition.Of(position).IsFlat;
}

/// <summary>What the sets of a job say together.</summary>
/// <param name="Isochronism">From full wind to a day later, without a touch between.</param>
/// <param name="BeforeAndAfter">As the watch was received against the newest set of its present adjustment that has one of the same wind to compare with.</param>
/// <param name="FlatToVertical">Of every set that has both, in their order.</param>
public sealed record RateComparison(
    RateChange? Isochronism, RateChange? BeforeAndAfter, AmplitudeDependence? Amplitude, ImmutableArray<FlatToVertical> FlatToVertical, ImmutableArray<ComparisonLimit> CannotSeparate)
{
    public static RateComparison Of(TimekeepingRecord record, TimekeepingRules rules)
    {
        var sets = record.RateSets.Where(set => !set.ChronographRunning).ToArray();
        var now = sets.Where(set => set.Adjustment == record.Adjustment).ToArray();
        var isochronism = Isochronic(now, rules.Plausibility);
        var change = now.Reverse()
            .Select(last => sets.FirstOrDefault(set => set.Adjustment < last.Adjustment && Wind(set) == Wind(last)) is { } first ? RateChange.Of(first, last) : null)
            .FirstOrDefault(found => found is not null);
        var amplitude = AmplitudeDependence.Of(now, rules.AmplitudeApartLeastDegrees);
        ImmutableArray<FlatToVertical> flats = [.. sets.Select(Timekeeping.FlatToVertical.Of).OfType<FlatToVertical>()];
        (bool Is, ComparisonLimit Limit)[] limits =
        [
            (sets.Length < 2, ComparisonLimit.OneSet),
            (sets.Length > 1 && now.Select(Wind).Distinct().Count() < 2, ComparisonLimit.OneWind),
            (amplitude is null, ComparisonLimit.AmplitudesAlike),
            (flats.IsEmpty, ComparisonLimit.FlatOrVerticalMissing),
            (change is null, ComparisonLimit.NoBeforeAndAfter),

            // An imbalance turns its sign with the amplitude, a hairspring does not: with one amplitude both look alike.
            (amplitude is null, ComparisonLimit.ImbalanceFromHairspring),
            (sets.Select(set => set.Told.Instrument).Distinct(StringComparer.OrdinalIgnoreCase).Count() < 2, ComparisonLimit.OneInstrument),
        ];
        return new RateComparison(isochronism, change, amplitude, flats, [.. limits.Where(one => one.Is).Select(one => one.Limit)]);

        WindState Wind(RateSet set) => RateVerdict.WindOf(set, rules.Plausibility);
    }

    private static RateChange? Isochronic(RateSet[] sets, PlausibilityRules rules)
    {
        foreach (var later in sets.Reverse().Where(set => RateVerdict.WindOf(set, rules) == WindState.OneDay))
        {
            if (sets.LastOrDefault(set => set.At < later.At && RateVerdict.WindOf(set, rules) == WindState.Full && RateVerdict.Comparable(set, later)) is { } full)
            {
                return RateChange.Of(full, later);
            }
        }

        return null;
    }
}

/// <summary>By how much to move the rate, so that the watch keeps its aim on a wrist; seconds a day, unrounded.</summary>
/// <param name="AimPerDaySeconds">What the tolerance aims at, else the middle of its mean rate.</param>
/// <param name="Predicted">On a wrist as it is now.</param>
/// <param name="MoveByPerDaySeconds">Positive: faster.</param>
/// <param name="Positions">The rates after that, by position: each moves by the same, so that the spread stays.</param>
public sealed record RegulationTarget(decimal AimPerDaySeconds, PredictedRate Predicted, decimal MoveByPerDaySeconds, ImmutableArray<PositionChange> Positions, decimal SpreadPerDaySeconds, decimal? SpreadMostSeconds)
{
    /// <summary>Regulation moves every position alike; a spread that is too wide needs poising or the hairspring.</summary>
    public bool SpreadTooWide => SpreadPerDaySeconds > SpreadMostSeconds;

    /// <returns>null without an aim, or where no hour of the profile lies in a position that was measured.</returns>
    public static RegulationTarget? Of(RateSet set, WearProfile profile, ToleranceKind tolerance)
    {
        if ((tolerance.AimPerDaySeconds ?? (tolerance.Worn() is { } window ? (window.Lowest + window.Highest) / 2 : null)) is not { } aim || PredictedRate.Of(set.Readings, profile) is not { } predicted)
        {
            return null;
        }

        var by = aim - predicted.RatePerDaySeconds;
        return new RegulationTarget(
            aim, predicted, by, [.. PositionPattern.LastRates(set.Readings).Select(one => new PositionChange(one.Key, one.Value, one.Value + by))], set.Figures.SpreadPerDaySeconds, tolerance.SpreadFullSeconds);
    }
}
