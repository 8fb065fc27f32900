using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.Groups;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Parts;

namespace Workshop.Tests.Core.Groups;

public class CountTests
{
    [Fact]
    public void What_comes_out_of_a_cage_is_what_went_in()
    {
        var story = Movement.TakenDown();
        story.Load("train", "cage-1");
        story.Empty("cage-1", count: 8);

        var loss = Assert.Single(story.Entries, entry => entry.Event is LossReported);
        var said = (LossReported)loss.Event;
        Assert.Equal((CountPoint.Unloaded, 9, 8, CountPoint.Loaded, TestShop.Mara), (said.At, said.Expected, said.Counted, said.SeenAt!.Value, said.SeenBy!));
        Assert.Equal(HoldReason.Loss, Assert.Single(story.Job.Holds.Standing).Reason);
        Assert.Contains(story.Agenda(), row => row.Line.Contains("8 of 9", StringComparison.Ordinal));

        // The next count that has eight is no second loss; the rebuild owes nine all the same.
        story.Then().Does(Movement.Counted("train", CountPoint.Inspection, 8));
        Assert.Single(story.Job.Groups.Differences);
        story.Then().Does(Movement.Counted("train", CountPoint.Rebuild, 8));
        Assert.Equal([(CountPoint.Unloaded, 9, 8), (CountPoint.Rebuild, 9, 8)], story.Job.Groups.Differences.Select(one => (one.Point, one.Expected, one.Counted)));
    }

    [Fact]
    public void A_loss_names_who_had_the_parts_last_and_the_watches_near_by_as_things_stood_then()
    {
        var story = Movement.TakenDown();
        var last = story.Then().Now;
        story.Does(Movement.Counted("bridges", CountPoint.Inspection, 9), TestShop.Jonas);
        story.NearBy = [new MixUpCandidate("J7K3MQ43", NearBy.SameBench, "bench-1")];
        story.After(Duration.FromHours(1)).Does(Movement.Counted("bridges", CountPoint.Rebuild, 7));
        story.NearBy = [];

        var loss = (LossReported)Assert.Single(story.Entries, entry => entry.Event is LossReported).Event;
        Assert.Equal((CountPoint.Inspection, TestShop.Jonas, last, "bench-1"), (loss.SeenAt!.Value, loss.SeenBy!, loss.SeenOn!.Value, loss.SeenBench!));
        Assert.Equal(new MixUpCandidate("J7K3MQ43", NearBy.SameBench, "bench-1"), Assert.Single(loss.Candidates));
    }

    [Fact]
    public void More_parts_than_there_should_be_are_for_a_manager_too()
    {
        var story = Movement.TakenDown().Then().Does(Movement.Counted("train", CountPoint.Inspection, 10));

        Assert.Equal((9, 10), Assert.Single(story.Entries.Select(entry => entry.Event).OfType<CountDiffers>()) is var more ? (more.Expected, more.Counted) : default);
        Assert.Equal(HoldReason.Query, Assert.Single(story.Job.Holds.Standing).Reason);
    }

    [Theory]
    [InlineData(9, false, false)]
    [InlineData(8, true, false)]
    [InlineData(9, true, true)]
    [InlineData(10, false, true)]
    public void The_rebuild_counts_as_many_as_were_declared_minus_replaced_plus_fitted(int count, bool replaced, bool fitted)
    {
        var story = Movement.TakenDown().Then().Does(new GroupHandCleaned { Group = "train" });
        if (replaced)
        {
            story.Then().Does(new GroupReplaced { Group = "train", Part = "mainspring" });
        }

        if (fitted)
        {
            story.Then().Does(new PartFitted { Part = "a new one", Group = "train", Replaces = replaced ? "mainspring" : null });
        }

        story.Then().Does(Movement.Counted("train", CountPoint.Rebuild, count));
        Assert.Empty(story.Job.Groups.Differences);
        Assert.Equal(GroupState.HandCleaned, story.Group("train").State);
    }

    [Fact]
    public void A_part_that_takes_the_place_of_one_nobody_had_struck_out_leaves_the_count_as_it_was()
    {
        var story = Movement.TakenDown().Then().Does(new PartFitted { Part = "a new spring", Group = "train", Replaces = "click spring" });

        Assert.Equal(9, story.Group("train").Owed);
        Assert.Equal("click spring", Assert.Single(story.Group("train").PartsOut));
    }

    [Fact]
    public void Several_cages_of_one_group_are_counted_together()
    {
        var story = Movement.TakenDown();
        var (one, other) = (story.Load("train", "cage-1", count: 5), story.Load("train", "cage-2", count: 4));
        story.Then().Hears(Movement.Washed("train", "cage-1"), one);
        Assert.Equal(GroupState.InRun, story.Group("train").State);
        story.Then().Hears(Movement.Washed("train", "cage-2"), other);
        story.Empty("cage-1", 5).Empty("cage-2", 4);

        Assert.Equal((GroupState.Washed, 9), (story.Group("train").State, story.Group("train").Present));
        Assert.Empty(story.Job.Groups.Differences);

        story.Load("bridges", "cage-3", count: 9);
        story.Load("bridges", "cage-4", count: 1);
        Assert.Equal((9, 10), Assert.Single(story.Job.Groups.Differences) is var more ? (more.Expected, more.Counted) : default);
    }

    [Fact]
    public void A_count_that_was_a_slip_of_the_pen_takes_its_loss_with_it()
    {
        var story = Movement.TakenDown().Then().Does(Movement.Counted("train", CountPoint.Inspection, 6));
        var count = story.Entries.Last(entry => entry.Event is CountRecorded);
        Assert.NotEmpty(story.Job.Holds.Standing);

        story.Then().Does(new CorrectionMade { Of = count.Id, Reason = "counted the other tray" });

        Assert.Empty(story.Job.Holds.Standing);
        Assert.Empty(story.Job.Groups.Differences);
    }

    [Fact]
    public void A_count_that_differs_counts_whenever_it_is_told()
    {
        var story = Movement.TakenDown();
        var at = story.Now;
        var decision = story.After(Duration.FromHours(5)).Says(Movement.Counted("train", CountPoint.Inspection, 8), at: at + Duration.FromMinutes(2), source: "/devices/bench-2/1");

        Assert.Equal(Outcome.Accepted, decision.Outcome);
        Assert.Equal(story.Now, Assert.Single(story.Job.Holds.Standing).From);
    }

    [Fact]
    public void A_part_that_is_found_ends_the_hold_of_its_own_loss_alone()
    {
        var story = Movement.TakenDown().Then().Does(new PartLost { Part = "click spring", Group = "train" }).Then().Does(new PartLost { Part = "screw", Group = "bridges" });
        Assert.Equal(2, story.Job.Holds.Standing.Count());

        story.Then().Does(new PartFound { Part = "screw" });
        Assert.Equal(2, story.Job.Holds.Standing.Count());
        story.Then().Does(new PartFound { Part = "click spring", Group = "train" });
        Assert.Equal("lost: screw, of bridges", Assert.Single(story.Job.Holds.Standing).Text);
    }

    [Fact]
    public void Fewer_parts_declared_anew_are_a_loss_and_more_are_what_was_put_to_them()
    {
        var story = Movement.TakenDown().Then().Does(Movement.Declared("train", 10));
        Assert.Equal((10, 10), (story.Group("train").Owed, story.Group("train").Present));

        story.Then().Does(Movement.Declared("train", 8));
        Assert.Equal((10, 8), Assert.Single(story.Job.Groups.Differences) is var fewer ? (fewer.Expected, fewer.Counted) : default);
        Assert.Equal(10, story.Group("train").Owed);
    }
}
