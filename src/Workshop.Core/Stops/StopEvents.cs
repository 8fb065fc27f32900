using Workshop.Core.Journal;

namespace Workshop.Core.Stops;

/// <summary>Why a watch stopped: what one suspects, and what was found.</summary>
public enum StopCause
{
    /// <summary>The calendar held it: a jumper, a finger.</summary>
    Calendar,

    /// <summary>Always the same minute: hands that touch, a bad tooth, the hour wheel.</summary>
    HandsOrTooth,

    /// <summary>A jumper of the minute counter that is too strong.</summary>
    MinuteCounter,

    /// <summary>It ran down: the automatic does not wind.</summary>
    Winding,

    /// <summary>Escapement, dirt, a screw that touches a wheel, the stem.</summary>
    EscapementOrDirt,

    /// <summary>Now and then: a fibre, a loose jewel.</summary>
    Intermittent,

    /// <summary>Something else was found.</summary>
    Other,

    /// <summary>It was looked for and not found.</summary>
    Unknown,
}

/// <summary>What was found behind a stop. Said again, the newest counts.</summary>
public sealed record StopExplained : WorkshopEvent
{
    /// <summary>The reading at which it was found stopped.</summary>
    public required EventId Of { get; init; }

    public required StopCause Cause { get; init; }

    public string? Remark { get; init; }
}
