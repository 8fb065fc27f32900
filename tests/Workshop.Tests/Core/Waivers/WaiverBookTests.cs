using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Waivers;

namespace Workshop.Tests.Core.Waivers;

public class WaiverBookTests
{
    private static readonly StageFinished Rebuild = new() { Stage = Stage.Rebuild };

    [Fact]
    public void A_waiver_lets_the_next_event_that_needs_it_through_and_no_other()
    {
        var story = new Story().Through(Stage.Diagnosis).Does(Waiver("needs/quote"), TestShop.Manager);

        // A finish without a start asks both of its needs; the waiver is about one.
        Assert.Equal("needs/inspection", story.RefusedBy(Rebuild).Gate);
        Assert.Null(story.Job.Waivers.All[0].UsedBy);
        story.Does(Rebuild, despite: ["needs/inspection"]);

        Assert.Equal(story.Entries[^1].Id, story.Job.Waivers.All[0].UsedBy);
        Assert.Equal(story.Job.Waivers.All[0].Id, Assert.Single(story.Entries[^1].Judged.WaiversUsed));
        Assert.Contains("needs/quote", story.Entries[^1].Judged.Passing);
        Assert.Equal("needs/quote", story.RefusedBy(new StageStarted { Stage = Stage.CaseWork }, despite: ["needs/case-strip"]).Gate);
    }

    [Fact]
    public void A_tap_is_enough_where_a_gate_asks_and_leaves_the_waiver_for_later()
    {
        var story = new Story().Does(Waiver("needs/quote"), TestShop.Manager).Does(new StageStarted { Stage = Stage.Takedown }, despite: ["needs/quote"]);

        Assert.Null(story.Job.Waivers.All[0].UsedBy);
    }

    [Fact]
    public void A_waiver_is_gone_at_the_end_of_the_local_day()
    {
        var story = new Story().Through(Stage.Diagnosis).Does(Waiver("needs/quote"), TestShop.Manager);

        story.At(2026, 3, 3, 0, 0);
        Assert.Equal("needs/quote", story.RefusedBy(new StageStarted { Stage = Stage.Takedown }).Gate);
        story.At(story.Now - Duration.FromMinutes(1)).Start(Stage.Takedown);
    }

    [Fact]
    public void A_report_uses_only_a_waiver_that_was_given_by_then()
    {
        var story = new Story().Through(Stage.Diagnosis).At(2026, 3, 2, 14).Does(Waiver("needs/quote"), TestShop.Manager).At(2026, 3, 2, 16);

        Assert.Equal(Outcome.Noted, story.Says(new StageStarted { Stage = Stage.Takedown }, at: story.Today(13)).Outcome);
        Assert.Equal(Outcome.Accepted, story.Says(new StageStarted { Stage = Stage.Takedown }, at: story.Today(15)).Outcome);
    }

    [Fact]
    public void Two_pieces_apart_need_one_waiver()
    {
        var story = new Story().Through(Stage.DialAndHands)
            .Does(new Workshop.Core.Pieces.PieceGiven { Kind = Workshop.Core.Pieces.PieceKind.Movement, To = "people/jonas" })
            .Does(new Workshop.Core.Pieces.PieceGiven { Kind = Workshop.Core.Pieces.PieceKind.Case, To = "people/jonas" })
            .Does(Waiver("pieces-together"), TestShop.Manager);
        story.Does(story.Closing());

        Assert.Equal(StageState.Done, story[Stage.Casing]);
        Assert.Single(story.Entries[^1].Judged.WaiversUsed);
    }

    [Fact]
    public void A_final_control_over_a_waived_need_stands_until_something_else_falls()
    {
        var story = new Story().Through(Stage.WaterTest);
        story.Does(Waiver("needs/wear-check"), TestShop.Manager).Finish(Stage.ReserveAndFunctions).Does(story.AllChecksOk, TestShop.Jonas);
        Assert.Equal(StageState.Done, story[Stage.FinalControl]);

        story.After(Duration.FromMinutes(5)).DeskDoes(new StageFinished { Stage = Stage.Settlement }).DeskDoes(story.HandedOver());
        Assert.True(story.Job.Standings.HandedOver);
    }

    [Theory]
    [InlineData("in-route")]
    [InlineData("hold/query")]
    [InlineData("three-numbers")]
    [InlineData("one-holder")]
    [InlineData("checks-complete")]
    [InlineData("no-such-gate")]
    public void What_cannot_be_waived_is_a_fault_of_the_waiver(string gate) => Assert.NotEmpty(EventFaults.Of(Waiver(gate)));

    [Theory]
    [InlineData("needs/casing")]
    [InlineData("intake/declaredValue")]
    [InlineData("pieces-together")]
    [InlineData("cause-written")]
    [InlineData("repeats-decided")]
    [InlineData("second-person")]
    public void What_a_manager_may_waive_says_so(string gate)
    {
        Assert.Empty(EventFaults.Of(Waiver(gate)));
        Assert.True(GateTable.Of(gate).Waivable);
    }

    private static WaiverGiven Waiver(string gate) => new() { Gate = gate, Reason = "I have seen it" };
}
