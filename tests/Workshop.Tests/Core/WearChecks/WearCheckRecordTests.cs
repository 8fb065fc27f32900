using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Waivers;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core.WearChecks;

public class WearCheckRecordTests
{
    private static readonly WearCheckPaused Pause = new() { Kind = WearCheckKind.Worn, Reason = "photographed" };
    private static readonly WearCheckResumed Resume = new() { Kind = WearCheckKind.Worn, Place = WearPlace.Winder };

    // The example of the trade book of this workshop; computed by the definition of the rate.
    [Fact]
    public void A_reading_after_39_hours_and_three_quarters_divides_by_the_true_time()
    {
        var story = Worn().At(2025, 3, 11, 17, 30).Does(Story.WearStart(-1)).At(2025, 3, 13, 9, 15).Does(Story.WearRead(12));
        var reading = Last(story);

        Assert.Equal(Duration.FromHours(39.75), reading.Elapsed);
        Assert.Equal(WearVerdict.Pass, reading.Verdict);
        Assert.Equal((7.8m, 0.9m), Printed(reading));
        Assert.Equal(StageState.Done, story[Stage.WearCheck]);
    }

    [Fact]
    public void A_reading_under_22_hours_of_wear_is_interim_and_the_check_runs_on()
    {
        var story = Running().After(Duration.FromHours(6)).Does(Story.WearRead(1));
        Assert.Equal(WearVerdict.Interim, Last(story).Verdict);
        Assert.Equal(4m, Last(story).RatePerDaySeconds);

        story.After(Duration.FromHours(16) - Duration.FromSeconds(1)).Does(Story.WearRead(3));
        Assert.Equal(WearVerdict.Interim, Last(story).Verdict);
        Assert.Equal(StageState.Running, story[Stage.WearCheck]);

        story.After(Duration.FromSeconds(1)).Does(Story.WearRead(3));
        Assert.Equal(WearVerdict.Pass, Last(story).Verdict);
    }

    [Fact]
    public void A_reading_called_interim_stays_so_whatever_the_wear()
    {
        var story = Running().After(Duration.FromHours(30)).Does(Story.WearRead(3) with { Interim = true });

        Assert.Equal(WearVerdict.Interim, Last(story).Verdict);
        Assert.NotNull(story.Job.WearChecks.Running);
    }

    [Theory]
    [InlineData(7.9, WearVerdict.Pass)]
    [InlineData(9.0, WearVerdict.Inconclusive)]
    [InlineData(10.0, WearVerdict.Inconclusive)]
    [InlineData(11.0, WearVerdict.Inconclusive)]
    [InlineData(12.0, WearVerdict.Outside)]
    [InlineData(17.0, WearVerdict.Outside)]
    [InlineData(17.1, WearVerdict.OutsideFar)]
    [InlineData(-2.0, WearVerdict.Pass)]
    [InlineData(-3.0, WearVerdict.Inconclusive)]
    [InlineData(-11.0, WearVerdict.Outside)]
    [InlineData(-11.1, WearVerdict.OutsideFar)]
    public void A_day_of_wear_is_judged_by_the_window_of_its_kind_and_twice_the_window(double offset, WearVerdict verdict)
    {
        var story = Running().After(Duration.FromHours(24)).Does(Story.WearRead((decimal)offset));

        Assert.Equal(verdict, Last(story).Verdict);
    }

    [Fact]
    public void The_bounds_of_a_window_belong_to_it()
    {
        var story = Running(Story.WearStart() with { ReadBy = ReadBy.Display, StepSeconds = 0 }).After(Duration.FromHours(24));
        story.Does(Story.WearRead(10) with { ReadBy = ReadBy.Display, StepSeconds = 0 });

        Assert.Equal(WearVerdict.Pass, Last(story).Verdict);
    }

    [Fact]
    public void A_chronograph_may_gain_two_seconds_more()
    {
        var story = new Story(TestShop.FullChronograph).Through(Stage.WaterTest).Does(Story.WearStart()).After(Duration.FromHours(48)).Does(Story.WearRead(21));

        Assert.Equal((WearVerdict.Pass, 10.5m), (Last(story).Verdict, Last(story).RatePerDaySeconds!.Value));
    }

    [Fact]
    public void A_reading_that_settles_nothing_runs_on_and_says_when_it_would_be_settled()
    {
        // 9 s/d with ±√2 s over one day: one second from the limit, so √2 days settle it.
        var story = Running().After(Duration.FromHours(24)).Does(Story.WearRead(9));
        Assert.Equal(Math.Sqrt(2) * 24, Last(story).SettledAfter!.Value.TotalHours, 6);
        Assert.Equal(StageState.Running, story[Stage.WearCheck]);
        Assert.Equal(0, story.Job.WearChecks.TotalFails);

        story.After(Duration.FromHours(10)).Does(Story.WearRead(9m / 24 * 34));
        Assert.Equal(WearVerdict.Pass, Last(story).Verdict);
    }

    [Fact]
    public void Beyond_three_days_the_rate_is_flagged_as_a_mean_of_days()
    {
        var story = Running().After(Duration.FromHours(72)).Does(Story.WearRead(9));
        Assert.False(Last(story).MeanOfDays);

        story = Running().After(Duration.FromHours(72) + Duration.FromMinutes(1)).Does(Story.WearRead(9));
        Assert.True(Last(story).MeanOfDays);
        Assert.Equal(WearVerdict.Pass, Last(story).Verdict);
    }

    // Pauses: the watch runs on in a drawer but does not wear.

    [Fact]
    public void A_pause_moves_the_due_moment_and_not_the_rate()
    {
        var story = Running();
        var start = story.Now;
        Assert.Equal(start + Duration.FromHours(24), Check(story).Due);

        story.After(Duration.FromHours(5)).Does(Pause);
        Assert.Null(Check(story).Due);
        Assert.Equal(story.Now, Check(story).PausedSince);
        story.After(Duration.FromHours(8)).Does(Resume);
        Assert.Equal(start + Duration.FromHours(32), Check(story).Due);

        story.At(start + Duration.FromHours(32)).Does(Story.WearRead(4));
        Assert.Equal((Duration.FromHours(32), Duration.FromHours(24)), (Last(story).Elapsed, Last(story).Wear));
        Assert.Equal(3m, Last(story).RatePerDaySeconds);
    }

    [Fact]
    public void Two_pauses_add_up()
    {
        var story = Running();
        var start = story.Now;
        story.After(Duration.FromHours(1)).Does(Pause).After(Duration.FromHours(2)).Does(Resume).After(Duration.FromHours(1)).Does(Pause).After(Duration.FromHours(3)).Does(Resume);

        Assert.Equal(start + Duration.FromHours(29), Check(story).Due);
    }

    [Fact]
    public void A_reading_while_paused_ends_the_pause()
    {
        var story = Running().After(Duration.FromHours(5)).Does(Pause).After(Duration.FromHours(2)).Does(Story.WearRead(1));

        Assert.Null(Check(story).PausedSince);
        Assert.Equal(Check(story).StartedAt + Duration.FromHours(26), Check(story).Due);
    }

    [Fact]
    public void A_pause_within_a_pause_and_a_second_return_say_nothing()
    {
        var story = Running().After(Duration.FromHours(1)).Does(Pause).After(Duration.FromHours(1)).Does(Pause).After(Duration.FromHours(1)).Does(Resume).Does(Resume);

        Assert.Equal(Duration.FromHours(2), Assert.Single(Check(story).Pauses).Until - Check(story).Pauses[0].From);
    }

    [Fact]
    public void A_pause_of_eight_hours_told_after_the_pass_makes_the_reading_interim_and_the_final_control_groundless()
    {
        var story = Running();
        var start = story.Now;
        story.At(start + Duration.FromHours(25)).Does(Story.WearRead(3)).After(Duration.FromMinutes(5)).Finish(Stage.ReserveAndFunctions)
            .After(Duration.FromMinutes(5)).Does(story.AllChecksOk, TestShop.Jonas).After(Duration.FromHours(1));
        Assert.Equal(StageState.Done, story[Stage.FinalControl]);

        story.Does(Pause, at: start + Duration.FromHours(10), source: "/devices/bench-2/1").Does(Resume, at: start + Duration.FromHours(18), source: "/devices/bench-2/1");

        Assert.Equal((WearVerdict.Interim, Duration.FromHours(17)), (Last(story).Verdict, Last(story).Wear));
        Assert.Equal(StageState.Running, story[Stage.WearCheck]);
        Assert.Equal(StageState.GroundLost, story[Stage.FinalControl]);
        Assert.Equal(Stage.FinalControl, Assert.Single(story.Job.Standings.GroundLost).Stage);
        Assert.Equal(start + Duration.FromHours(32), Check(story).Due);
    }

    [Fact]
    public void A_short_pause_told_late_leaves_the_pass_standing()
    {
        var story = Running();
        var start = story.Now;
        story.At(start + Duration.FromHours(25)).Does(Story.WearRead(3)).After(Duration.FromHours(1));
        story.Does(Pause, at: start + Duration.FromHours(10)).Does(Resume, at: start + Duration.FromHours(12));

        Assert.Equal((WearVerdict.Pass, Duration.FromHours(23)), (Last(story).Verdict, Last(story).Wear));
        Assert.Equal(StageState.Done, story[Stage.WearCheck]);
    }

    // What is owed.

    [Fact]
    public void A_first_check_owes_a_day_and_passes_with_22_hours()
    {
        var terms = Check(Running()).Terms;

        Assert.Equal((Duration.FromHours(24), Duration.FromHours(22)), (terms.Owed, terms.ForAPass));
        Assert.Equal(new RateWindow(-4, 10), terms.Window);
    }

    [Fact]
    public void After_a_fail_a_full_new_day_is_owed()
    {
        var story = FailedOnce().Through(Stage.WaterTest).Does(Story.WearStart());
        Assert.Equal((Duration.FromHours(24), Duration.FromHours(24)), (Check(story).Terms.Owed, Check(story).Terms.ForAPass));

        story.After(Duration.FromHours(23)).Does(Story.WearRead(3));
        Assert.Equal(WearVerdict.Interim, Last(story).Verdict);
        story.After(Duration.FromHours(1)).Does(Story.WearRead(3));
        Assert.Equal(WearVerdict.Pass, Last(story).Verdict);
    }

    [Fact]
    public void A_full_day_is_owed_after_a_fail_also_when_the_movement_was_rebuilt()
    {
        var story = FailedOnce(Stage.Rebuild).Through(Stage.WaterTest).Does(Story.WearStart());

        Assert.Equal(Duration.FromHours(24), Check(story).Terms.ForAPass);
    }

    [Theory]
    [InlineData(Stage.Diagnosis)]
    [InlineData(Stage.Rebuild)]
    public void After_a_stop_two_days_are_owed_whatever_was_done_in_between(Stage back)
    {
        var story = Running().After(Duration.FromHours(20)).Does(Story.FoundStopped).SendBack(Stage.WearCheck, Stage.Diagnosis);
        if (back != Stage.Diagnosis)
        {
            story.SendBack(Stage.WearCheck, back);
        }

        story.Through(Stage.WaterTest).Does(Story.WearStart());
        Assert.Equal((Duration.FromHours(48), Duration.FromHours(48)), (Check(story).Terms.Owed, Check(story).Terms.ForAPass));

        story.After(Duration.FromHours(47)).Does(Story.WearRead(6));
        Assert.Equal(WearVerdict.Interim, Last(story).Verdict);
        story.After(Duration.FromHours(1)).Does(Story.WearRead(6));
        Assert.Equal(WearVerdict.Pass, Last(story).Verdict);

        // With the pass all is forgotten.
        story.Does(Story.WearStart());
        Assert.Equal(Duration.FromHours(22), Check(story).Terms.ForAPass);
    }

    [Theory]
    [InlineData(48, 46)]
    [InlineData(168, 166)]
    [InlineData(12, 22)]
    public void A_bench_may_ask_for_more_wear_and_never_for_less(int asked, int forAPass)
    {
        var story = Running(Story.WearStart() with { Owed = Duration.FromHours(asked) });

        Assert.Equal((Duration.FromHours(Math.Max(24, asked)), Duration.FromHours(forAPass)), (Check(story).Terms.Owed, Check(story).Terms.ForAPass));
    }

    [Theory]
    [InlineData(-1, true)]
    [InlineData(30, true)]
    [InlineData(24, false)]
    [InlineData(48, false)]
    [InlineData(168, false)]
    public void Wear_is_asked_for_by_the_day_two_days_or_the_week(int hours, bool fault) =>
        Assert.Equal(fault, EventFaults.Of(Story.WearStart() with { Owed = Duration.FromHours(hours) }).Any());

    [Fact]
    public void Terms_are_frozen_at_the_start()
    {
        var story = Running();
        story.Rules = TestShop.With([TestShop.FullAutomatic with { WornRate = new RateWindow(-1, 1) }]);
        story.After(Duration.FromHours(24)).Does(Story.WearRead(6));

        Assert.Equal(WearVerdict.Pass, Last(story).Verdict);
    }

    // Stopped.

    [Fact]
    public void A_stopped_watch_fails_without_a_rate()
    {
        var story = Running().After(Duration.FromHours(3)).Does(Story.FoundStopped);

        Assert.Equal(WearVerdict.Stopped, Last(story).Verdict);
        Assert.Null(Last(story).RatePerDaySeconds);
        Assert.Equal(StageState.Failed, story[Stage.WearCheck]);
        Assert.Equal(StageState.Done, story[Stage.Diagnosis]);
    }

    [Fact]
    public void A_stop_with_an_offset_and_a_reading_without_either_are_faults()
    {
        Assert.Equal("/offsetSeconds", Assert.Single(EventFaults.Of(Story.FoundStopped with { OffsetSeconds = 3 })).Pointer);
        Assert.Equal("/offsetSeconds", Assert.Single(EventFaults.Of(new WearCheckRead { Kind = WearCheckKind.Worn })).Pointer);
        Assert.Empty(EventFaults.Of(Story.FoundStopped));
        Assert.Empty(EventFaults.Of(Story.WearRead(0)));
    }

    [Fact]
    public void After_a_stop_the_cause_is_written_before_the_next_start()
    {
        var story = Running().After(Duration.FromHours(3)).Does(Story.FoundStopped);
        Assert.Equal(("cause-written", Strength.Stop), Of(story.RefusedBy(Story.WearStart(), despite: ["cause-written"])));

        // Saying again what was said before the stop is no cause.
        story.After(Duration.FromMinutes(5)).Finish(Stage.Diagnosis);
        Assert.Equal("cause-written", story.RefusedBy(Story.WearStart()).Gate);

        story.SendBack(Stage.WearCheck, Stage.Diagnosis).After(Duration.FromMinutes(5)).Finish(Stage.Diagnosis).Does(Story.WearStart());
    }

    [Fact]
    public void A_manager_may_let_a_watch_start_again_without_a_cause()
    {
        var story = Running().After(Duration.FromHours(3)).Does(Story.FoundStopped);
        story.Does(new WaiverGiven { Gate = "cause-written", Reason = "crown was pulled" }, TestShop.Manager).Does(Story.WearStart());

        Assert.NotNull(story.Job.WearChecks.Running);
    }

    [Theory]
    [InlineData(30, true)]
    [InlineData(-30, true)]
    [InlineData(14, false)]
    public void Regulating_over_a_fault_is_asked(int offset, bool asked)
    {
        var story = Running().After(Duration.FromHours(24)).Does(Story.WearRead(offset));
        var back = new StageSentBack { Stage = Stage.WearCheck, To = Stage.Regulation, Reason = "outside" };

        Assert.Equal(asked ? ["no-regulation-over-a-fault"] : [], story.Says(back).Against.Select(gate => gate.Gate));
        story.SendBack(Stage.WearCheck, Stage.Rebuild).Finish(Stage.Rebuild).Start(Stage.Regulation);
    }

    [Fact]
    public void Regulating_over_a_stop_is_asked_and_may_be_tapped_through()
    {
        var story = Running().After(Duration.FromHours(24)).Does(Story.FoundStopped);
        var back = new StageSentBack { Stage = Stage.WearCheck, To = Stage.Regulation, Reason = "?" };
        Assert.Equal(("no-regulation-over-a-fault", Strength.Ask), Of(story.RefusedBy(back)));

        story.Does(back, despite: ["no-regulation-over-a-fault"]);
        Assert.Equal("no-regulation-over-a-fault", story.RefusedBy(new StageStarted { Stage = Stage.Regulation }).Gate);
    }

    // 24 hours are 24 hours.

    [Fact]
    public void A_check_is_due_after_24_hours_even_when_the_clocks_change()
    {
        var autumn = Worn().At(2025, 10, 25, 16).Does(Story.WearStart());
        Assert.Equal(TestShop.Local(2025, 10, 26, 15), Check(autumn).Due);

        var spring = Worn().At(2026, 3, 28, 16).Does(Story.WearStart());
        Assert.Equal(TestShop.Local(2026, 3, 29, 17), Check(spring).Due);
    }

    // Closed and tested on the days of the example, which lie before the story's own.
    private static Story Worn() => new Story(begins: TestShop.Local(2025, 3, 3, 9)).Through(Stage.WaterTest);

    private static Story Running(WearCheckStarted? start = null) => new Story().Through(Stage.WaterTest).Does(start ?? Story.WearStart());

    private static Story FailedOnce(Stage back = Stage.Regulation) => Running().After(Duration.FromHours(24)).Does(Story.WearRead(14)).SendBack(Stage.WearCheck, back);

    private static WearCheck Check(Story story) => story.Job.WearChecks.Checks[^1];

    private static WearReading Last(Story story) => Check(story).Readings[^1];

    private static (decimal Rate, decimal PlusMinus) Printed(WearReading reading) =>
        (WearArithmetic.PrintedRate(reading.RatePerDaySeconds!.Value, reading.PlusMinusSeconds!.Value), WearArithmetic.PrintedPlusMinus(reading.PlusMinusSeconds.Value));

    private static (string Gate, Strength Strength) Of(Objection one) => (one.Gate, one.Strength);
}
