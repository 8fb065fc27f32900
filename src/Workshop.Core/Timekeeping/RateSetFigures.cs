using System.Collections.Immutable;

namespace Workshop.Core.Timekeeping;

/// <summary>What a rate set says as a whole. Shown, never judged by itself; unrounded.</summary>
/// <param name="MeanPerDaySeconds">Mean of the rates over the positions, seconds gained per day.</param>
/// <param name="SpreadPerDaySeconds">Highest rate minus lowest, seconds per day.</param>
/// <param name="Positions">The positions that were measured, each once.</param>
public sealed record RateSetFigures(decimal MeanPerDaySeconds, decimal SpreadPerDaySeconds, ImmutableArray<Position> Positions)
{
    /// <summary>The figures of a set; a position measured again counts with its last reading.</summary>
    /// <returns>null for a set without readings.</returns>
    public static RateSetFigures? Of(IEnumerable<RateReading> readings)
    {
        var last = new SortedDictionary<Position, decimal>();
        foreach (var reading in readings)
        {
            last[reading.Position] = reading.RatePerDaySeconds;
        }

        return last.Count == 0 ? null : new RateSetFigures(last.Values.Average(), last.Values.Max() - last.Values.Min(), [.. last.Keys]);
    }

    /// <summary>The positions asked for that this set lacks.</summary>
    public ImmutableArray<Position> Missing(IEnumerable<Position> required) => [.. required.Except(Positions)];
}
