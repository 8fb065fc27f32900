using NodaTime;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>The post that brought an event: by whom, and when it came.</summary>
internal sealed record Post
{
    public required Caller Caller { get; init; }

    /// <summary>The moment of receipt; a post that needs several turns was received once.</summary>
    public required Instant Received { get; init; }

    /// <summary>Until when, in real time, an event waits whose source has not yet said what lies before it.</summary>
    public required Instant HoldUntil { get; init; }

    /// <summary>The device's clock was set anew since the post before.</summary>
    public bool ClockStepped { get; init; }

    /// <summary>What would be said is answered and nothing is kept.</summary>
    public bool Ask { get; init; }

    /// <summary>A lower number of the source is missing and is not waited for any longer.</summary>
    public bool AfterGap { get; init; }
}
