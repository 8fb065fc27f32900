using System.Collections.Immutable;
using NodaTime;

namespace Workshop.Core.Outgoing;

/// <summary>What an answer, or its absence, says of a message.</summary>
public enum SendingVerdict
{
    /// <summary>The receiver has it.</summary>
    Delivered,

    /// <summary>Not this time; later.</summary>
    Later,

    /// <summary>Not this time, and nothing else for a while either: the receiver is overloaded, or nobody is there.</summary>
    HoldBack,

    /// <summary>The receiver wants nothing any more.</summary>
    Gone,
}

/// <summary>
/// When a message that did not arrive is sent again. The delays are the example of Standard Webhooks 1.0.0, "deliverability and
/// reliability": ten attempts in a little over three days.
/// </summary>
public static class RetryPlan
{
    /// <summary>From each attempt to the next.</summary>
    public static readonly ImmutableArray<Duration> Delays =
    [
        Duration.FromSeconds(5),
        Duration.FromMinutes(5),
        Duration.FromMinutes(30),
        Duration.FromHours(2),
        Duration.FromHours(5),
        Duration.FromHours(10),
        Duration.FromHours(14),
        Duration.FromHours(20),
        Duration.FromHours(24),
    ];

    /// <summary>The longest time for which a receiver's own wish to wait is heeded.</summary>
    public static readonly Duration LongestWish = Duration.FromHours(24);

    /// <summary>A tenth is added at most, by chance, so that what failed together does not come again together.</summary>
    private const double Jitter = 0.1;

    private static readonly Duration FirstHold = Duration.FromSeconds(5);
    private static readonly Duration LongestHold = Duration.FromMinutes(5);

    /// <summary>Standard Webhooks 1.0.0: 2xx is success, 3xx a failure like any other, 410 the end, 429, 502 and 504 a wish to be left in peace.</summary>
    /// <param name="status">Null where no answer came.</param>
    /// <param name="wish">Whether the answer asked to wait (Retry-After).</param>
    public static SendingVerdict Of(int? status, bool wish = false) => status switch
    {
        >= 200 and < 300 => SendingVerdict.Delivered,
        410 => SendingVerdict.Gone,
        null or 429 or 502 or 504 => SendingVerdict.HoldBack,
        503 when wish => SendingVerdict.HoldBack,
        _ => SendingVerdict.Later,
    };

    /// <summary>The next attempt; null where there is none left.</summary>
    /// <param name="attempts">Made so far, this one counted.</param>
    /// <param name="chance">From 0 to 1.</param>
    /// <param name="wish">How long the receiver asked to wait.</param>
    public static Instant? Next(int attempts, Instant now, double chance, Duration? wish = null)
    {
        if (attempts > Delays.Length)
        {
            return null;
        }

        var delay = Delays[attempts - 1] * (1 + (Jitter * chance));
        return now + (wish is { } asked ? Duration.Max(delay, Duration.Min(asked, LongestWish)) : delay);
    }

    /// <summary>How long nothing at all is sent to a receiver that did not answer or asked to be left in peace.</summary>
    /// <param name="failures">In a row, this one counted.</param>
    public static Duration Hold(int failures, Duration? wish = null) => wish is { } asked
        ? Duration.Min(asked, LongestWish)
        : Duration.Min(FirstHold * Math.Pow(2, Math.Clamp(failures - 1, 0, 10)), LongestHold);
}
