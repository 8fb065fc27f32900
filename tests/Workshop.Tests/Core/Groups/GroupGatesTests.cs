using Workshop.Core.Gates;
using Workshop.Core.Groups;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Takedown;

namespace Workshop.Tests.Core.Groups;

public class GroupGatesTests
{
    [Fact]
    public void Nobody_is_asked_about_groups_before_one_is_declared()
    {
        var story = new Story(TestShop.FullAutomatic with { Groups = Movement.Usual }).Through(Stage.Casing);

        Assert.Equal(["never-washed"], story.Job.Groups.Groups.Select(group => group.Id));
        Assert.Equal(GroupState.NotWashed, story.Group("never-washed").State);
    }

    [Fact]
    public void The_takedown_ends_when_every_group_is_declared_or_struck_out_and_counted()
    {
        var story = Movement.InTakedown().Then().Does(Movement.Declared("train", count: null)).Then().Does(Movement.Declared("bridges", count: null));

        var against = story.Refused(new StageFinished { Stage = Stage.Takedown });
        Assert.Equal("balance-on-plate, automatic, calendar, keyless, pallets-and-settings", against.Single(one => one.Gate == "groups-declared").Names["missing"]);
        Assert.Equal((Strength.Stop, "train"), (against.Single(one => one.Gate == "count-written").Strength, against.Single(one => one.Gate == "count-written").Names["missing"]));

        foreach (var group in new[] { "balance-on-plate", "automatic", "keyless", "pallets-and-settings" })
        {
            story.Then().Does(Movement.Declared(group));
        }

        story.Then().Does(new GroupNotWashed { Group = "calendar", Reason = GroupNotWashed.NotFitted }).Then().Does(Movement.Counted("train", CountPoint.Declared, 9));
        story.Then().Does(new TakedownLetDown { Step = 1 }, despite: ["takedown-order/automatic-bridge"]);
        var asked = story.Then().RefusedBy(new StageFinished { Stage = Stage.Takedown });
        Assert.Equal(("count-written", Strength.Ask, "bridges"), (asked.Gate, asked.Strength, asked.Names["missing"]));
        story.Then().Does(new StageFinished { Stage = Stage.Takedown }, despite: ["count-written"]);
    }

    [Fact]
    public void A_takedown_told_only_by_its_end_is_asked_for_the_same_groups()
    {
        var story = new Story(TestShop.FullAutomatic with { Groups = Movement.Usual }).Through(Stage.Quote).Then().Does(Movement.Declared("train")).Then().Does(new TakedownLetDown { Step = 1 }, despite: ["takedown-order/automatic-bridge"]);

        Assert.Equal("balance-on-plate, bridges, automatic, calendar, keyless, pallets-and-settings", story.Then().RefusedBy(new StageFinished { Stage = Stage.Takedown }).Names["missing"]);
    }

    [Fact]
    public void Of_seven_groups_the_gate_names_exactly_the_one_whose_run_was_aborted()
    {
        var story = Movement.TakenDown();
        foreach (var (group, i) in Movement.Six.Where(group => group != "keyless").Select((group, i) => (group, i)))
        {
            story.Wash(group, $"cage-{i}");
        }

        var load = story.Load("keyless", "cage-9", Movement.OtherRun);
        story.Then().Hears(Movement.Unknown("keyless", "cage-9", Movement.OtherRun), load);
        story.Empty("cage-9");

        var against = story.Then().RefusedBy(new StageFinished { Stage = Stage.Cleaning });
        Assert.Equal(("groups-ended", "keyless"), (against.Gate, against.Names["missing"]));
        Assert.Equal(GroupState.Unknown, story.Group("keyless").State);
        Assert.Equal(7, story.Job.Groups.Groups.Count(group => !group.NotFitted));

        story.Then().Does(new GroupHandCleaned { Group = "keyless" }).Then().Finish(Stage.Cleaning);
    }

    [Fact]
    public void Opening_one_group_again_leaves_the_others_and_lets_the_stages_fall_until_it_is_inspected()
    {
        var story = Movement.TakenDown();
        foreach (var group in Movement.Six)
        {
            story.Then().Does(new GroupHandCleaned { Group = group });
        }

        story.Then().Finish(Stage.Cleaning).Then().Finish(Stage.Inspection).Then().Finish(Stage.Rebuild);
        story.Then().Does(new GroupReopened { Group = "bridges", Reason = "film" });

        Assert.Equal(["bridges"], story.Job.Groups.Open.Select(group => group.Id));
        Assert.Equal((StageState.Void, StageState.Void, StageState.Void), (story[Stage.Cleaning], story[Stage.Inspection], story[Stage.Rebuild]));

        story.Wash("bridges", "cage-1");
        Assert.Equal(StageState.Void, story[Stage.Cleaning]);
        story.Then().Does(new GroupInspected { Group = "bridges" });
        Assert.Equal((StageState.Done, StageState.Done, StageState.Void), (story[Stage.Cleaning], story[Stage.Inspection], story[Stage.Rebuild]));
    }

    [Fact]
    public void A_run_that_was_aborted_and_is_told_after_the_inspection_takes_the_stages_with_it()
    {
        var story = Movement.TakenDown();
        foreach (var group in Movement.Six.Where(group => group != "train"))
        {
            story.Then().Does(new GroupHandCleaned { Group = group });
        }

        var load = story.Load("train", "cage-1");
        story.Then().Hears(Movement.Washed("train", "cage-1"), load);
        story.Empty("cage-1").Then().Finish(Stage.Cleaning).Then().Finish(Stage.Inspection);
        story.Then().Hears(Movement.Unknown("train", "cage-1"), load);

        Assert.Equal((StageState.Void, StageState.Void), (story[Stage.Cleaning], story[Stage.Inspection]));
        Assert.Equal(["train"], story.Job.Groups.Open.Select(group => group.Id));
    }

    [Fact]
    public void A_group_that_was_sent_back_with_its_stage_does_not_bring_the_stage_back_by_itself()
    {
        var story = Movement.TakenDown();
        foreach (var group in Movement.Six)
        {
            story.Then().Does(new GroupHandCleaned { Group = group });
        }

        story.Then().Finish(Stage.Cleaning).Then().Finish(Stage.Inspection);
        story.Then().Does(new GroupReopened { Group = "bridges", Reason = "film" }).Then().SendBack(Stage.Inspection, Stage.Cleaning);
        story.Then().Does(new GroupHandCleaned { Group = "bridges" }).Then().Does(new GroupInspected { Group = "bridges" });

        Assert.Equal(StageState.Void, story[Stage.Cleaning]);
        story.Then().Finish(Stage.Cleaning);
    }

    [Fact]
    public void A_group_ends_in_one_way_until_somebody_opens_it_again()
    {
        var story = Movement.TakenDown().Then().Does(new GroupHandCleaned { Group = "bridges" });

        Assert.Equal("group-open", story.Then().RefusedBy(new GroupNotWashed { Group = "bridges", Reason = "clean already" }).Gate);
        story.Then().Does(new GroupReopened { Group = "bridges", Reason = "dust" }).Then().Does(new GroupNotWashed { Group = "bridges", Reason = "gilding comes off" });
        Assert.Equal(GroupState.NotWashed, story.Group("bridges").State);

        story.Load("train", "cage-1");
        Assert.Equal(("group-open", "in-run"), (story.Then().RefusedBy(new GroupHandCleaned { Group = "train" }).Gate, story.RefusedBy(new GroupHandCleaned { Group = "train" }).Names["state"]));
    }

    [Fact]
    public void Loose_screws_go_into_a_cage_only_when_they_were_counted()
    {
        var story = Movement.TakenDown().Then().Does(Movement.Declared("screws", count: null));

        Assert.Equal(("count-written", Strength.Stop), (story.Then().RefusedBy(Movement.Loaded("screws", "cage-1", count: null)).Gate, Strength.Stop));
        story.Then().Does(Movement.Loaded("screws", "cage-1", count: 14));
    }

    [Fact]
    public void Cleaning_ends_with_cages_scanned_empty_and_all_parts_that_went_in()
    {
        var story = Movement.TakenDown();
        foreach (var group in Movement.Six.Where(group => group != "train"))
        {
            story.Then().Does(new GroupHandCleaned { Group = group });
        }

        var load = story.Load("train", "cage-1", count: 8);
        story.Then().Hears(Movement.Washed("train", "cage-1"), load);

        var against = story.Then().Refused(new StageFinished { Stage = Stage.Cleaning });
        Assert.Equal(["cages-out", "counts-agree"], against.Select(one => one.Gate).Order());
        Assert.Equal(("8", "9"), (against.Single(one => one.Gate == "counts-agree").Names["loaded"], against.Single(one => one.Gate == "counts-agree").Names["expected"]));
        story.Empty("cage-1", count: 8);
        story.Then().Does(new StageFinished { Stage = Stage.Cleaning }, despite: ["counts-agree"]);
    }

    [Fact]
    public void The_watch_is_not_closed_over_a_group_that_nobody_accounts_for()
    {
        var story = Movement.TakenDown();
        foreach (var group in Movement.Six.Where(group => group != "train"))
        {
            story.Then().Does(new GroupHandCleaned { Group = group });
        }

        story.Then().Does(new WaiverFor("groups-ended").Given, TestShop.Manager).Then().Finish(Stage.Cleaning).Then();
        story.Through(Stage.DialAndHands);
        story.Then().Does(new CageLoaded { Group = "train", Cage = "cage-1", Run = Movement.Run, Count = 9 }, TestShop.Jonas);

        var against = story.Then().Refused(story.Closing()).Single(one => one.Gate == "groups-accounted");
        Assert.Equal(("train", TestShop.Jonas, "bench-1"), (against.Names["missing"], against.Names["lastSeenBy"], against.Names["lastSeenBench"]));

        story.Then().Does(Movement.Counted("train", CountPoint.Rebuild, 9)).Then().Does(story.Closing());
        Assert.True(story.Job.Case.Closed);
    }

    private sealed record WaiverFor(string Gate)
    {
        public WorkshopEvent Given => new Workshop.Core.Waivers.WaiverGiven { Gate = Gate, Reason = "seen with the watch on the table" };
    }
}
