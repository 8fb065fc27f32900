using CsCheck;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Holds;
using Workshop.Core.Promises;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.Core.Promises;

/// <summary>Forecast and risk. Dates worked by hand on a calendar of Monday to Friday; common practice.</summary>
public class PromiseForecastTests
{
    [Theory]
    [InlineData(0, "2026-06-05")]
    [InlineData(1, "2026-06-08")]
    [InlineData(2, "2026-06-09")]
    public void What_is_left_takes_the_coming_open_days(int workingDays, string expected) =>
        Assert.Equal(Date(expected), Forecast(MondayToFriday(), workingDays).On(Date("2026-06-05")));

    // Wednesday 3 June, one day at the bench: Thursday. A day of wear: Friday. Two of reserve: Sunday, so Monday.
    [Fact]
    public void Waits_are_elapsed_days_and_end_on_an_open_day() =>
        Assert.Equal(Date("2026-06-08"), Forecast(MondayToFriday(), 1, 1, 2).On(Date("2026-06-03")));

    [Fact]
    public void Nothing_goes_on_before_a_hold_is_looked_at_again() =>
        Assert.Equal(Date("2026-06-16"), (Forecast(MondayToFriday(), 1) with { NotBefore = Date("2026-06-15") }).On(Date("2026-06-03")));

    [Fact]
    public void The_latest_start_is_the_last_day_from_which_the_forecast_keeps_the_date() =>
        Gen.Select(Any, AnyDate, Gen.Int[0, 12], Gen.Int[1, 4].Array[0, 3]).Sample((shop, by, days, waits) =>
        {
            var forecast = Forecast(shop, days, waits);
            var latest = forecast.LatestStart(by);
            return forecast.On(latest) <= by && forecast.On(latest.PlusDays(1)) > by;
        });

    [Fact]
    public void A_job_knows_its_bench_minutes_its_wear_and_its_reserve()
    {
        var story = Approved();
        var forecast = PromiseForecast.Of(story.Job, story.Rules)!;

        Assert.Equal(story.Job.Standings.Required.Where(one => !story.Job.Standings.Stands(one.Stage)).Sum(one => one.Minutes ?? 0), forecast.BenchMinutes);
        Assert.Equal((forecast.BenchMinutes + 149) / 150, forecast.WorkingDays);
        Assert.Equal([1, 2], forecast.Waits.ToArray());
    }

    [Fact]
    public void A_check_on_the_wrist_is_a_day_to_wait_for()
    {
        var story = new Story().Through(Stage.Casing).Does(Story.WaterTest()).Does(Story.WearStart());
        var forecast = PromiseForecast.Of(story.Job, story.Rules)!;

        Assert.Equal([2], forecast.Waits.ToArray());
        Assert.Equal(story.Rules.Calendar.DateOf(story.Job.WearChecks.Running!.Due!.Value), forecast.NotBefore);
    }

    [Fact]
    public void A_job_is_at_risk_from_the_moment_the_agenda_names()
    {
        var story = Approved();
        var row = Row(story);

        Assert.Equal("2026-01-12", row.Ref);
        Assert.Equal((AgendaLevel.Manager, row.Due), (row.Level, row.Wake));
        Assert.Null(PromiseRisk.Of(story.Job, story.Rules, row.Due!.Value - Duration.FromSeconds(1)));
        var risk = PromiseRisk.Of(story.Job, story.Rules, row.Due!.Value)!;
        Assert.Equal(PromiseRiskReason.WorkLeft, risk.Why);
        Assert.True(risk.Days >= 1 && risk.Forecast > story.Job.Promise.On, risk.ToString());
    }

    [Fact]
    public void It_is_said_once_for_a_promised_day_however_often_the_moment_moves()
    {
        var story = Approved();
        story.At(Row(story).Due!.Value).Does(new DueAnnounced { Kind = AgendaKind.PromiseAtRisk, Ref = Row(story).Ref, Level = AgendaLevel.Manager, Due = Row(story).Due!.Value });
        var before = Row(story).Due;
        Assert.Null(Row(story).Wake);

        story.Finish(Stage.Takedown).Finish(Stage.Cleaning).Finish(Stage.Inspection).Finish(Stage.Rebuild);
        Assert.True(Row(story).Due > before);
        Assert.Null(Row(story).Wake);

        story.DeskDoes(PromiseArithmetic.MovedByPerson(story.Job.Promise, story.Job.Promise.On!.Value, new(2026, 2, 3), PromiseReason.Part, null, story.Now, 4, story.Rules.Calendar));
        Assert.NotNull(Row(story).Wake);
    }

    [Fact]
    public void A_hold_to_be_looked_at_too_late_puts_the_promise_at_risk_at_once_and_is_the_reason()
    {
        var story = Approved().At(2025, 12, 16, 10).DeskDoes(new HoldPlaced { Hold = HoldReason.Parts, Until = new(2026, 1, 12) });

        Assert.Equal(story.Now, Row(story).Due);
        var risk = PromiseRisk.Of(story.Job, story.Rules, story.Now)!;
        Assert.Equal(PromiseRiskReason.Part, risk.Why);
        Assert.Contains("es wartet auf ein Teil", risk.Words.In(Language.German), StringComparison.Ordinal);
    }

    [Fact]
    public void A_closure_added_later_moves_the_forecast_and_not_the_promise()
    {
        var story = Approved();
        var closed = TestShop.With(closures: [new Closure(new LocalDate(2025, 12, 17), new LocalDate(2026, 1, 11))]);

        Assert.Null(PromiseRisk.Of(story.Job, story.Rules, story.Now));
        Assert.NotNull(PromiseRisk.Of(story.Job, closed, story.Now));
        Assert.Equal(new LocalDate(2026, 1, 12), story.Job.Promise.On);
    }

    private static PromiseForecast Forecast(ShopCalendar calendar, int workingDays, params int[] waits) =>
        new() { Calendar = calendar, BenchMinutes = 0, WorkingDays = workingDays, Waits = [.. waits] };

    private static AgendaRow Row(Story story) => Assert.Single(story.Agenda(), row => row.Kind == AgendaKind.PromiseAtRisk);

    // 15 December 2025 and twenty open days, no public holidays: 12 January 2026.
    private static Story Approved()
    {
        var story = new Story(begins: TestShop.Local(2025, 12, 12, 9)).Through(Stage.Diagnosis).At(2025, 12, 15, 11);
        return story.DeskDoes(story.Quote()).DeskDoes(Story.Answer());
    }
}
