using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Tests.Core.Holds;

public class HoldTests
{
    // What each hold blocks: a start before the work, a start in the work, the closing of the case, the final control, the hand-over.
    [Theory]
    [InlineData(HoldReason.Approval, false, true, false, false, false)]
    [InlineData(HoldReason.Customer, false, true, false, false, false)]
    [InlineData(HoldReason.Parts, false, false, false, false, false)]
    [InlineData(HoldReason.OutsideFirm, false, false, false, false, false)]
    [InlineData(HoldReason.Person, false, false, false, false, false)]
    [InlineData(HoldReason.Payment, false, false, false, false, true)]
    [InlineData(HoldReason.Damage, true, true, false, true, true)]
    [InlineData(HoldReason.Loss, false, false, true, true, true)]
    [InlineData(HoldReason.Query, true, true, true, true, true)]
    [InlineData(HoldReason.MixUp, true, true, true, true, true)]
    [InlineData(HoldReason.Dispute, false, false, false, false, true)]
    [InlineData(HoldReason.Legal, true, true, true, true, true)]
    [InlineData(HoldReason.Other, true, true, false, false, false)]
    public void A_hold_blocks_what_its_row_says(HoldReason reason, bool front, bool work, bool closing, bool control, bool handOver)
    {
        Assert.Equal(front, Blocks(reason, new Story(), new StageStarted { Stage = Stage.Diagnosis }));
        Assert.Equal(front, Blocks(reason, new Story(), new StageFinished { Stage = Stage.Diagnosis }));
        Assert.Equal(work, Blocks(reason, new Story().Through(Stage.Quote), new StageStarted { Stage = Stage.Takedown }));
        Assert.Equal(work, Blocks(reason, new Story().Through(Stage.Quote), new StageFinished { Stage = Stage.CaseStrip }));
        Assert.Equal(work, Blocks(reason, new Story().Through(Stage.WaterTest), Story.WearStart()));
        var story = new Story().Through(Stage.DialAndHands);
        Assert.Equal(closing, Blocks(reason, story, story.Closing()));
        story = new Story();
        Assert.Equal(closing, Blocks(reason, story, story.Closing()));
        story = new Story().Through(Stage.ReserveAndFunctions);
        Assert.Equal(control, Blocks(reason, story, story.AllChecksOk));
        story = new Story().Through(Stage.Ready);
        Assert.Equal(handOver, Blocks(reason, story, story.HandedOver()));
    }

    [Theory]
    [InlineData(HoldReason.Approval, true)]
    [InlineData(HoldReason.Customer, true)]
    [InlineData(HoldReason.Payment, true)]
    [InlineData(HoldReason.Parts, false)]
    [InlineData(HoldReason.OutsideFirm, false)]
    [InlineData(HoldReason.Person, false)]
    [InlineData(HoldReason.Query, false)]
    [InlineData(HoldReason.MixUp, false)]
    [InlineData(HoldReason.Damage, false)]
    [InlineData(HoldReason.Loss, false)]
    [InlineData(HoldReason.Dispute, false)]
    [InlineData(HoldReason.Legal, false)]
    [InlineData(HoldReason.Other, false)]
    public void A_hold_stops_the_promise_by_its_row_unless_it_says_otherwise(HoldReason reason, bool stops)
    {
        var story = new Story()
            .Does(new HoldPlaced { Hold = reason }, TestShop.Manager)
            .Does(new HoldPlaced { Hold = reason, StopsPromise = !stops }, TestShop.Manager);

        Assert.Equal([stops, !stops], story.Job.Holds.All.Select(hold => hold.StopsPromise));
    }

    [Theory]
    [InlineData(HoldReason.Approval, "desk service manager", "desk service manager")]
    [InlineData(HoldReason.Customer, "desk manager", "desk manager")]
    [InlineData(HoldReason.Parts, "bench desk manager", "bench desk manager")]
    [InlineData(HoldReason.OutsideFirm, "bench desk manager", "bench desk manager")]
    [InlineData(HoldReason.Person, "bench desk manager", "bench desk manager")]
    [InlineData(HoldReason.Payment, "desk manager", "desk manager")]
    [InlineData(HoldReason.Damage, "bench desk manager", "manager")]
    [InlineData(HoldReason.Loss, "bench service manager", "manager")]
    [InlineData(HoldReason.Query, "bench desk service manager", "service manager")]
    [InlineData(HoldReason.MixUp, "service manager", "manager")]
    [InlineData(HoldReason.Dispute, "desk manager", "manager")]
    [InlineData(HoldReason.Legal, "manager", "manager")]
    [InlineData(HoldReason.Other, "bench desk manager", "bench desk manager")]
    public void Who_may_place_and_lift_a_hold_is_in_its_row(HoldReason reason, string place, string lift)
    {
        string[] roles = ["bench", "desk", "service", "manager", "storefront", "wall"];

        Assert.Equal(place, string.Join(' ', roles.Where(role => HoldTable.MayPlace(reason, role))));
        Assert.Equal(lift, string.Join(' ', roles.Where(role => HoldTable.MayLift(reason, role))));
    }

    [Fact]
    public void No_hold_stands_in_the_way_of_what_is_never_blocked()
    {
        var story = new Story().Through(Stage.WaterTest).Does(Story.WearStart()).After(Duration.FromHours(2));
        foreach (var reason in Enum.GetValues<HoldReason>())
        {
            story.Does(new HoldPlaced { Hold = reason }, TestShop.Manager);
        }

        story.Does(new WearCheckPaused { Kind = WearCheckKind.Worn }).After(Duration.FromHours(1)).Does(new WearCheckResumed { Kind = WearCheckKind.Worn })
            .After(Duration.FromHours(24)).Does(Story.WearRead(3))
            .Does(Story.RateSet).Does(Story.WaterTest()).Does(new NoteWritten { Text = "waits" })
            .Does(new PieceTaken()).Does(new PieceGiven { To = "people/jonas" }).Does(new PieceTaken(), TestShop.Jonas).Does(new PiecePut { To = "places/safe" }, TestShop.Jonas)
            .Does(new DamageSeen { Condition = "scratch" }).SendBack(Stage.FinalControl, Stage.Gaskets).Does(new CaseOpened());
    }

    [Fact]
    public void A_stage_that_runs_may_be_finished_while_the_job_is_held()
    {
        var story = new Story().Through(Stage.Takedown).Start(Stage.Cleaning).Does(new HoldPlaced { Hold = HoldReason.Query });

        story.Finish(Stage.Cleaning);
        Assert.Contains("hold/query", story.Refused(new StageStarted { Stage = Stage.Inspection }).Select(gate => gate.Gate));
    }

    [Fact]
    public void A_lift_by_name_ends_all_of_that_reason_and_no_other()
    {
        var story = new Story().Does(new HoldPlaced { Hold = HoldReason.Parts, Reason = "crown" }).Does(new HoldPlaced { Hold = HoldReason.Parts, Reason = "stem" })
            .Does(new HoldPlaced { Hold = HoldReason.Person }).After(Duration.FromHours(1)).Does(new HoldLifted { Hold = HoldReason.Parts });

        Assert.Equal([HoldReason.Person], story.Job.Holds.Standing.Select(hold => hold.Reason));
        Assert.Equal(2, story.Job.Holds.All.Count(hold => hold.Until == story.Now && hold.LiftedBy == story.Entries[^1].Id));
    }

    [Fact]
    public void A_hold_ended_before_is_not_ended_again()
    {
        var story = new Story().Does(new HoldPlaced { Hold = HoldReason.Parts }).After(Duration.FromHours(1)).Does(new HoldLifted { Hold = HoldReason.Parts });
        var lifted = story.Now;
        story.After(Duration.FromHours(1)).Does(new HoldPlaced { Hold = HoldReason.Parts }).After(Duration.FromHours(1)).Does(new HoldLifted { Hold = HoldReason.Parts });

        Assert.Equal(lifted, story.Job.Holds.All[0].Until);
    }

    [Fact]
    public void A_legal_hold_is_seen_by_managers_and_everybody_else_is_told_of_a_query()
    {
        var story = new Story().Does(new HoldPlaced { Hold = HoldReason.Legal }, TestShop.Manager);

        Assert.Equal(["hold/legal"], story.Refused(new StageStarted { Stage = Stage.Diagnosis }, TestShop.Manager).Select(gate => gate.Gate));
        var shown = story.RefusedBy(new StageStarted { Stage = Stage.Diagnosis });
        Assert.Equal("hold/query", shown.Gate);
        Assert.DoesNotContain("legal", $"{shown.Line} {shown.Helps} {string.Join(' ', shown.Names)}", StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void A_query_beside_a_legal_hold_is_told_once_so_that_the_number_gives_nothing_away()
    {
        var story = new Story().Does(new HoldPlaced { Hold = HoldReason.Query }).Does(new HoldPlaced { Hold = HoldReason.Legal }, TestShop.Manager);

        Assert.Equal("hold/query", story.RefusedBy(new StageStarted { Stage = Stage.Diagnosis }).Gate);
    }

    [Fact]
    public void Damage_that_came_with_the_watch_holds_nothing()
    {
        var story = new Story().Does(new DamageSeen { Condition = "scratch at six", AsReceived = true });
        Assert.Empty(story.Job.Holds.All);

        story.Does(new DamageSeen { Condition = "scratch at nine" });
        Assert.Equal(HoldReason.Damage, Assert.Single(story.Job.Holds.Standing).Reason);
    }

    private static bool Blocks(HoldReason reason, Story story, WorkshopEvent one)
    {
        story.After(Duration.FromMinutes(5)).Does(new HoldPlaced { Hold = reason }, TestShop.Manager);
        var decision = story.Says(one, TestShop.Manager);
        Assert.All(decision.Against, gate => Assert.Equal(($"hold/{Word.Of(reason)}", Strength.Stop), (gate.Gate, gate.Strength)));
        return decision.Against.Length > 0;
    }
}
