using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.Timekeeping;

/// <summary>One rate set as it was told, and what it says as a whole.</summary>
/// <param name="Told">The readings, and how they were taken; frozen in the entry.</param>
/// <param name="Person">Who measured.</param>
public sealed record RateSet(EventId Id, Instant At, RateSetRecorded Told, RateSetFigures Figures, string? Person = null, string? Bench = null)
{
    /// <summary>The amplitude with the dial up, where it was measured at full wind; degrees at the set's lift angle.</summary>
    public decimal? DialUpFullDegrees() =>
        Told.WindState == WindState.Full ? Told.Readings.LastOrDefault(reading => reading.Position == Position.DialUp)?.AmplitudeDegrees : null;
}

/// <summary>What is known of the rate: measurements are never void, the newest valid one counts.</summary>
public sealed record TimekeepingRecord
{
    public Instant? IndexTouchedAt { get; init; }

    public ImmutableArray<RateSet> RateSets { get; init; } = [];

    public Heard<TimekeepingRecord> Apply(Entry entry) => entry.Event switch
    {
        IndexTouched => new(this with { IndexTouchedAt = entry.Effective }, new Fell(Stage.Regulation)),
        RateSetRecorded set when RateSetFigures.Of(set.Readings) is { } figures =>
            new(this with { RateSets = RateSets.Add(new RateSet(entry.Id, entry.Effective, set, figures, entry.Person, entry.Judged.Bench)) }),
        _ => new(this),
    };

    /// <summary>The amplitude with the dial up at full wind, as it was measured last; null where nobody has.</summary>
    public decimal? DialUpFullDegrees() => RateSets.LastOrDefault(set => set.DialUpFullDegrees() is not null)?.DialUpFullDegrees();

    /// <summary>A set was measured after the index was last touched and after the movement was rebuilt.</summary>
    public bool MeasuredSince(Instant? rebuilt) =>
        RateSets.Any(set => (IndexTouchedAt is not { } touched || set.At > touched) && (rebuilt is not { } then || set.At >= then));
}
