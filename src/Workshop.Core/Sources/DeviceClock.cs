using System.Collections.Immutable;
using NodaTime;

namespace Workshop.Core.Sources;

/// <summary>
/// How far a device's own clock is off, learned from what it says its clock shows when it posts. A post takes a while to arrive, never
/// less than nothing: the smallest difference of the last ten is the best guess.
/// </summary>
public sealed record DeviceClock
{
    /// <summary>Common practice of estimating over a bad line; enough to have met a quiet moment.</summary>
    private const int SamplesKept = 10;

    /// <summary>Under this much a clock is right, and a new guess is the old one. Two seconds of the workshop's own choosing.</summary>
    public static readonly Duration CountsAsNone = Duration.FromSeconds(2);

    /// <summary>No post takes this long: the clock was set anew.</summary>
    public static readonly Duration SetAnew = Duration.FromMinutes(5);

    public static readonly DeviceClock Unknown = new();

    /// <summary>Received minus sent, the newest last.</summary>
    public ImmutableArray<Duration> Samples { get; init; } = [];

    /// <summary>What is added to the device's time; null as long as it never said what its clock shows.</summary>
    public Duration? Error { get; init; }

    /// <summary>The clock with what one more post has shown.</summary>
    /// <returns>Also whether the device's clock was set anew since the post before.</returns>
    public (DeviceClock Clock, bool Stepped) Hear(Instant received, Instant sent)
    {
        var sample = received - sent;
        var stepped = !Samples.IsEmpty && Magnitude(sample - Samples.Min()) > SetAnew;
        ImmutableArray<Duration> samples = stepped ? [sample] : [.. Samples.TakeLast(SamplesKept - 1), sample];
        var guess = samples.Min();
        guess = Magnitude(guess) < CountsAsNone ? Duration.Zero : guess;
        var error = Error is { } before && !stepped && Magnitude(guess - before) <= CountsAsNone ? before : guess;
        return (new DeviceClock { Samples = samples, Error = error }, stepped);
    }

    private static Duration Magnitude(Duration duration) => duration < Duration.Zero ? -duration : duration;
}
