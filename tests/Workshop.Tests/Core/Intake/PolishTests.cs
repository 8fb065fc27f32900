using Workshop.Core.Gates;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Waivers;

namespace Workshop.Tests.Core.Intake;

// Asked at intake and asked again at the point of no return: common practice.
public class PolishTests
{
    [Fact]
    public void A_polish_that_is_wished_for_stops_before_case_work_until_the_customer_said_yes_again()
    {
        var story = With(PolishWish.Yes);

        var stopped = story.RefusedBy(new StageStarted { Stage = Stage.CaseWork }, despite: ["polish-confirmed"]);
        story.Does(new PolishConfirmed());

        Assert.Equal(("polish-confirmed", Strength.Stop, true), (stopped.Gate, stopped.Strength, stopped.Waivable));
        Assert.Empty(story.Job.Intake.Missing);
        story.Start(Stage.CaseWork);
    }

    [Theory]
    [InlineData(PolishWish.No)]
    [InlineData(null)]
    public void Without_a_wish_nobody_is_asked_again(PolishWish? wish) => With(wish).Start(Stage.CaseWork);

    [Fact]
    public void A_manager_may_waive_it()
    {
        var story = With(PolishWish.Yes).Does(new WaiverGiven { Gate = "polish-confirmed", Reason = "the customer stood beside it" }, TestShop.Manager, role: "manager");

        story.Start(Stage.CaseWork);

        Assert.Single(story.Entries[^1].Judged.WaiversUsed);
    }

    [Fact]
    public void What_was_not_wished_for_cannot_be_confirmed()
    {
        Assert.Equal("polish-confirmed", With(PolishWish.No).RefusedBy(new PolishConfirmed()).Gate);
        Assert.Equal("polish-confirmed", With(PolishWish.Ask).RefusedBy(new PolishConfirmed()).Gate);
    }

    [Fact]
    public void Somebody_has_asked_the_customer() => Assert.Equal("person-named", With(PolishWish.Yes).RefusedBy(new PolishConfirmed(), by: null).Gate);

    [Fact]
    public void A_wish_that_changes_is_asked_about_anew()
    {
        var story = With(PolishWish.No);

        story.DeskDoes(new IntakeCompleted { Known = [], Polish = PolishWish.Yes, Missing = [new MissingMember(IntakeMember.PolishConfirmed, Stage.CaseWork)] });
        Assert.Equal("polish-confirmed", story.RefusedBy(new StageStarted { Stage = Stage.CaseWork }).Gate);

        story.Does(new PolishConfirmed());
        story.DeskDoes(new IntakeCompleted { Known = [], Polish = PolishWish.No });
        Assert.Null(story.Job.Intake.PolishConfirmedAt);
        story.Start(Stage.CaseWork);
    }

    [Fact]
    public void Polished_without_asking_waits_for_a_manager_when_it_is_only_reported()
    {
        var story = With(PolishWish.Yes);

        var told = story.Says(new StageFinished { Stage = Stage.CaseWork }, already: true);

        Assert.Equal(Outcome.Noted, told.Outcome);
        Assert.Contains("polish-confirmed", told.Against.Select(one => one.Gate));
    }

    private static Story With(PolishWish? wish)
    {
        var story = new Story(taken: new JobTakenIn
        {
            Variant = "full-automatic",
            Customer = "c",
            Watch = "w",
            Polish = wish,
            Missing = IntakeNeeds.Missing(IntakeNeeds.All.Select(one => one.Member).Where(member => member != IntakeMember.PolishConfirmed).ToHashSet(), wish, TestShop.FullAutomatic),
        });
        return story.Through(Stage.CaseStrip);
    }
}
