using System.Collections.Immutable;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.Timekeeping;

/// <summary>Positions by where dial and crown point.</summary>
public enum Position
{
    DialUp,
    DialDown,
    CrownUp,
    CrownDown,
    CrownLeft,
    CrownRight,
}

/// <summary>How far the mainspring was wound when a set was measured.</summary>
public enum WindState
{
    Full,
    OneDay,
    Part,
    Unknown,
}

/// <summary>Index or inertia screws were moved: the rate is another one from here.</summary>
public sealed record IndexTouched : WorkshopEvent;

/// <summary>One position of a rate set.</summary>
/// <param name="RatePerDaySeconds">Seconds gained per day of true time.</param>
/// <param name="AmplitudeDegrees">Degrees at the set's lift angle.</param>
/// <param name="BeatErrorMilliseconds">Half the difference between two beats that follow one another, milliseconds.</param>
/// <param name="ToldPosition">The position word for word, where it was told by a symbol or a word of the shop's own; written by the service.</param>
public sealed record RateReading(Position Position, decimal RatePerDaySeconds, decimal? AmplitudeDegrees = null, decimal? BeatErrorMilliseconds = null, string? ToldPosition = null);

/// <summary>A set of rates measured in several positions; a measurement, never void.</summary>
public sealed record RateSetRecorded : WorkshopEvent
{
    public WindState? WindState { get; init; }

    public decimal? HoursSinceFullWind { get; init; }

    public decimal? LiftAngleDegrees { get; init; }

    public int? VibrationsPerHour { get; init; }

    public required ImmutableArray<RateReading> Readings { get; init; }

    public bool? ChronographRunning { get; init; }

    public bool? Cased { get; init; }

    public string? Instrument { get; init; }

    public decimal? SettleSeconds { get; init; }

    public decimal? SampleSeconds { get; init; }

    public ImmutableArray<string>? Recordings { get; init; }
}

/// <summary>
/// A set was read at a wrong lift angle: its amplitudes are recomputed in proportion, and stay beside the right ones as they were read.
/// </summary>
public sealed record LiftAngleCorrected : WorkshopEvent
{
    /// <summary>The set; absent means every set measured before that told a lift angle.</summary>
    public EventId? Of { get; init; }

    /// <summary>The right one.</summary>
    public required decimal LiftAngleDegrees { get; init; }

    public string? Reason { get; init; }

    /// <summary>What is wrong with naming this set, in this very job.</summary>
    internal IEnumerable<Fault> FaultsIn(TimekeepingRecord record)
    {
        if (Of is { } named && record.Find(named) is null)
        {
            yield return new Fault("/of", Phrase.Of("This job has no rate set {0}.", $"{named}"));
        }
        else if (record.RateSets.Where(set => Of is null || set.Id == Of).All(set => set.Told.LiftAngleDegrees is null))
        {
            yield return new Fault(Of is null ? "" : "/of", Phrase.Of("It was told without a lift angle; there is nothing to recompute."));
        }
    }
}

/// <summary>
/// A manager lets a criterion of the tolerance be missed by this watch: signed with a reason, and shown with every verdict it helps to a
/// pass. Stands until the index is touched or the movement rebuilt.
/// </summary>
public sealed record ToleranceExcepted : WorkshopEvent
{
    public required CriterionKind Criterion { get; init; }

    public required string Reason { get; init; }
}
