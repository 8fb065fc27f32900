using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.WearChecks;

/// <summary>Kinds of check after wear.</summary>
public enum WearCheckKind
{
    /// <summary>Lying still without winding; comes with the rules of isochronism.</summary>
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

/// <summary>The watch is wound, set, its offset noted, and goes on wrist or winder.</summary>
public sealed record WearCheckStarted : WorkshopEvent
{
    public required WearCheckKind Kind { get; init; }

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
public sealed record WearCheckPaused : WorkshopEvent
{
    public required WearCheckKind Kind { get; init; }

    public string? Reason { get; init; }
}

public sealed record WearCheckResumed : WorkshopEvent
{
    public required WearCheckKind Kind { get; init; }

    public WearPlace? Place { get; init; }
}

/// <summary>
/// A person confirms when a check began whose start was told by a clock that could not be right. Without it such a check comes to no verdict.
/// </summary>
public sealed record WearCheckConfirmed : WorkshopEvent
{
    public required WearCheckKind Kind { get; init; }

    /// <summary>When it truly began; left out, the moment of receipt was right.</summary>
    public Instant? StartedAt { get; init; }
}

/// <summary>The watch is read: an offset, or it was found stopped.</summary>
public sealed record WearCheckRead : WorkshopEvent
{
    public required WearCheckKind Kind { get; init; }

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

    public int? Midnights { get; init; }
}
