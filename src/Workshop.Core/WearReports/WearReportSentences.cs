using NodaTime;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Core.WearReports;

/// <summary>Reports of customers in sentences.</summary>
public static class WearReportSentences
{
    /// <summary>What the desk is to do about it.</summary>
    public static Phrase Wants(WearReport report) => report.Verdict switch
    {
        WearReportVerdict.AskedBack => Phrase.Of("Ask the customer: fast or slow?"),
        WearReportVerdict.Stopped => Phrase.Of("It stopped on the wrist: ask the customer to bring it"),
        _ => Phrase.Of("{0} s/d on the wrist: invite the customer", RateOf(report)),
    };

    /// <summary>What a report says, what it is compared with, and what it wants.</summary>
    public static IEnumerable<Phrase> Of(WearReport report, LocalDate today)
    {
        if (report is { RatePerDaySeconds: not null, Told.OverDays: { } days })
        {
            yield return Phrase.Of("About {0} s/d, over {1} days.", RateOf(report), new Figure(days, "0.#"));
        }

        yield return report.Verdict switch
        {
            WearReportVerdict.Within => Phrase.Of("Within the limits it left the house by: {0} to {1} s/d.", Figure.Signed(report.Terms.Window!.Value.Lowest), Figure.Signed(report.Terms.Window!.Value.Highest)),
            WearReportVerdict.Outside => Phrase.Of("Outside the limits it left the house by: {0} to {1} s/d. An invitation, not by itself a claim.", Figure.Signed(report.Terms.Window!.Value.Lowest), Figure.Signed(report.Terms.Window!.Value.Highest)),
            WearReportVerdict.Inconclusive => Phrase.Of("Said too roughly to tell: a reading in seconds over a week would."),
            WearReportVerdict.AskedBack => Phrase.Of("Fast or slow was not said: ask. Nothing is computed until then."),
            WearReportVerdict.Stopped => Phrase.Of("It stopped: no rate is computed."),
            _ => Phrase.Of("No rate can be computed from it."),
        };

        if (report.Early())
        {
            yield return Phrase.Of("Over fewer than {0} days a figure says little.", report.Terms.LeastDays);
        }

        if (report is { RatePerDaySeconds: not null, Terms.PredictedPerDaySeconds: { } predicted } && report.AgainstPrediction() is { } difference)
        {
            yield return Phrase.Of("The bench predicted {0} s/d: {1} s/d from it.", Figure.Signed(predicted), Figure.Signed(difference));
        }

        if (report.Verdict == WearReportVerdict.Outside && report.Terms.FreeUntil is { } until)
        {
            yield return today <= until ? Phrase.Of("Adjusting it is free until {0}.", until) : Phrase.Of("The time for a free adjustment ended on {0}.", until);
        }
    }

    private static Phrase RateOf(WearReport report) => report is { RatePerDaySeconds: { } rate, PlusMinusSeconds: { } plusMinus }
        ? Phrase.Of("{0} ± {1}", new Figure(WearArithmetic.PrintedRate(rate, plusMinus), "+0.####;-0.####;0"), new Figure(WearArithmetic.PrintedPlusMinus(plusMinus), "0.####"))
        : Phrase.Of("no rate");
}
