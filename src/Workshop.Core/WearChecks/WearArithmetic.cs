using NodaTime;

namespace Workshop.Core.WearChecks;

/// <summary>
/// Rates from two readings of a worn watch, and how far they can be trusted. Offsets are watch minus reference in seconds, ahead is
/// plus; rates are seconds gained per day of true time. Nothing here is rounded but what is named printed.
/// </summary>
public static class WearArithmetic
{
    /// <summary>Expanded uncertainty (k = 2) of a photo against the server's clock, without the way of the answer. Common practice, a default.</summary>
    public const decimal PhotoSeconds = 0.3m;

    private const decimal NanosecondsPerDay = 86_400_000_000_000m;

    private static readonly Duration LongestCheck = Duration.FromDays(366);

    /// <summary>The mean rate between two readings: the drift divided by the true time between them, pauses included.</summary>
    /// <returns>Seconds per day, unrounded; null where no time has passed.</returns>
    public static decimal? Rate(decimal offsetAtStartSeconds, decimal offsetSeconds, Duration elapsed) =>
        PerDay(offsetSeconds - offsetAtStartSeconds, elapsed);

    /// <summary>
    /// Expanded uncertainty (k = 2) of one reading, in seconds: by eye as the rule says; from a display, its step a as a rectangular
    /// distribution, 2 · a/√12 = a/√3 (JCGM 100:2008, 4.3.7, from memory); a photo, 0.3 s and half the way to the server and back.
    /// </summary>
    /// <param name="readBy">Null is by eye; so is a display whose step nobody told.</param>
    public static decimal ReadingUncertainty(ReadBy? readBy, decimal? stepSeconds, decimal? roundTripMilliseconds, decimal byEyeSeconds) =>
        (readBy, stepSeconds) switch
        {
            (ReadBy.Display, { } step) => step / Root(3),
            (ReadBy.Photo, _) => PhotoSeconds + (roundTripMilliseconds ?? 0) / 2 / 1000,
            _ => byEyeSeconds,
        };

    /// <summary>Expanded uncertainty of a rate from two readings: √(U₁² + U₂²) per day of the time between them.</summary>
    /// <returns>Seconds per day, unrounded; null where no time has passed.</returns>
    public static decimal? PlusMinus(decimal startUncertaintySeconds, decimal uncertaintySeconds, Duration elapsed) =>
        PerDay(Together(startUncertaintySeconds, uncertaintySeconds), elapsed);

    /// <summary>An uncertainty as it is shown: one significant digit, two when it starts with 1; half away from zero.</summary>
    public static decimal PrintedPlusMinus(decimal plusMinus) => RoundedTo(plusMinus, PlacesShown(plusMinus));

    /// <summary>A rate as it is shown, to the last digit of its uncertainty; half away from zero.</summary>
    public static decimal PrintedRate(decimal ratePerDaySeconds, decimal plusMinus) => RoundedTo(ratePerDaySeconds, PlacesShown(plusMinus));

    /// <summary>Whether the uncertainty reaches across a limit of the window, so that the reading does not tell on which side the rate lies.</summary>
    public static bool Inconclusive(decimal ratePerDaySeconds, decimal plusMinus, RateWindow window) =>
        DistanceToLimit(ratePerDaySeconds, window) < plusMinus;

    /// <summary>
    /// The time between the two readings after which this rate would lie clearly on one side of the nearest limit. Whole microseconds, as
    /// every moment that is kept: a due moment with more digits would not be the one that was announced.
    /// </summary>
    /// <returns>null where a year would not settle it: the rate lies on the limit, or too close to it.</returns>
    public static Duration? SettledAfter(decimal ratePerDaySeconds, decimal startUncertaintySeconds, decimal uncertaintySeconds, RateWindow window)
    {
        var distance = DistanceToLimit(ratePerDaySeconds, window);
        var drift = Together(startUncertaintySeconds, uncertaintySeconds);
        return distance * LongestCheck.Days < drift ? null : Duration.FromNanoseconds(1000 * (long)decimal.Ceiling(drift / distance * NanosecondsPerDay / 1000));
    }

    /// <summary>The same for a fitted rate, whose uncertainty falls as the time grows.</summary>
    public static Duration? SettledAfter(decimal ratePerDaySeconds, decimal plusMinus, Duration elapsed, RateWindow window)
    {
        var distance = DistanceToLimit(ratePerDaySeconds, window);
        var nanoseconds = elapsed.ToInt64Nanoseconds();
        return distance * LongestCheck.ToInt64Nanoseconds() < plusMinus * nanoseconds ? null : Duration.FromNanoseconds(1000 * (long)decimal.Ceiling(plusMinus / distance * nanoseconds / 1000));
    }

    // Multiplied before it is divided: −5.6 s in 22 h 24 min are −6 s/d to the last digit, and a rate on a limit is inside it.
    private static decimal? PerDay(decimal seconds, Duration elapsed) =>
        elapsed > Duration.Zero ? seconds * NanosecondsPerDay / elapsed.ToInt64Nanoseconds() : null;

    private static decimal DistanceToLimit(decimal rate, RateWindow window) =>
        Math.Min(Math.Abs(rate - window.Lowest), Math.Abs(rate - window.Highest));

    /// <summary>Two uncertainties that have nothing to do with each other, as one.</summary>
    internal static decimal Together(decimal one, decimal other) => Root(one * one + other * other);

    // Decimal has no root of its own; the double's is correctly rounded, and the conversion keeps 15 digits of it on every machine.
    private static decimal Root(decimal square) => (decimal)Math.Sqrt((double)square);

    // Places after the point, negative for tens and more.
    private static int PlacesShown(decimal plusMinus)
    {
        var leading = Math.Abs(plusMinus);
        if (leading == 0)
        {
            return 0;
        }

        var places = 0;
        for (; leading >= 10; leading /= 10)
        {
            places--;
        }

        for (; leading < 1; leading *= 10)
        {
            places++;
        }

        return leading < 2 ? places + 1 : places;
    }

    private static decimal RoundedTo(decimal value, int places)
    {
        if (places >= 0)
        {
            return Math.Round(value, Math.Min(places, 28), MidpointRounding.AwayFromZero);
        }

        var unit = 1m;
        for (var i = places; i < 0; i++)
        {
            unit *= 10;
        }

        return Math.Round(value / unit, MidpointRounding.AwayFromZero) * unit;
    }
}
