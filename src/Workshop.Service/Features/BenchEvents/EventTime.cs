using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Sources;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>At which moment an event counts, and whether it asks or reports.</summary>
/// <param name="Live">It came at once: a gate may refuse it.</param>
/// <param name="ClockSuspect">The device's time cannot be; the time of receipt counts.</param>
/// <param name="ClockStepped">The device's clock was set anew, or ran against its own numbers.</param>
internal readonly record struct EventTime(Instant Effective, bool Live, bool ClockSuspect, bool ClockStepped)
{
    /// <summary>Ahead of receipt by this much a device's clock is not believed. Common practice.</summary>
    private static readonly Duration AheadAtMost = Duration.FromMinutes(5);

    /// <summary>
    /// The device's time with what is known of its clock's error, never later than receipt. A time that cannot be (well ahead of receipt,
    /// or before the watch was in the house) gives way to the time of receipt and is flagged. Along one source times never run against
    /// the numbers: each lies between those of its neighbours.
    /// </summary>
    public static EventTime Of(Turn turn, CloudEvent one, Manner manner, Post post, Instant? takenIn, EventSettings settings)
    {
        var source = turn.Source(one.Source);
        var (told, suspect) = Told(one, post.Received, source.Clock, takenIn);
        var effective = Between(turn, source, one.Sequence, told);
        var ranBack = DeviceClock.CountsAsNone < (effective > told ? effective - told : told - effective);
        return new EventTime(
            effective,
            !manner.Already && post.Received - effective <= settings.LiveWithin,
            suspect,
            ClockStepped: one.Time is not null && (post.ClockStepped || (ranBack && !suspect)));
    }

    private static (Instant Told, bool Suspect) Told(CloudEvent one, Instant received, DeviceClock clock, Instant? takenIn)
    {
        if (one.Time is not { } said)
        {
            return (received, false);
        }

        var told = Corrected(said.ToInstant(), clock);

        // A time in whole seconds means some moment of that second. Received within it, the event comes after what the service has
        // heard before; it would otherwise slip in ahead of an answer that its sender had already seen.
        var withinItsSecond = one.TimeText?.Contains('.', StringComparison.Ordinal) == false && received - told < Duration.FromSeconds(1);
        return told > received + AheadAtMost || (told < takenIn && !withinItsSecond) ? (received, true)
            : told < received && !withinItsSecond ? (told, false)
            : (received, false);
    }

    private static Instant Between(Turn turn, SourceState source, long? sequence, Instant told)
    {
        if (sequence is not { } number)
        {
            return told;
        }

        // The usual number is above all that were judged; only one that comes out of its turn has neighbours on both sides.
        var (below, above) = number >= source.Sequence.Next ? (source.JudgedUntil, null) : turn.Neighbours(source.Source, number);
        var notAfter = above is { } later && later < told ? later : told;
        return below is { } earlier && earlier > notAfter ? earlier : notAfter;
    }

    // Moments are whole microseconds everywhere; what a device says beyond is cut off once, here at the door.
    private static Instant Corrected(Instant said, DeviceClock clock)
    {
        // A device may say any year; one at the end of all time is no better believed for being corrected.
        var ticks = (decimal)said.ToUnixTimeTicks() + (decimal)(clock.Error ?? Duration.Zero).TotalTicks;
        return Microseconds.Truncated(Instant.FromUnixTimeTicks((long)Math.Clamp(ticks, Instant.MinValue.ToUnixTimeTicks(), Instant.MaxValue.ToUnixTimeTicks())));
    }
}
