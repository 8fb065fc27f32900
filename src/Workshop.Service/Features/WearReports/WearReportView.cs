using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;
using Workshop.Core.WearReports;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.WearReports;

/// <summary>What a customer told of their watch, and what it comes to; figures as they are shown, verdicts compare unrounded ones.</summary>
/// <param name="RatePerDaySeconds">Seconds gained per day, to the last digit of its uncertainty; absent where amount, direction or days were not said.</param>
/// <param name="PlusMinusSeconds">Expanded uncertainty (k = 2): how finely it was said.</param>
/// <param name="LowestPerDaySeconds">The limits the watch left the house by, bounds included.</param>
/// <param name="PredictedPerDaySeconds">From the last bench set and the shop's wear profile, to one decimal.</param>
/// <param name="FreeUntil">The last day on which the rate is put right free of charge.</param>
/// <param name="Early">Over so few days that it says little.</param>
/// <param name="WantsAnswer">It is outside, it stopped, or the direction is to be asked for, and nobody has answered.</param>
/// <param name="Text">The customer's own words, for who may see names.</param>
/// <param name="Words">In the caller's language.</param>
public sealed record WearReportView(
    int Number, EntryRef Event, LocalDate ReportedOn, decimal? Amount, WearUnit? Unit, WearDirection? Direction, decimal? OverDays, bool? Stopped, bool? DateRight, bool? WornByNight,
    Position? NightPosition, bool? Sport, bool? NearMagnets, ReportChannel? Channel, string? Text, decimal? RatePerDaySeconds, decimal? PlusMinusSeconds, decimal? LowestPerDaySeconds,
    decimal? HighestPerDaySeconds, decimal? PredictedPerDaySeconds, WearReportVerdict Verdict, bool Early, LocalDate? FreeUntil, bool WantsAnswer, ReportAnswer? Answer, string? AnswerNote,
    ImmutableArray<string> Words)
{
    public static WearReportView Of(WearReport report, IEnumerable<Entry> entries, LocalDate today, Caller caller, Language language)
    {
        var told = report.Told;
        return new WearReportView(
            report.Number, EntryRef.Of(report.Id), told.ReportedOn, told.Amount, told.Unit, told.Direction, told.OverDays, told.Stopped, told.DateRight, told.WornByNight,
            told.NightPosition, told.Sport, told.NearMagnets, told.Channel, caller.MaySee(Sight.Names) ? TextOf(report, entries) : null,
            report is { RatePerDaySeconds: { } rate, PlusMinusSeconds: { } uncertainty } ? WearArithmetic.PrintedRate(rate, uncertainty) : null,
            report.PlusMinusSeconds is { } plusMinus ? WearArithmetic.PrintedPlusMinus(plusMinus) : null,
            report.Terms.Window?.Lowest, report.Terms.Window?.Highest,
            report.Terms.PredictedPerDaySeconds is { } predicted ? Math.Round(predicted, 1, MidpointRounding.AwayFromZero) : null,
            report.Verdict, report.Early(), report.Terms.FreeUntil, report.WantsAnswer(), report.Answer?.Answer, report.Answer?.Note,
            [.. WearReportSentences.Of(report, today).Select(words => words.In(language))]);
    }

    private static string? TextOf(WearReport report, IEnumerable<Entry> entries) =>
        entries.FirstOrDefault(entry => entry.Id == report.Id)?.Event is WearReported { Text: var text } ? text : null;
}

/// <summary>Everything customers told of a watch, the first report first. No report is no answer, and never "good".</summary>
public sealed record WearReportsView(Core.Labels.Label Job, ImmutableArray<WearReportView> Items);
