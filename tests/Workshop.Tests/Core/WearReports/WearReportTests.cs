using CsCheck;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Route;
using Workshop.Core.WearChecks;
using Workshop.Core.WearReports;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.WearReports;

public class WearReportTests
{
    private static readonly RateWindow Window = new(-4, 10);

    // Two minutes a week, said in whole minutes: U = 60/√3/7 = 4.9 s/d (rectangle, JCGM 100:2008, 4.3.7, from memory).
    [Fact]
    public void Two_minutes_a_week_are_about_17_seconds_a_day_give_or_take_5()
    {
        var rate = WearReportArithmetic.Rate(2, WearUnit.Minutes, WearDirection.Gains, 7);
        var plusMinus = WearReportArithmetic.PlusMinus(WearUnit.Minutes, 7, byEyeSeconds: 1);

        Assert.Equal(17.142857m, Math.Round(rate, 6));
        Assert.Equal(4.948717m, Math.Round(plusMinus, 6));
        Assert.Equal((17m, 5m), (WearArithmetic.PrintedRate(rate, plusMinus), WearArithmetic.PrintedPlusMinus(plusMinus)));
    }

    [Fact]
    public void Seconds_said_by_a_person_are_no_better_than_two_readings_by_eye() =>
        Assert.Equal(0.202031m, Math.Round(WearReportArithmetic.PlusMinus(WearUnit.Seconds, 7, byEyeSeconds: 1), 6));

    [Theory]
    [InlineData(60, WearUnit.Seconds, WearDirection.Gains, 7, WearReportVerdict.Within)]
    [InlineData(60, WearUnit.Seconds, WearDirection.Loses, 7, WearReportVerdict.Outside)]
    [InlineData(1, WearUnit.Minutes, WearDirection.Gains, 7, WearReportVerdict.Inconclusive)]
    [InlineData(2, WearUnit.Minutes, WearDirection.Gains, 7, WearReportVerdict.Outside)]
    [InlineData(2, WearUnit.Minutes, null, 7, WearReportVerdict.AskedBack)]
    [InlineData(0, WearUnit.Seconds, null, 7, WearReportVerdict.Within)]
    public void A_report_is_judged_by_what_it_says_and_never_by_a_guess(double amount, WearUnit unit, WearDirection? direction, double days, WearReportVerdict verdict) =>
        Assert.Equal(verdict, Reported(new WearReported { Report = 1, ReportedOn = default, Amount = (decimal)amount, Unit = unit, Direction = direction, OverDays = (decimal)days }).Verdict);

    [Fact]
    public void A_watch_that_stopped_has_no_rate()
    {
        var report = Reported(new WearReported { Report = 1, ReportedOn = default, Stopped = true });

        Assert.Equal((WearReportVerdict.Stopped, null, true), (report.Verdict, report.RatePerDaySeconds, report.WantsAnswer()));
    }

    [Fact]
    public void Words_alone_are_kept_and_no_figure_is_made_of_them()
    {
        var report = Reported(new WearReported { Report = 1, ReportedOn = default, Text = "runs well" });

        Assert.Equal((WearReportVerdict.NoFigure, null), (report.Verdict, report.RatePerDaySeconds));
        Assert.False(report.WantsAnswer());
    }

    [Fact]
    public void What_gains_more_than_a_watch_that_is_outside_is_outside_too()
    {
        (from days in Gen.Int[1, 60] from less in Gen.Int[0, 2_000] from more in Gen.Int[0, 2_000] select (days, less, more)).Sample(one =>
        {
            var (few, many) = (Judged(Math.Min(one.less, one.more), one.days), Judged(Math.Max(one.less, one.more), one.days));
            Assert.True(few != WearReportVerdict.Outside || many == WearReportVerdict.Outside, $"{one}: {few}, then {many}");
        });
    }

    [Fact]
    public void Outside_the_limits_the_desk_is_to_invite_the_customer_until_it_has_answered()
    {
        var story = Left().DeskDoes(Gained(2, WearUnit.Minutes, WearDirection.Gains));
        var row = Assert.Single(AgendaPlan.For(story.Job, story.Rules), one => one.Kind == AgendaKind.WearReport);

        Assert.Equal("+17 ± 5 s/d on the wrist: invite the customer", row.Line);
        Assert.Equal(story.Job.Warranty.HandedOverOn!.Value.PlusDays(90), story.Job.WearReports.Reports[0].Terms.FreeUntil);

        story.DeskDoes(new WearReportAnswered { Report = 1, Answer = ReportAnswer.Invited });
        Assert.DoesNotContain(AgendaPlan.For(story.Job, story.Rules), one => one.Kind == AgendaKind.WearReport);
    }

    [Fact]
    public void A_direction_that_was_not_said_is_asked_for_until_a_newer_report_says_it()
    {
        var story = Left().DeskDoes(Gained(2, WearUnit.Minutes, null));
        Assert.Equal("Ask the customer: fast or slow?", Assert.Single(AgendaPlan.For(story.Job, story.Rules), one => one.Kind == AgendaKind.WearReport).Line);

        story.DeskDoes(Gained(20, WearUnit.Seconds, WearDirection.Gains) with { Report = 2 });
        Assert.DoesNotContain(AgendaPlan.For(story.Job, story.Rules), one => one.Kind == AgendaKind.WearReport);
    }

    [Fact]
    public void Nobody_asked_and_nobody_told_is_nothing_at_all() => Assert.Empty(Left().Job.WearReports.Reports);

    [Fact]
    public void The_prediction_of_the_bench_is_said_beside_what_the_wrist_did()
    {
        var report = Reported(Gained(60, WearUnit.Seconds, WearDirection.Gains), new WearReportTerms { Window = Window, PredictedPerDaySeconds = 3.5m, ByEyeSeconds = 1, LeastDays = 7 });

        Assert.Equal(5.071429m, Math.Round(report.AgainstPrediction()!.Value, 6));
        Assert.Contains("The bench predicted +3.5 s/d: +5.1 s/d from it.", WearReportSentences.Of(report, default).Select(words => words.In(Language.English)));
    }

    private static WearReportVerdict Judged(int seconds, int days) =>
        Reported(new WearReported { Report = 1, ReportedOn = default, Amount = seconds, Unit = WearUnit.Seconds, Direction = WearDirection.Gains, OverDays = days }).Verdict;

    private static WearReported Gained(decimal amount, WearUnit unit, WearDirection? direction) =>
        new() { Report = 1, ReportedOn = new LocalDate(2025, 3, 24), Amount = amount, Unit = unit, Direction = direction, OverDays = 7 };

    private static WearReport Reported(WearReported told, WearReportTerms? terms = null)
    {
        var entry = Left().DeskDoes(told).Entries[^1];
        terms ??= new WearReportTerms { Window = Window, ByEyeSeconds = 1, LeastDays = 7 };
        return new WearReportBook().Apply(entry with { Judged = entry.Judged with { WearReport = terms } }).Reports.Single();
    }

    private static Story Left()
    {
        var story = new Story(begins: TestShop.Local(2025, 3, 3, 9)).Through(Stage.Ready).At(2025, 3, 14, 11);
        return story.DeskDoes(story.HandedOver()).At(2025, 3, 24, 10);
    }
}
