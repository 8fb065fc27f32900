using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core.Route;

public class StandingsTests
{
    [Fact]
    public void A_stage_told_as_done_without_a_start_was_begun_in_the_same_moment()
    {
        var story = new Story().Finish(Stage.Diagnosis);

        Assert.Equal(StageState.Done, story[Stage.Diagnosis]);
        Assert.Equal([TestShop.Mara], story.Job.Standings.Of(Stage.Diagnosis).Hands);
        Assert.Equal(story.Now, story.Job.Standings.Of(Stage.Diagnosis).Since);
    }

    [Fact]
    public void A_stage_runs_until_it_is_told_done_and_says_who_is_at_it()
    {
        var story = new Story().Start(Stage.Diagnosis);
        Assert.Equal(StageState.Running, story[Stage.Diagnosis]);
        Assert.Equal([TestShop.Mara], story.Job.Standings.Of(Stage.Diagnosis).At);

        story.Finish(Stage.Diagnosis);
        Assert.Empty(story.Job.Standings.Of(Stage.Diagnosis).At);
    }

    [Theory]
    [InlineData(Stage.Takedown)]
    [InlineData(Stage.CaseStrip)]
    public void The_first_work_on_movement_or_case_reaches_the_queue(Stage first)
    {
        var story = new Story().Through(Stage.Quote);
        Assert.Equal(StageState.Open, story[Stage.Queue]);
        Assert.Equal(Stage.Queue, story.Job.Standings.Current);

        story.Start(first);
        Assert.Equal(StageState.Done, story[Stage.Queue]);
    }

    [Fact]
    public void Ready_is_reached_when_the_final_control_and_the_settlement_stand_in_either_order()
    {
        var story = new Story().Through(Stage.ReserveAndFunctions);
        story.DeskDoes(new StageFinished { Stage = Stage.Settlement });
        Assert.False(story.Job.Standings.IsReady);

        story.Does(story.AllChecksOk, TestShop.Jonas);
        Assert.True(story.Job.Standings.IsReady);
    }

    [Fact]
    public void Ready_falls_with_the_final_control_and_is_reached_again_with_it()
    {
        var story = new Story().Through(Stage.Ready);
        story.Does(new CaseOpened());
        Assert.False(story.Job.Standings.IsReady);
        Assert.Equal(StageState.Done, story[Stage.Settlement]);

        story.Through(Stage.Ready);
        Assert.True(story.Job.Standings.IsReady);
    }

    [Fact]
    public void A_watch_closed_again_after_its_diagnosis_is_only_closed()
    {
        var story = new Story().Finish(Stage.Diagnosis).Does(new Story().Closing());

        Assert.True(story.Job.Case.Closed);
        Assert.Equal(StageState.Open, story[Stage.Casing]);
    }

    [Fact]
    public void Closing_before_the_queue_asks_for_nothing_but_the_numbers()
    {
        var story = new Story();
        story.Does(story.Closing());

        Assert.Equal("three-numbers", story.RefusedBy(story.Closing("ANOTHER 1")).Gate);
    }

    [Fact]
    public void A_diagnosis_on_a_closed_watch_leaves_it_closed()
    {
        var story = new Story();
        story.Does(story.Closing()).Finish(Stage.Diagnosis);

        Assert.True(story.Job.Case.Closed);
    }

    [Fact]
    public void Who_rebuilt_it_are_all_who_began_or_ended_the_rebuild_since_it_was_last_void()
    {
        var story = new Story().Through(Stage.Inspection).Start(Stage.Rebuild);
        story.Does(new StageStarted { Stage = Stage.Rebuild }, TestShop.Jonas, despite: ["nobody-else-at-it"]).Finish(Stage.Rebuild, "kim");
        Assert.Equal([TestShop.Jonas, "kim", TestShop.Mara], story.Job.Standings.Of(Stage.Rebuild).Hands);

        story.SendBack(Stage.Regulation, Stage.Rebuild).Finish(Stage.Rebuild, "kim");
        Assert.Equal(["kim"], story.Job.Standings.Of(Stage.Rebuild).Hands);
    }

    [Fact]
    public void Somebody_else_who_tells_the_rebuild_done_again_has_had_a_hand_in_it()
    {
        var story = new Story().Through(Stage.Rebuild).Finish(Stage.Rebuild, TestShop.Jonas);

        Assert.Equal([TestShop.Jonas, TestShop.Mara], story.Job.Standings.Of(Stage.Rebuild).Hands);
    }

    [Fact]
    public void Telling_the_same_again_changes_nothing()
    {
        var story = new Story().Through(Stage.Inspection).Start(Stage.Rebuild);
        var running = Portrait.Of(story.Job, "Version", "Last");
        var started = story.Says(new StageStarted { Stage = Stage.Rebuild });
        Assert.Contains(EntryFlag.AlreadySo, started.Flags);
        Assert.Equal(running, Portrait.Of(story.Job, "Version", "Last"));

        story.Finish(Stage.Rebuild);
        var done = Portrait.Of(story.Job, "Version", "Last");
        story.After(Duration.FromHours(1));
        var finished = story.Says(new StageFinished { Stage = Stage.Rebuild });
        Assert.Contains(EntryFlag.AlreadySo, finished.Flags);
        Assert.Equal(done, Portrait.Of(story.Job, "Version", "Last"));
    }

    [Theory]
    [InlineData(Stage.Casing)]
    [InlineData(Stage.WaterTest)]
    [InlineData(Stage.WearCheck)]
    [InlineData(Stage.FinalControl)]
    public void Telling_a_stage_with_a_result_done_changes_nothing_while_it_stands(Stage stage)
    {
        var story = new Story().Through(stage);
        var before = Portrait.Of(story.Job, "Version", "Last");

        var decision = story.Says(new StageFinished { Stage = stage });

        Assert.Contains(EntryFlag.AlreadySo, decision.Flags);
        Assert.Equal(before, Portrait.Of(story.Job, "Version", "Last"));
    }

    // Rule 1: a result stands only on ground that stands.

    [Fact]
    public void A_result_told_without_its_ground_is_kept_and_of_no_effect()
    {
        // Told in spite of the regulation; that the rebuild is gone as well was asked of nobody.
        var story = new Story().Through(Stage.Inspection).Through(Stage.Gaskets);
        story.SendBack(Stage.Regulation, Stage.Rebuild).Does(new StageFinished { Stage = Stage.DialAndHands }, despite: ["needs/regulation"]);

        Assert.Equal(StageState.GroundLost, story[Stage.DialAndHands]);
        Assert.Equal<Stage>([Stage.Rebuild], story.Job.Standings.Of(Stage.DialAndHands).Missing);
        Assert.Equal(Stage.DialAndHands, Assert.Single(story.Job.Standings.GroundLost).Stage);
        Assert.False(story.Job.Standings.Stands(Stage.DialAndHands));
    }

    [Fact]
    public void Ground_that_was_lost_is_the_managers_until_the_stage_is_done_again()
    {
        var story = new Story().Through(Stage.Gaskets).SendBack(Stage.Regulation, Stage.Rebuild);
        story.Does(new StageFinished { Stage = Stage.DialAndHands }, despite: ["needs/regulation"]);

        story.Through(Stage.Regulation);
        Assert.Equal(Stage.DialAndHands, Assert.Single(story.Job.Standings.GroundLost).Stage);
        story.Start(Stage.DialAndHands);
        Assert.Equal(Stage.DialAndHands, Assert.Single(story.Job.Standings.GroundLost).Stage);
        story.Finish(Stage.DialAndHands);
        Assert.Empty(story.Job.Standings.GroundLost);
    }

    [Fact]
    public void A_result_stands_without_ground_that_its_own_entry_passed()
    {
        var story = new Story().Through(Stage.Quote).Finish(Stage.Takedown);
        story.Does(new StageFinished { Stage = Stage.Inspection }, despite: ["needs/cleaning"]);

        Assert.Equal(StageState.Done, story[Stage.Inspection]);
        Assert.Equal<string>(["needs/cleaning"], story.Entries[^1].Judged.Passing);
    }

    [Fact]
    public void Passing_one_need_passes_no_other()
    {
        var story = new Story().Through(Stage.Rebuild);
        var gate = story.RefusedBy(new StageFinished { Stage = Stage.DialAndHands }, despite: ["needs/regulation"]);

        Assert.Equal("needs/gaskets", gate.Gate);
    }

    [Fact]
    public void What_was_passed_at_the_start_of_a_worn_check_holds_for_its_reading()
    {
        var story = new Story().Through(Stage.WaterTest).SendBack(Stage.WearCheck, Stage.Regulation);
        story.Does(Story.WearStart(), despite: ["needs/regulation"]).After(Duration.FromHours(24)).Does(Story.WearRead(3));

        Assert.Equal(StageState.Done, story[Stage.WearCheck]);
    }

    [Fact]
    public void A_ground_that_the_route_does_not_have_stands()
    {
        var dry = TestShop.FullAutomatic with { Id = "x-dry", Stages = [.. TestShop.FullAutomatic.Stages.Where(one => one.Stage is not (Stage.Gaskets or Stage.WaterTest))] };
        var story = new Story(dry).Through(Stage.HandedOver);

        Assert.Equal(StageState.Done, story[Stage.Casing]);
        Assert.Equal(StageState.Open, story[Stage.WaterTest]);
        Assert.Equal(["movement"], story.Job.Warranty.Lines.Select(line => line.Line));
    }

    [Fact]
    public void An_optional_stage_stands_until_somebody_touches_it()
    {
        var route = TestShop.FullAutomatic with
        {
            Id = "x-optional",
            Stages = [.. TestShop.FullAutomatic.Stages.Select(one => one.Stage == Stage.CaseWork ? one with { Optional = true } : one)],
        };
        var story = new Story(route).Through(Stage.CaseStrip).Start(Stage.CaseWork);
        Assert.Equal("needs/case-work", story.RefusedBy(new StageStarted { Stage = Stage.Gaskets }).Gate);

        new Story(route).Through(Stage.CaseStrip).Start(Stage.Gaskets);
    }

    // Rules 2 and 3, and the table of what makes void: exactly the listed stages fall.

    public static TheoryData<string, WorkshopEvent, Stage[]> WhatFalls => new()
    {
        { "case opened", new CaseOpened(), [Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.FinalControl, Stage.Ready] },
        { "seal found broken", new SealSeen { State = SealState.Broken }, [Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.FinalControl, Stage.Ready] },
        { "seal found whole", new SealSeen { State = SealState.Intact }, [] },
        { "index touched", new IndexTouched(), [Stage.Regulation, Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.FinalControl, Stage.Ready] },
        { "leak", Story.WaterTest(false), [Stage.WaterTest, Stage.FinalControl, Stage.Ready] },
        { "tested again", Story.WaterTest(), [] },
        { "measured again", Story.RateSet, [] },
        { "back to diagnosis", Back(Stage.Diagnosis), [Stage.Diagnosis, Stage.FinalControl, Stage.Ready] },
        {
            "back to takedown", Back(Stage.Takedown),
            [
                Stage.Takedown, Stage.Cleaning, Stage.Inspection, Stage.Rebuild, Stage.Regulation, Stage.DialAndHands, Stage.Casing, Stage.WaterTest, Stage.WearCheck,
                Stage.ReserveAndFunctions, Stage.FinalControl, Stage.Ready,
            ]
        },
        {
            "back to cleaning", Back(Stage.Cleaning),
            [
                Stage.Cleaning, Stage.Inspection, Stage.Rebuild, Stage.Regulation, Stage.DialAndHands, Stage.Casing, Stage.WaterTest, Stage.WearCheck,
                Stage.ReserveAndFunctions, Stage.FinalControl, Stage.Ready,
            ]
        },
        {
            "back to inspection", Back(Stage.Inspection),
            [
                Stage.Inspection, Stage.Rebuild, Stage.Regulation, Stage.DialAndHands, Stage.Casing, Stage.WaterTest, Stage.WearCheck,
                Stage.ReserveAndFunctions, Stage.FinalControl, Stage.Ready,
            ]
        },
        {
            "back to rebuild", Back(Stage.Rebuild),
            [Stage.Rebuild, Stage.Regulation, Stage.DialAndHands, Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.ReserveAndFunctions, Stage.FinalControl, Stage.Ready]
        },
        { "back to regulation", Back(Stage.Regulation), [Stage.Regulation, Stage.WearCheck, Stage.FinalControl, Stage.Ready] },
        {
            "back to case strip", Back(Stage.CaseStrip),
            [Stage.CaseStrip, Stage.CaseWork, Stage.Gaskets, Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.FinalControl, Stage.Ready]
        },
        { "back to case work", Back(Stage.CaseWork), [Stage.CaseWork, Stage.Gaskets, Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.FinalControl, Stage.Ready] },
        { "back to gaskets", Back(Stage.Gaskets), [Stage.Gaskets, Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.FinalControl, Stage.Ready] },
        {
            "back to dial and hands", Back(Stage.DialAndHands),
            [Stage.DialAndHands, Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.ReserveAndFunctions, Stage.FinalControl, Stage.Ready]
        },
        { "back to casing", Back(Stage.Casing), [Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.FinalControl, Stage.Ready] },
        { "back to the water test", Back(Stage.WaterTest), [Stage.WaterTest, Stage.FinalControl, Stage.Ready] },
        { "back to the worn check", Back(Stage.WearCheck), [Stage.WearCheck, Stage.FinalControl, Stage.Ready] },
        { "back to reserve and functions", Back(Stage.ReserveAndFunctions), [Stage.ReserveAndFunctions, Stage.FinalControl, Stage.Ready] },
        { "control refused to gaskets", Refusal(Stage.Gaskets), [Stage.Gaskets, Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.FinalControl, Stage.Ready] },
        { "control refused to diagnosis", Refusal(Stage.Diagnosis), [Stage.Diagnosis, Stage.FinalControl, Stage.Ready] },
    };

    [Theory]
    [MemberData(nameof(WhatFalls))]
    public void Exactly_what_rests_on_it_falls(string what, WorkshopEvent one, Stage[] falls)
    {
        var story = new Story().Through(Stage.Ready);
        var stood = TestShop.FullAutomatic.Stages.Select(planned => planned.Stage).Where(stage => story[stage] == StageState.Done).ToArray();

        story.After(Duration.FromMinutes(5)).Does(one, TestShop.Jonas);

        Assert.Equal((what, string.Join(' ', falls.Order())), (what, string.Join(' ', stood.Where(stage => story[stage] != StageState.Done).Order())));
        Assert.All(falls, stage => Assert.Equal(
            one is WaterTestRecorded && stage == Stage.WaterTest ? StageState.Failed : StageState.Void, story[stage]));
    }

    [Theory]
    [MemberData(nameof(WhatFalls))]
    public void A_worn_check_that_runs_is_void_after_what_takes_its_stage_and_after_nothing_else(string what, WorkshopEvent one, Stage[] falls)
    {
        var story = new Story().Through(Stage.WaterTest).Does(Story.WearStart()).After(Duration.FromHours(5));

        story.Does(one, TestShop.Jonas);

        var check = Assert.Single(story.Job.WearChecks.Checks);
        Assert.Equal((what, falls.Contains(Stage.WearCheck) ? WearVerdict.Void : (WearVerdict?)null), (what, check.Verdict));
        Assert.Equal(0, story.Job.WearChecks.TotalFails);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_worn_check_that_fails_takes_the_final_control_with_it(bool stopped)
    {
        var story = new Story().Through(Stage.Ready).Does(Story.WearStart()).After(Duration.FromHours(25));
        story.Does(stopped ? Story.FoundStopped : Story.WearRead(90));

        Assert.Equal(StageState.Failed, story[Stage.WearCheck]);
        Assert.Equal(StageState.Void, story[Stage.FinalControl]);
        Assert.Equal(StageState.Void, story[Stage.Ready]);
        Assert.Equal(StageState.Done, story[Stage.WaterTest]);
    }

    [Fact]
    public void Work_that_is_being_done_falls_with_its_ground()
    {
        var story = new Story().Through(Stage.Rebuild).Start(Stage.Regulation).SendBack(Stage.Regulation, Stage.Cleaning);

        Assert.Equal(StageState.Void, story[Stage.Regulation]);
        Assert.Empty(story.Job.Standings.Of(Stage.Regulation).At);
    }

    [Fact]
    public void A_stage_that_nobody_had_touched_does_not_become_void()
    {
        var story = new Story().Through(Stage.Inspection).SendBack(Stage.Rebuild, Stage.Cleaning);

        Assert.Equal(StageState.Open, story[Stage.Rebuild]);
        Assert.Equal(StageState.Void, story[Stage.Inspection]);
    }

    [Fact]
    public void Money_and_a_hand_over_are_never_void()
    {
        var story = new Story().Through(Stage.HandedOver).Does(new CaseOpened());

        Assert.Equal(StageState.Done, story[Stage.Settlement]);
        Assert.Equal(StageState.Done, story[Stage.HandedOver]);
    }

    [Fact]
    public void Sending_back_does_not_open_the_case()
    {
        var story = new Story().Through(Stage.Casing).SendBack(Stage.WaterTest, Stage.Regulation);

        Assert.True(story.Job.Case.Closed);
        Assert.Equal(StageState.Done, story[Stage.Casing]);
    }

    [Fact]
    public void A_seal_found_broken_says_nothing_on_a_watch_that_is_not_cased()
    {
        var story = new Story().Does(new Story().Closing()).Does(new SealSeen { State = SealState.Broken });

        Assert.True(story.Job.Case.Closed);
    }

    // Rule 4: open-case work means the case was opened.

    public static TheoryData<Stage> OpenCaseWork => new(
        Stage.Takedown, Stage.Cleaning, Stage.Inspection, Stage.Rebuild, Stage.Regulation, Stage.CaseStrip, Stage.CaseWork, Stage.Gaskets, Stage.DialAndHands);

    [Theory]
    [MemberData(nameof(OpenCaseWork))]
    public void Work_on_an_open_case_opens_one_that_counted_as_closed(Stage stage)
    {
        var story = new Story();
        story.Through(Stage.WaterTest).SendBack(Stage.WearCheck, stage).Does(story.Closing(), despite: [.. NeedsOf(Stage.Casing)]);
        Assert.True(story.Job.Case.Closed);

        var decision = story.Says(new StageStarted { Stage = stage });

        Assert.Contains(EntryFlag.OpeningImplied, decision.Flags);
        Assert.False(story.Job.Case.Closed);
        Assert.NotEqual(StageState.Done, story[Stage.Casing]);
        Assert.Equal(StageState.Running, story[stage]);
    }

    [Fact]
    public void Regulating_a_closed_watch_voids_its_casing_and_water_test()
    {
        var story = new Story().Through(Stage.WaterTest).SendBack(Stage.WearCheck, Stage.Regulation).After(Duration.FromMinutes(5)).Start(Stage.Regulation);

        Assert.Equal(StageState.Void, story[Stage.Casing]);
        Assert.Equal(StageState.Void, story[Stage.WaterTest]);
        Assert.Equal(StageState.Done, story[Stage.DialAndHands]);
        Assert.Contains(EntryFlag.OpeningImplied, story.Entries[^1].Flags);
    }

    [Fact]
    public void A_watch_closed_before_the_queue_is_opened_by_its_takedown()
    {
        var story = new Story();
        story.Does(story.Closing()).Through(Stage.Quote).Start(Stage.Takedown);

        Assert.False(story.Job.Case.Closed);
        Assert.Equal(StageState.Open, story[Stage.Casing]);
        Assert.Contains(EntryFlag.OpeningImplied, story.Entries[^1].Flags);
    }

    [Theory]
    [InlineData(Stage.ReserveAndFunctions)]
    [InlineData(Stage.WaterTest)]
    public void Work_on_a_closed_case_leaves_it_closed(Stage stage)
    {
        var story = new Story().Through(Stage.Casing);
        story.Does(new StageStarted { Stage = stage }, despite: [.. NeedsOf(stage)]);
        Assert.True(story.Job.Case.Closed);
    }

    private static IEnumerable<string> NeedsOf(Stage stage) =>
        TestShop.FullAutomatic.Find(stage)!.Needs.Select(need => $"needs/{Workshop.Core.Words.Word.Of(need.Stage)}");

    private static StageSentBack Back(Stage to) => new() { Stage = Stage.FinalControl, To = to, Reason = "it must be done again" };

    private static FinalControlRefused Refusal(Stage to) => new() { To = to, Reason = "it must be done again" };

}
