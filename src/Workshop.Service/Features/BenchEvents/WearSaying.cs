using Workshop.Core.Jobs;
using Workshop.Core.Shop;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>Puts what a check after wear came to into one line.</summary>
internal static class WearSaying
{
    public static (Signal Signal, Phrase Line) Read(WearReading reading)
    {
        var rate = reading is { RatePerDaySeconds: { } value, PlusMinusSeconds: { } plusMinus }
            ? Phrase.Of("{0} ± {1} s/d", Figure.Signed(value), new Figure(WearArithmetic.PrintedPlusMinus(plusMinus), "0.####"))
            : Phrase.Of("no rate yet");
        return reading.Verdict switch
        {
            WearVerdict.Pass => (Signal.Ok, Phrase.Of("Passed: {0}", rate)),
            WearVerdict.Outside => (Signal.Ask, Phrase.Of("Outside: {0}. Regulate", rate)),
            WearVerdict.OutsideFar => (Signal.Ask, Phrase.Of("Far outside: {0}. Look for the fault", rate)),
            WearVerdict.Stopped => (Signal.Ask, Phrase.Of("It stopped: back to diagnosis")),
            WearVerdict.Inconclusive when reading.Notices.Contains(WearNotice.ClockStepped) => (Signal.Ask, Phrase.Of("The service's clock jumped: no verdict")),
            WearVerdict.Inconclusive => (Signal.Ask, Phrase.Of("Too close to say: {0}. Leave it on", rate)),
            WearVerdict.Interim => (Signal.Ok, Phrase.Of("Interim after {0} h: {1}", new Figure((decimal)reading.Wear.TotalHours), rate)),
            WearVerdict.Unconfirmed => (Signal.Ask, Phrase.Of("{0}. Confirm when it began", rate)),
            WearVerdict.Void or WearVerdict.InvalidWindow => (Signal.Ask, Phrase.Of("The check is void")),
        };
    }

    public static (Signal Signal, Phrase Line) Read(StaticReading reading, Job job, ShopRules rules)
    {
        var isochronism = reading.Criteria.FirstOrDefault(one => one.Kind == CriterionKind.Isochronism)?.Figure;
        var upright = reading.Criteria.FirstOrDefault(one => one.Kind == CriterionKind.VerticalOneDay)?.Figure;
        var figures = (isochronism, upright) switch
        {
            ({ } by, { } degrees) => Phrase.Of("{0} s/d, {1}° upright", Figure.Signed(by), new Figure(degrees, "0")),
            ({ } by, null) => Phrase.Of("{0} s/d, no amplitude", Figure.Signed(by)),
            _ => Phrase.Of("no rate yet"),
        };
        return reading.Verdict switch
        {
            WearVerdict.Pass => (Signal.Ok, Phrase.Of("Passed: {0}", figures)),
            WearVerdict.Stopped => (Signal.Ask, Phrase.Of("It stopped: back to diagnosis")),
            WearVerdict.InvalidWindow => (Signal.Ask, Phrase.Of("Read after {0} h: no verdict; start it anew", new Figure((decimal)reading.Elapsed.TotalHours, "0.##"))),
            WearVerdict.Inconclusive => (Signal.Ask, Phrase.Of("Nothing to judge it by: {0}", figures)),
            WearVerdict.Interim when job.WearChecks.RunningStatic is { } still => (Signal.Ok, Window(still, rules)),
            WearVerdict.Interim => (Signal.Ok, Phrase.Of("no rate yet")),
            WearVerdict.Outside or WearVerdict.OutsideFar or WearVerdict.Unconfirmed or WearVerdict.Void => (Signal.Ask, Phrase.Of("Outside lying still: {0}", figures)),
        };
    }

    public static Phrase Window(StaticCheck still, ShopRules rules) =>
        Phrase.Of("Read it from {0} to {1}", still.Earliest.InZone(rules.Calendar.Zone), still.Latest.InZone(rules.Calendar.Zone));

    /// <summary>What is to be known about a reading besides its rate, a sentence each.</summary>
    public static IEnumerable<Phrase> More(Job job, EventId read)
    {
        if (job.WearChecks.StaticReadingOf(read) is { OutOfManner: true })
        {
            yield return Phrase.Of("The first set was not measured 15 to 60 minutes after winding.");
        }

        if (job.WearChecks.ReadingOf(read) is not { } reading)
        {
            yield break;
        }

        if (reading.SettledAfter is { } settled)
        {
            yield return Phrase.Of("After {0} h it would be settled.", new Figure((decimal)settled.TotalHours, "0"));
        }
        else if (reading is { Verdict: WearVerdict.Inconclusive } && !reading.Notices.Contains(WearNotice.ClockStepped))
        {
            yield return Phrase.Of("More wear would not settle it soon; read it more finely.");
        }

        foreach (var notice in reading.Notices)
        {
            yield return notice switch
            {
                WearNotice.ClockStepped => Phrase.Of("A fresh start settles it, or somebody who confirms when it began; a radio clock is judged as usual."),
                WearNotice.UnlikePrediction => Phrase.Of("{0} s/d from what the last set foretells: something happened in casing.", Figure.Signed(reading.UnlikePredictionSeconds ?? 0)),
                WearNotice.MidnightsDiffer => Phrase.Of("There were {0} midnights, not as many as told.", reading.Midnights ?? 0),
                _ => Phrase.Of("{0}.", notice),
            };
        }
    }
}
