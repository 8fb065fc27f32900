using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Timekeeping;

namespace Workshop.Core.Charts;

/// <summary>A rate set of a job.</summary>
public sealed record MeanOfJob(Label Job, RateMean Mean);

/// <summary>Two sets of one watch by two instruments, with nothing done to it in between.</summary>
/// <param name="Differences">The other's rate less the one's by position, seconds per day; positions that both have.</param>
public sealed record InstrumentPair(Label Job, RateMean One, RateMean Other, ImmutableSortedDictionary<Position, decimal> Differences)
{
    public decimal MeanDifference => Differences.Values.Average();
}

/// <summary>The difference in one position.</summary>
/// <param name="Interval">null with too few pairs.</param>
public sealed record PositionDifference(Position Position, int Pairs, decimal MeanPerDaySeconds, StudentInterval? Interval);

/// <summary>
/// What one instrument shows more than another on the same watches: the mean of their differences with a 95 % interval by Student's t.
/// Each set counts in one pair, so that no watch counts twice for having been measured often.
/// </summary>
/// <param name="One">The instrument whose rates are taken off.</param>
/// <param name="MeanPerDaySeconds">Seconds per day; the other's less the one's.</param>
/// <param name="Interval">null with fewer than <see cref="LeastPairs"/> pairs.</param>
public sealed record InstrumentDifference(
    string One, string Other, ImmutableArray<InstrumentPair> Pairs, decimal MeanPerDaySeconds, StudentInterval? Interval, ImmutableArray<PositionDifference> Positions)
{
    /// <summary>With fewer the interval is wider than anything it could show. Common practice.</summary>
    public const int LeastPairs = 3;

    /// <summary>The interval leaves out zero: they do not show the same.</summary>
    public bool Differs => Interval is { } known && (known.Lowest > 0 || known.Highest < 0);

    /// <summary>Every two instruments that have measured the same watch, in the order of their names.</summary>
    /// <remarks>
    /// Same job, same wind state (one that was told), chronograph running in both or in neither, cased alike where both say so, and the
    /// same ground. Of several sets those nearest in time go together.
    /// </remarks>
    public static ImmutableArray<InstrumentDifference> Of(IEnumerable<MeanOfJob> means, ChartRules rules)
    {
        var within = Duration.FromNanoseconds((double)(rules.HoursBetweenInstruments * NodaConstants.NanosecondsPerHour));
        var pairs =
            from set in means
            where set.Mean is { Instrument: not null, WindState: not (null or WindState.Unknown) }
            group set.Mean by (set.Job, set.Mean.WindState, set.Mean.Running, set.Mean.Ground) into alike
            from two in Couples(alike)
            group (alike.Key.Job, two.One, two.Other, two.Apart) by (alike.Key, Names: (One: two.One.Instrument!, Other: two.Other.Instrument!)) into candidates
            from pair in Matched(candidates.Where(one => one.Apart <= within))
            group pair by candidates.Key.Names into of
            orderby of.Key.One, of.Key.Other
            select Of(of.Key.One, of.Key.Other, [.. of.OrderBy(pair => pair.One.At).ThenBy(pair => pair.Job)]);
        return [.. pairs];
    }

    private static InstrumentDifference Of(string one, string other, ImmutableArray<InstrumentPair> pairs)
    {
        var differences = pairs.Select(pair => pair.MeanDifference).ToArray();
        return new InstrumentDifference(
            one, other, pairs, differences.Average(), IntervalOf(differences),
            [
                .. from pair in pairs
                   from at in pair.Differences
                   group at.Value by at.Key into position
                   orderby position.Key
                   let figures = position.ToArray()
                   select new PositionDifference(position.Key, figures.Length, figures.Average(), IntervalOf(figures)),
            ]);
    }

    private static StudentInterval? IntervalOf(decimal[] figures) => figures.Length < LeastPairs ? null : StudentInterval.Of(figures);

    private static IEnumerable<(RateMean One, RateMean Other, Duration Apart)> Couples(IEnumerable<RateMean> alike)
    {
        var sets = alike.OrderBy(set => set.Instrument, StringComparer.Ordinal).ThenBy(set => set.At).ToArray();
        return
            from one in sets.Index()
            from other in sets.Skip(one.Index + 1)
            where other.Instrument != one.Item.Instrument
                && (one.Item.Cased is null || other.Cased is null || one.Item.Cased == other.Cased)
                && one.Item.Rates.Keys.Any(other.Rates.ContainsKey)
            select (one.Item, other, one.Item.At > other.At ? one.Item.At - other.At : other.At - one.Item.At);
    }

    private static IEnumerable<InstrumentPair> Matched(IEnumerable<(Label Job, RateMean One, RateMean Other, Duration Apart)> candidates)
    {
        var used = new HashSet<RateMean>();
        foreach (var (job, one, other, _) in candidates.OrderBy(one => one.Apart).ThenBy(one => one.One.At).ThenBy(one => one.Other.At))
        {
            if (used.Contains(one) || used.Contains(other))
            {
                continue;
            }

            used.Add(one);
            used.Add(other);
            yield return new InstrumentPair(
                job, one, other, one.Rates.Where(at => other.Rates.ContainsKey(at.Key)).ToImmutableSortedDictionary(at => at.Key, at => other.Rates[at.Key] - at.Value));
        }
    }
}
