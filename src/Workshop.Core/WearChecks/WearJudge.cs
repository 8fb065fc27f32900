using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.WearChecks;

/// <summary>What one reading of a worn check comes to.</summary>
public static class WearJudge
{
    /// <param name="check">The check with its readings so far, no pause open.</param>
    public static WearReading Of(WearCheck check, WearCheckRead read, EventId id, Instant at)
    {
        var elapsed = at - check.StartedAt;
        var wear = check.WearAt(at);
        var bare = new WearReading(id, at, read.Stopped == true ? WearVerdict.Stopped : WearVerdict.Interim, elapsed, wear, null, null, elapsed > check.Terms.FlaggedBeyond, null)
        {
            Midnights = Between(check, at)?.Midnights,
            MonthEnds = Between(check, at)?.MonthEnds,
        };
        if (read.Stopped == true || read.OffsetSeconds is not { } offset || WearArithmetic.Rate(check.OffsetSeconds, offset, elapsed) is not { } simple)
        {
            return bare with { Notices = [.. Seen(check, read, bare)] };
        }

        var uncertainty = WearArithmetic.ReadingUncertainty(read.ReadBy, read.StepSeconds, read.RoundTripMilliseconds, check.Terms.ByEyeSeconds);
        var fit = WearFit.Of([.. check.Points(), new WearPoint(elapsed, offset, uncertainty)]);
        var rate = fit?.RatePerDaySeconds ?? simple;
        var plusMinus = fit?.PlusMinusSeconds ?? WearArithmetic.PlusMinus(check.Terms.StartUncertaintySeconds, uncertainty, elapsed) ?? 0;
        var window = check.Terms.Window;

        // A radio clock did not jump. Whoever says nothing of the reference reads against the service's clock.
        var stepped = read.Reference is null or TimeReference.Server && !check.ClockSteps.IsEmpty;
        var verdict =
            wear < check.Terms.ForAPass || read.Interim == true ? WearVerdict.Interim
            : stepped || WearArithmetic.Inconclusive(rate, plusMinus, window) ? WearVerdict.Inconclusive
            : check.Unconfirmed ? WearVerdict.Unconfirmed
            : window.Holds(rate) ? WearVerdict.Pass
            : window.TwiceAsWide().Holds(rate) ? WearVerdict.Outside
            : WearVerdict.OutsideFar;
        var settled =
            verdict != WearVerdict.Inconclusive || stepped ? null
            : fit is null ? WearArithmetic.SettledAfter(rate, check.Terms.StartUncertaintySeconds, uncertainty, window)
            : WearArithmetic.SettledAfter(rate, plusMinus, elapsed, window);
        var reading = bare with
        {
            Verdict = verdict,
            RatePerDaySeconds = rate,
            PlusMinusSeconds = plusMinus,
            SettledAfter = settled,
            OffsetSeconds = offset,
            UncertaintySeconds = uncertainty,
            Fit = fit,
            UnlikePredictionSeconds = rate - check.Terms.PredictedPerDaySeconds,
        };
        return reading with { Notices = [.. Seen(check, read, reading), .. stepped ? [WearNotice.ClockStepped] : ImmutableArray<WearNotice>.Empty] };
    }

    private static IEnumerable<WearNotice> Seen(WearCheck check, WearCheckRead read, WearReading reading)
    {
        if (read.Midnights is { } counted && reading.Midnights is { } passed && counted != passed)
        {
            yield return WearNotice.MidnightsDiffer;
        }

        // Whoever read before midnight has seen no date that could have jumped.
        if (read.DateJumped == false && reading.Midnights is null or > 0)
        {
            yield return WearNotice.DateDidNotJump;
        }

        if (read.HandsAligned == false)
        {
            yield return WearNotice.HandsNotAligned;
        }

        if (read.Mist == true)
        {
            yield return WearNotice.Mist;
        }

        if (read.Noise == true)
        {
            yield return WearNotice.Noise;
        }

        if (reading.Wear >= check.Terms.ForAPass && reading.UnlikePredictionSeconds is { } by && Math.Abs(by) > check.Terms.UnlikePredictionSeconds)
        {
            yield return WearNotice.UnlikePrediction;
        }

        if (read.Resets is { } resets && resets.Right < resets.Tried)
        {
            yield return WearNotice.ResetsWrong;
        }

        if (reading.Wear < check.Terms.ForAPass || read.Interim == true || read.Stopped == true)
        {
            yield break;
        }

        if (check.Terms.MidnightsAtLeast is { } least && (read.Midnights ?? reading.Midnights) < least)
        {
            yield return WearNotice.FewMidnights;
        }

        if (check.Terms.ResetsADay is { } aDay && (read.Resets?.Tried ?? 0) < aDay * (decimal)Math.Floor(reading.Wear.TotalDays))
        {
            yield return WearNotice.FewResets;
        }
    }

    private static (int Midnights, int MonthEnds)? Between(WearCheck check, Instant at)
    {
        if (check.Terms.Zone is not { } named || DateTimeZoneProviders.Tzdb.GetZoneOrNull(named) is not { } zone || at < check.StartedAt)
        {
            return null;
        }

        LocalDate from = check.StartedAt.InZone(zone).Date, through = at.InZone(zone).Date;
        return (Period.DaysBetween(from, through), (through.Year - from.Year) * 12 + through.Month - from.Month);
    }
}
