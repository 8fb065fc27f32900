using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.Timekeeping;

/// <summary>One rate set in short; the readings stand in the journal.</summary>
/// <param name="MeanPerDaySeconds">Plain average over the positions measured.</param>
/// <param name="SpreadPerDaySeconds">Highest minus lowest rate over the positions measured.</param>
public sealed record RateSetSummary(EventId Id, Instant At, int Positions, decimal MeanPerDaySeconds, decimal SpreadPerDaySeconds);

/// <summary>What is known of the rate: measurements are never void, the newest valid one counts.</summary>
public sealed record TimekeepingRecord
{
    public Instant? IndexTouchedAt { get; init; }

    public ImmutableArray<RateSetSummary> RateSets { get; init; } = [];

    public Heard<TimekeepingRecord> Apply(Entry entry) => entry.Event switch
    {
        IndexTouched => new(this with { IndexTouchedAt = entry.Effective }, new Fell(Stage.Regulation)),
        RateSetRecorded set when RateSetFigures.Of(set.Readings) is { } figures =>
            new(this with { RateSets = RateSets.Add(new RateSetSummary(entry.Id, entry.Effective, figures.Positions.Length, figures.MeanPerDaySeconds, figures.SpreadPerDaySeconds)) }),
        _ => new(this),
    };

    /// <summary>A set was measured after the index was last touched and after the movement was rebuilt.</summary>
    public bool MeasuredSince(Instant? rebuilt) =>
        RateSets.Any(set => (IndexTouchedAt is not { } touched || set.At > touched) && (rebuilt is not { } then || set.At >= then));
}
