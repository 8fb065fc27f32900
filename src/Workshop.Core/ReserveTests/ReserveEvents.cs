using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.ReserveTests;

/// <summary>The watch is wound to the full, set to time, and lies still until it stops.</summary>
public sealed record ReserveTestStarted : WorkshopEvent
{
    /// <summary>True when the person says so; nothing else is its source.</summary>
    public bool? FullyWound { get; init; }

    /// <summary>Left out: it stands still.</summary>
    public bool? ChronographRunning { get; init; }

    /// <summary>Watch minus reference, seconds; ahead is plus. Left out: it was set to time.</summary>
    public decimal? OffsetSeconds { get; init; }

    public int? ShownDay { get; init; }

    /// <summary>Hours that it is to run, where the bench knows better than the shop's documents.</summary>
    public decimal? Hours { get; init; }
}

/// <summary>Somebody looked: it runs, or it has stopped.</summary>
public sealed record ReserveTestRead : WorkshopEvent
{
    public bool? Running { get; init; }

    /// <summary>Never together with <see cref="Running"/>.</summary>
    public bool? Stopped { get; init; }

    /// <summary>What the hands show, for a stopped watch; a dial of twelve hours.</summary>
    public LocalTime? ShownTime { get; init; }

    /// <summary>The second hand was read too, although the seconds are nought.</summary>
    public bool? ToTheSecond { get; init; }

    public int? ShownDay { get; init; }

    /// <summary>When it stopped, where somebody or a camera saw it.</summary>
    public Instant? StoppedAt { get; init; }
}
