using NodaTime;
using Workshop.Core.Journal;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Settings;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>At which moment an event counts, and whether it asks or reports.</summary>
/// <param name="Live">It came at once: a gate may refuse it.</param>
public readonly record struct EventTime(Instant Effective, bool Live, bool ClockSuspect)
{
    /// <summary>Ahead of receipt by this much a device's clock is not believed. Common practice.</summary>
    private static readonly Duration AheadAtMost = Duration.FromMinutes(5);

    /// <summary>
    /// The device's time, never later than receipt. A time that cannot be (well ahead of receipt, or before the watch was in the house)
    /// gives way to the time of receipt and is flagged.
    /// </summary>
    public static EventTime Of(CloudEvent one, Manner manner, Instant received, Instant? takenIn, EventSettings settings)
    {
        if (one.Time is not { } said)
        {
            return new EventTime(received, !manner.Already, ClockSuspect: false);
        }

        var told = Truncated(said.ToInstant());

        // A time in whole seconds means some moment of that second. Received within it, the event comes after what the service has
        // heard before; it would otherwise slip in ahead of an answer that its sender had already seen.
        var withinItsSecond = one.TimeText?.Contains('.', StringComparison.Ordinal) == false && received - told < Duration.FromSeconds(1);
        if (told > received + AheadAtMost || (told < takenIn && !withinItsSecond))
        {
            return new EventTime(received, !manner.Already, ClockSuspect: true);
        }

        var effective = told < received && !withinItsSecond ? told : received;
        return new EventTime(effective, !manner.Already && received - effective <= settings.LiveWithin, ClockSuspect: false);
    }

    // Moments are whole microseconds everywhere; what a device says beyond is cut off once, here at the door.
    private static Instant Truncated(Instant moment) =>
        Instant.FromUnixTimeTicks(Math.DivRem(moment.ToUnixTimeTicks(), 10).Quotient * 10);
}
