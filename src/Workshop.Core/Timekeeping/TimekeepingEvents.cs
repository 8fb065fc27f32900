using System.Collections.Immutable;
using Workshop.Core.Journal;

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
/// <param name="BeatErrorMilliseconds">Milliseconds.</param>
public sealed record RateReading(Position Position, decimal RatePerDaySeconds, decimal? AmplitudeDegrees = null, decimal? BeatErrorMilliseconds = null);

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
