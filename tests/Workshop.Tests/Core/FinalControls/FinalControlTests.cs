using Workshop.Core.FinalControls;
using Workshop.Core.Gates;
using Workshop.Core.Route;
using Workshop.Core.Waivers;

namespace Workshop.Tests.Core.FinalControls;

public class FinalControlTests
{
    [Fact]
    public void Nobody_controls_what_they_rebuilt()
    {
        var story = new Story().Through(Stage.ReserveAndFunctions);
        Assert.Equal(("second-person", Strength.Stop), Of(story.RefusedBy(story.AllChecksOk, TestShop.Mara, despite: ["second-person"])));

        story.Does(story.AllChecksOk, TestShop.Jonas);
        Assert.Equal((TestShop.Jonas, StageState.Done), (story.Job.FinalControl.PassedBy, story[Stage.FinalControl]));
    }

    [Fact]
    public void Who_only_began_the_rebuild_or_told_it_again_does_not_control_it_either()
    {
        var story = new Story().Through(Stage.Inspection).Start(Stage.Rebuild, TestShop.Jonas).Finish(Stage.Rebuild).Finish(Stage.Rebuild, TestShop.Desk).Through(Stage.ReserveAndFunctions);

        Assert.Equal("second-person", story.RefusedBy(story.AllChecksOk, TestShop.Jonas).Gate);
        Assert.Equal("second-person", story.RefusedBy(story.AllChecksOk, TestShop.Desk).Gate);
    }

    [Fact]
    public void A_rebuild_done_anew_by_others_frees_who_did_it_before()
    {
        var story = new Story().Through(Stage.Rebuild).SendBack(Stage.Regulation, Stage.Rebuild).Finish(Stage.Rebuild, TestShop.Jonas).Through(Stage.ReserveAndFunctions);

        Assert.Equal("second-person", story.RefusedBy(story.AllChecksOk, TestShop.Jonas).Gate);
        story.Does(story.AllChecksOk, TestShop.Mara);
    }

    [Fact]
    public void A_shop_of_one_person_controls_its_own_work()
    {
        var story = new Story(rules: TestShop.With(secondPerson: false)).Through(Stage.ReserveAndFunctions);

        story.Does(story.AllChecksOk, TestShop.Mara);
    }

    [Fact]
    public void A_manager_may_waive_the_second_person()
    {
        var story = new Story().Through(Stage.ReserveAndFunctions).Does(new WaiverGiven { Gate = "second-person", Reason = "she is ill" }, TestShop.Manager);

        story.Does(story.AllChecksOk, TestShop.Mara);
    }

    [Fact]
    public void Every_check_of_the_route_has_a_result()
    {
        var story = new Story().Through(Stage.ReserveAndFunctions);
        var checks = story.AllChecksOk.Checks;
        var gate = story.RefusedBy(new FinalControlPassed { Checks = checks.RemoveAt(3) }, TestShop.Jonas, despite: ["checks-complete"]);

        Assert.Equal(("checks-complete", Strength.Stop), Of(gate));
        Assert.Equal("crown", gate.Names["missing"]);
        story.Does(new FinalControlPassed { Checks = checks.SetItem(3, checks[3] with { Result = CheckResult.NotApplicable }) }, TestShop.Jonas);
    }

    [Theory]
    [InlineData(null, false)]
    [InlineData(TestShop.Jonas, false)]
    [InlineData("nobody-we-know", false)]
    [InlineData(TestShop.Manager, true)]
    public void An_exception_names_a_manager(string? by, bool taken)
    {
        var story = new Story().Through(Stage.ReserveAndFunctions);
        var passed = new FinalControlPassed { Checks = story.AllChecksOk.Checks.SetItem(0, new FinalCheck("looks", CheckResult.Exception, by)) };

        Assert.Equal(taken ? [] : ["checks-complete"], story.Says(passed, TestShop.Jonas).Against.Select(gate => gate.Gate));
    }

    [Fact]
    public void A_control_asks_for_everything_before_and_nothing_is_tapped_through()
    {
        var story = new Story().Through(Stage.Inspection);
        var against = story.Refused(story.AllChecksOk, TestShop.Jonas, despite: ["needs/rebuild", "needs/water-test"]);

        Assert.Equal(
            ["needs/case-strip", "needs/case-work", "needs/casing", "needs/dial-and-hands", "needs/gaskets", "needs/rebuild", "needs/regulation", "needs/reserve-and-functions", "needs/water-test", "needs/wear-check"],
            against.Select(gate => gate.Gate).Order());
        Assert.All(against, gate => Assert.Equal(Strength.Stop, gate.Strength));
    }

    [Fact]
    public void A_refused_watch_is_not_handed_over_even_when_only_its_diagnosis_is_asked_for()
    {
        var story = new Story().Through(Stage.Ready).Does(new FinalControlRefused { To = Stage.Diagnosis, Reason = "the rate has changed" }, TestShop.Jonas);

        Assert.False(story.Job.Standings.IsReady);
        Assert.Equal("needs/final-control", story.RefusedBy(story.HandedOver(), TestShop.Desk).Gate);
        Assert.Equal(1, story.Job.FinalControl.Refusals);
    }

    [Fact]
    public void A_control_that_is_refused_falls_itself_also_when_it_goes_back_to_something_optional()
    {
        var route = TestShop.FullAutomatic with { Id = "x-optional", Stages = [.. TestShop.FullAutomatic.Stages.Select(one => one.Stage == Stage.ReserveAndFunctions ? one with { Optional = true } : one)] };
        var story = new Story(route).Through(Stage.Ready).Does(new FinalControlRefused { To = Stage.ReserveAndFunctions, Reason = "the hand jumps" }, TestShop.Jonas);

        Assert.Equal(StageState.Void, story[Stage.FinalControl]);
        Assert.False(story.Job.Standings.IsReady);
    }

    private static (string Gate, Strength Strength) Of(Objection one) => (one.Gate, one.Strength);
}
