using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.Timekeeping;

/// <summary>One rate set in short; the readings stand in the journal.</summary>
/// <param name="MeanPerDaySeconds">Plain average over the positions measured.</param>
/// <param name="SpreadPerDaySeconds">Highest minus lowest rate over the positions measured.</param>
/// <param name="DialUpFullDegrees">The amplitude with the dial up, where it was measured at full wind.</param>
public sealed record RateSetSummary(EventId Id, Instant At, int Positions, decimal MeanPerDaySeconds, decimal SpreadPerDaySeconds, decimal? DialUpFullDegrees = null);

/// <summary>What is known of the rate: measurements are never void, the newest valid one counts.</summary>
public sealed record TimekeepingRecord
{
    public Instant? IndexTouchedAt { get; init; }

    public ImmutableArray<RateSetSummary> RateSets { get; init; } = [];

    public Heard<TimekeepingRecord> Apply(Entry entry) => entry.Event switch
    {
        IndexTouched => new(this with { IndexTouchedAt = entry.Effective }, new Fell(Stage.Regulation)),
        RateSetRecorded set when RateSetFigures.Of(set.Readings) is { } figures =>
            new(this with { RateSets = RateSets.Add(new RateSetSummary(entry.Id, entry.Effective, figures.Positions.Length, figures.MeanPerDaySeconds, figures.SpreadPerDaySeconds, DialUpAtFullWind(set))) }),
        _ => new(this),
    };

    /// <summary>The amplitude with the dial up at full wind, as it was measured last; null where nobody has.</summary>
    public decimal? DialUpFullDegrees => RateSets.LastOrDefault(set => set.DialUpFullDegrees is not null)?.DialUpFullDegrees;

    private static decimal? DialUpAtFullWind(RateSetRecorded set) =>
        set.WindState == WindState.Full ? set.Readings.LastOrDefault(reading => reading.Position == Position.DialUp)?.AmplitudeDegrees : null;

    /// <summary>A set was measured after the index was last touched and after the movement was rebuilt.</summary>
    public bool MeasuredSince(Instant? rebuilt) =>
        RateSets.Any(set => (IndexTouchedAt is not { } touched || set.At > touched) && (rebuilt is not { } then || set.At >= then));
}
