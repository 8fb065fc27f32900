using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Gates;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.Waivers;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core.WearChecks;

/// <summary>Checks that fail, checks that lose their ground, and how many of them a manager wants to see.</summary>
public class WearCheckCountTests
{
    public static TheoryData<WorkshopEvent> Voiding => new(
        new CaseOpened(), new IndexTouched(), new SealSeen { State = SealState.Broken }, new StageSentBack { Stage = Stage.WearCheck, To = Stage.Gaskets, Reason = "leak" },
        new StageSentBack { Stage = Stage.FinalControl, To = Stage.WearCheck, Reason = "set anew" });

    [Theory]
    [MemberData(nameof(Voiding))]
    public void A_running_check_that_loses_its_ground_is_void_neither_pass_nor_fail(WorkshopEvent one)
    {
        var story = Running().After(Duration.FromHours(3)).Does(one);

        Assert.Equal(WearVerdict.Void, story.Job.WearChecks.Checks[^1].Verdict);
        Assert.Null(story.Job.WearChecks.Running);
        Assert.Equal(StageState.Void, story[Stage.WearCheck]);
        Assert.Equal(0, story.Job.WearChecks.TotalFails);
        Assert.False(story.Job.WearChecks.FailedSince);
    }

    [Fact]
    public void A_void_check_leaves_what_is_owed_as_it_was()
    {
        var story = Running().Does(new CaseOpened()).Through(Stage.WaterTest).Does(Story.WearStart());

        Assert.Equal(Duration.FromHours(22), story.Job.WearChecks.Checks[^1].Terms.ForAPass);
    }

    [Fact]
    public void A_failed_water_test_leaves_a_running_check_running()
    {
        var story = Running().Does(Story.WaterTest(false));

        Assert.NotNull(story.Job.WearChecks.Running);
    }

    [Fact]
    public void After_the_third_fail_the_fourth_start_waits_for_a_manager()
    {
        var story = Failed(3);
        Assert.Equal((3, 3), (story.Job.WearChecks.CountedFails, story.Job.WearChecks.TotalFails));

        var gate = story.RefusedBy(Story.WearStart(), despite: ["repeats-decided"]);
        Assert.Equal(("repeats-decided", Strength.Stop), (gate.Gate, gate.Strength));
    }

    [Fact]
    public void After_two_fails_in_the_same_hands_a_second_watchmaker_looks()
    {
        var gate = Failed(2).RefusedBy(Story.WearStart());
        Assert.Equal(("second-watchmaker", Strength.Ask, "mara"), (gate.Gate, gate.Strength, gate.Names["person"]));

        Failed(2).Does(Story.WearStart(), TestShop.Jonas);
        Failed(2).Does(Story.WearStart(), despite: ["second-watchmaker"]);
        Failed(1).Does(Story.WearStart());
    }

    [Fact]
    public void A_managers_word_about_repeats_waits_for_the_next_start_and_serves_once()
    {
        var story = Failed(3).Does(new WaiverGiven { Gate = "repeats-decided", Reason = "new hairspring" }, TestShop.Manager).After(Duration.FromDays(9));
        story.Does(Story.WearStart()).After(Duration.FromHours(24)).Does(Story.WearRead(14));

        Assert.Equal(4, story.Job.WearChecks.CountedFails);
        Assert.Equal("repeats-decided", story.RefusedBy(Story.WearStart()).Gate);
    }

    [Fact]
    public void A_rebuild_begins_a_new_count_and_the_total_stays()
    {
        var story = Failed(2).SendBack(Stage.WearCheck, Stage.Rebuild);

        Assert.Equal((0, 2), (story.Job.WearChecks.CountedFails, story.Job.WearChecks.TotalFails));
    }

    [Fact]
    public void A_count_of_three_begins_anew_only_when_a_manager_sends_it_back()
    {
        var story = Failed(3).SendBack(Stage.WearCheck, Stage.Rebuild);
        Assert.Equal(3, story.Job.WearChecks.CountedFails);

        story.Through(Stage.WaterTest);
        Assert.Equal("repeats-decided", story.RefusedBy(Story.WearStart()).Gate);
        story.SendBack(Stage.WearCheck, Stage.Rebuild, TestShop.Manager);
        Assert.Equal((0, 3), (story.Job.WearChecks.CountedFails, story.Job.WearChecks.TotalFails));
        story.Through(Stage.WaterTest).Does(Story.WearStart());
    }

    [Fact]
    public void A_regulation_sent_back_does_not_begin_a_new_count()
    {
        var story = Failed(1).SendBack(Stage.WearCheck, Stage.Regulation);

        Assert.Equal(1, story.Job.WearChecks.CountedFails);
    }

    private static Story Running() => new Story().Through(Stage.WaterTest).Does(Story.WearStart());

    private static Story Failed(int times)
    {
        var story = new Story().Through(Stage.WaterTest);
        for (var i = 0; i < times; i++)
        {
            story.Does(Story.WearStart(), i == 2 ? TestShop.Jonas : TestShop.Mara).After(Duration.FromHours(24)).Does(Story.WearRead(14));
        }

        return story;
    }
}
