using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.WearChecks;

/// <summary>Kinds of check after wear.</summary>
public enum WearCheckKind
{
    /// <summary>Lying still for a day without winding: what rate and amplitude do when the spring runs down.</summary>
    Static,

    /// <summary>On a wrist or a winder.</summary>
    Worn,
}

public enum WearPlace
{
    Wrist,
    Winder,
    Rest,
}

public enum ReadBy
{
    Eye,
    Display,
    Photo,
}

public enum TimeReference
{
    Server,
    Radio,
    Other,
}

/// <summary>Something about one check of a kind.</summary>
public abstract record WearCheckEvent : WorkshopEvent
{
    public required WearCheckKind Kind { get; init; }
}

/// <summary>The watch is wound, set, its offset noted, and goes on wrist or winder.</summary>
public sealed record WearCheckStarted : WearCheckEvent
{
    /// <summary>Wear asked for where it is more than the route owes.</summary>
    public Duration? Owed { get; init; }

    /// <summary>Watch minus reference, seconds; ahead is plus.</summary>
    public decimal? OffsetSeconds { get; init; }

    public WearPlace? Place { get; init; }

    public string? WinderPlace { get; init; }

    public string? Wearer { get; init; }

    /// <summary>True when the person says so; nothing else is its source.</summary>
    public bool? FullyWound { get; init; }

    public int? ShownDay { get; init; }

    public bool? ChronographRunning { get; init; }

    public TimeReference? Reference { get; init; }

    public ReadBy? ReadBy { get; init; }

    /// <summary>Step of the display read, seconds.</summary>
    public decimal? StepSeconds { get; init; }

    public decimal? RoundTripMilliseconds { get; init; }
}

/// <summary>The watch is off the wrist or winder; it runs on, but does not wear.</summary>
public sealed record WearCheckPaused : WearCheckEvent
{
    public string? Reason { get; init; }
}

public sealed record WearCheckResumed : WearCheckEvent
{
    public WearPlace? Place { get; init; }
}

/// <summary>
/// A person confirms when a check began whose start was told by a clock that could not be right. Without it such a check comes to no verdict.
/// </summary>
public sealed record WearCheckConfirmed : WearCheckEvent
{
    /// <summary>When it truly began; left out, the moment of receipt was right.</summary>
    public Instant? StartedAt { get; init; }
}

/// <summary>The watch is read: an offset, or it was found stopped.</summary>
public sealed record WearCheckRead : WearCheckEvent
{
    /// <summary>True: the check stays open whatever the wear.</summary>
    public bool? Interim { get; init; }

    /// <summary>Watch minus reference, seconds; ahead is plus. Never together with <see cref="Stopped"/>.</summary>
    public decimal? OffsetSeconds { get; init; }

    public bool? Stopped { get; init; }

    /// <summary>What the hands show, for a stopped watch: <c>HH:mm</c> or <c>HH:mm:ss</c>.</summary>
    public string? ShownTime { get; init; }

    public int? ShownDay { get; init; }

    public bool? DateJumped { get; init; }

    public bool? HandsAligned { get; init; }

    public bool? Mist { get; init; }

    public bool? Noise { get; init; }

    public WearPlace? Place { get; init; }

    public TimeReference? Reference { get; init; }

    public ReadBy? ReadBy { get; init; }

    public decimal? StepSeconds { get; init; }

    public decimal? RoundTripMilliseconds { get; init; }

    /// <summary>Midnights that somebody counted.</summary>
    public int? Midnights { get; init; }

    /// <summary>Starts and resets of the chronograph.</summary>
    public Resets? Resets { get; init; }
}

/// <summary>How often the chronograph was started, stopped and reset.</summary>
/// <param name="Right">How often all hands went back to zero.</param>
public sealed record Resets(int Tried, int Right);

/// <summary>
/// The service's own clock was set or jumped while a check was running: an offset against it is one against two clocks. Said by the
/// service alone.
/// </summary>
public sealed record ClockStepped : WorkshopEvent
{
    /// <summary>How far it jumped, seconds; ahead is plus.</summary>
    public required decimal BySeconds { get; init; }
}
