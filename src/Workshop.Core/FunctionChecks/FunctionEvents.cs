using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.FunctionChecks;

/// <summary>What a watch does besides telling the time, and what is felt at its crown and pushers.</summary>
public enum WatchFunction
{
    DateInstant,
    DateSemiInstant,
    DateDragging,
    DayAndDate,
    QuickCorrection,
    ChronographStart,
    ChronographStop,
    ChronographReset,
    MinuteCounter,
    HourCounter,
    Flyback,
    Split,
    PusherForce,
    WindingAndSetting,
    CannonPinion,
    Rotor,
}

/// <summary>What was read when a function was tried; each function has its own members, and the others stay out.</summary>
public sealed record FunctionValue
{
    /// <summary>When a calendar began to change, by the hands.</summary>
    public LocalTime? Began { get; init; }

    /// <summary>When a calendar had changed, by the hands.</summary>
    public LocalTime? Done { get; init; }

    /// <summary>Seconds of the chronograph at which a minute counter jumped.</summary>
    public decimal? Seconds { get; init; }

    /// <summary>Seconds of the chronograph at which a minute counter that does not jump had moved on.</summary>
    public decimal? MovedSeconds { get; init; }

    /// <summary>Minutes apart, or off.</summary>
    public decimal? Minutes { get; init; }

    /// <summary>Graduations that a chronograph's hand jumped at the start, or stands off zero after the reset.</summary>
    public decimal? Graduations { get; init; }

    /// <summary>Turns of a crown that screws down.</summary>
    public decimal? Turns { get; init; }
}

/// <summary>How often it was tried, and how often it was right.</summary>
public sealed record TriedTimes(int Tried, int Right);

/// <summary>A function was tried. The newest word about a function counts.</summary>
public sealed record FunctionChecked : WorkshopEvent
{
    public required WatchFunction Function { get; init; }

    /// <summary>What the person says; figures never overrule it. Left out only with <see cref="NotFitted"/>.</summary>
    public bool? Passed { get; init; }

    /// <summary>True: the watch has no such function.</summary>
    public bool? NotFitted { get; init; }

    public FunctionValue? Value { get; init; }

    public TriedTimes? Trials { get; init; }

    public string? Remark { get; init; }
}
