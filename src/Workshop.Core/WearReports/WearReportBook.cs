using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.WearChecks;

namespace Workshop.Core.WearReports;

/// <summary>What a customer's report comes to. Silence is no report, and never "good".</summary>
public enum WearReportVerdict
{
    Within,

    /// <summary>An invitation, not by itself a claim.</summary>
    Outside,

    /// <summary>The figure was said too roughly to tell on which side of a limit it lies.</summary>
    Inconclusive,

    /// <summary>Fast or slow was not said.</summary>
    AskedBack,
    Stopped,

    /// <summary>Nothing was said that a rate could be computed from, or the watch had no window.</summary>
    NoFigure,
}

/// <summary>What a report is compared with, frozen when it is told.</summary>
public sealed record WearReportTerms
{
    /// <summary>The window of the worn check that the watch left the house by.</summary>
    public RateWindow? Window { get; init; }

    /// <summary>The rate predicted from the last bench set and the shop's wear profile, seconds gained per day.</summary>
    public decimal? PredictedPerDaySeconds { get; init; }

    /// <summary>Expanded uncertainty of one reading by eye, seconds.</summary>
    public required decimal ByEyeSeconds { get; init; }

    /// <summary>The last day on which the rate is put right free of charge.</summary>
    public LocalDate? FreeUntil { get; init; }

    /// <summary>Days below which a figure says little.</summary>
    public required int LeastDays { get; init; }
}

/// <summary>One report of a customer, judged.</summary>
/// <param name="RatePerDaySeconds">Unrounded; absent where amount, direction or days are.</param>
/// <param name="PlusMinusSeconds">Expanded uncertainty (k = 2), unrounded.</param>
/// <param name="Answer">What the shop answered; absent while nobody has.</param>
public sealed record WearReport(
    int Number, EventId Id, Instant At, WearReported Told, WearReportTerms Terms, decimal? RatePerDaySeconds, decimal? PlusMinusSeconds, WearReportVerdict Verdict, WearReportAnswered? Answer = null)
{
    /// <summary>Over so few days that it says little.</summary>
    public bool Early() => Told.OverDays < Terms.LeastDays;

    /// <summary>Reported less predicted, seconds per day.</summary>
    public decimal? AgainstPrediction() => RatePerDaySeconds - Terms.PredictedPerDaySeconds;

    /// <summary>The desk has something to say to the customer.</summary>
    public bool WantsAnswer() => Answer is null && Verdict is WearReportVerdict.Outside or WearReportVerdict.AskedBack or WearReportVerdict.Stopped;
}

/// <summary>Everything customers told of a watch after it left, in the order in which it was told.</summary>
public sealed record WearReportBook
{
    public ImmutableArray<WearReport> Reports { get; init; } = [];

    public WearReport? Find(int number) => Reports.FirstOrDefault(one => one.Number == number);

    /// <summary>A later report makes an earlier question pointless: the newest is the one that waits.</summary>
    public WearReport? Waiting() => Reports is [.., var newest] && newest.WantsAnswer() ? newest : null;

    public WearReportBook Apply(Entry entry) => entry.Event switch
    {
        WearReported told when entry.Judged.WearReport is { } terms => this with { Reports = Reports.Add(Judged(told, terms, entry)) },
        WearReportAnswered answered when Find(answered.Report) is { } report => this with { Reports = Reports.Replace(report, report with { Answer = answered }) },
        _ => this,
    };

    private static WearReport Judged(WearReported told, WearReportTerms terms, Entry entry)
    {
        decimal? rate = null, plusMinus = null;
        if (told is { Amount: { } amount, OverDays: { } days and > 0 } && (told.Direction is not null || amount == 0))
        {
            var unit = told.Unit ?? WearUnit.Seconds;
            rate = WearReportArithmetic.Rate(amount, unit, told.Direction ?? WearDirection.Gains, days);
            plusMinus = WearReportArithmetic.PlusMinus(unit, days, terms.ByEyeSeconds);
        }

        // The customer's words stand in the entry alone.
        return new WearReport(told.Report, entry.Id, entry.Effective, told with { Text = null }, terms, rate, plusMinus, WearReportArithmetic.Judge(told, rate, plusMinus, terms.Window));
    }
}
