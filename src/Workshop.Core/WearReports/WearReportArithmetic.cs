using Workshop.Core.WearChecks;

namespace Workshop.Core.WearReports;

/// <summary>Rates from what customers say. Seconds gained per day; nothing here is rounded.</summary>
public static class WearReportArithmetic
{
    /// <summary>Seconds gained per day.</summary>
    /// <param name="amount">Without a sign, in its unit.</param>
    /// <param name="overDays">More than none.</param>
    public static decimal Rate(decimal amount, WearUnit unit, WearDirection direction, decimal overDays) =>
        (direction == WearDirection.Gains ? amount : -amount) * SecondsOf(unit) / overDays;

    /// <summary>
    /// Expanded uncertainty (k = 2) of such a rate, seconds per day: what was said in whole steps a lies within a rectangle, a/√3
    /// (JCGM 100:2008, 4.3.7, from memory); never less than two readings by eye can tell apart. What the customer rounded of the
    /// days, and when they last set it, is not in it.
    /// </summary>
    public static decimal PlusMinus(WearUnit unit, decimal overDays, decimal byEyeSeconds) =>
        Math.Max(WearArithmetic.ReadingUncertainty(ReadBy.Display, SecondsOf(unit), null, byEyeSeconds), WearArithmetic.Together(byEyeSeconds, byEyeSeconds)) / overDays;

    private static decimal SecondsOf(WearUnit unit) => unit == WearUnit.Minutes ? 60 : 1;

    /// <summary>What a report comes to, against the window the watch left the house by.</summary>
    public static WearReportVerdict Judge(WearReported told, decimal? rate, decimal? plusMinus, RateWindow? window) =>
        told.Stopped == true ? WearReportVerdict.Stopped
        : told is { Amount: > 0, Direction: null } ? WearReportVerdict.AskedBack
        : rate is not { } known || plusMinus is not { } uncertainty || window is not { } limits ? WearReportVerdict.NoFigure
        : WearArithmetic.Inconclusive(known, uncertainty, limits) ? WearReportVerdict.Inconclusive
        : limits.Holds(known) ? WearReportVerdict.Within
        : WearReportVerdict.Outside;
}
