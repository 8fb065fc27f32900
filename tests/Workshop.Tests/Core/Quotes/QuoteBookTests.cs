using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Promises;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Quotes;

public class QuoteBookTests
{
    [Fact]
    public void A_quote_that_was_sent_waits_and_an_accepted_one_stands()
    {
        var story = Diagnosed();
        story.DeskDoes(story.Quote());
        Assert.Equal(StageState.Running, story[Stage.Quote]);

        story.DeskDoes(Story.Answer());
        Assert.Equal(StageState.Done, story[Stage.Quote]);
        Assert.True(story.Job.Quotes.AnyAccepted);
    }

    [Fact]
    public void A_quote_asks_for_a_diagnosis()
    {
        var story = new Story();

        Assert.Equal(("needs/diagnosis", Strength.Ask), Of(story.RefusedBy(story.Quote(), TestShop.Desk)));
    }

    [Fact]
    public void Only_the_newest_version_is_answered()
    {
        var story = Diagnosed();
        story.DeskDoes(story.Quote()).DeskDoes(story.Quote(2)).After(Duration.FromMinutes(1));

        Assert.Equal(("quote-newest", Strength.Stop), Of(story.RefusedBy(Story.Answer(), TestShop.Desk, despite: ["quote-newest"])));
        Assert.Equal("quote-newest", story.RefusedBy(Story.Answer(version: 3), TestShop.Desk).Gate);
        story.DeskDoes(Story.Answer(version: 2));
    }

    [Fact]
    public void A_quote_is_good_to_the_end_of_its_last_day()
    {
        // Sent 2 March 2026 for thirty days: through 1 April, over at 22:00 universal time, for the clocks change in between.
        var story = Diagnosed();
        story.DeskDoes(story.Quote());
        Assert.Equal(new LocalDate(2026, 4, 1), story.Job.Quotes.Newest!.ValidThrough);
        var over = Instant.FromUtc(2026, 4, 1, 22, 0);

        Assert.Equal(("quote-valid", Strength.Stop), Of(story.At(over).RefusedBy(Story.Answer(), TestShop.Desk, despite: ["quote-valid"])));
        story.At(over - Duration.FromMinutes(1)).Does(Story.Answer(), TestShop.Desk, role: "desk");
    }

    [Fact]
    public void A_refusal_of_a_quote_that_ran_out_is_taken()
    {
        var story = Diagnosed();
        story.DeskDoes(story.Quote()).At(2026, 5, 1, 10).DeskDoes(Story.Answer(accepted: false));

        Assert.True(story.Job.Standings.ReturnsUnrepaired);
    }

    [Fact]
    public void A_refused_quote_leads_to_the_return_which_replaces_all_that_follows()
    {
        var story = Diagnosed();
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false));

        Assert.Equal([Stage.Intake, Stage.Diagnosis, Stage.ReturnUnrepaired, Stage.HandedOver], story.Job.Standings.Plan.Select(planned => planned.Stage));
        Assert.Equal(Stage.ReturnUnrepaired, story.Job.Standings.Current);
        Assert.Equal("in-route", story.RefusedBy(new StageStarted { Stage = Stage.Takedown }).Gate);
        Assert.Equal("needs/return-unrepaired", story.RefusedBy(story.HandedOver(), TestShop.Desk).Gate);

        story.DeskDoes(new StageFinished { Stage = Stage.ReturnUnrepaired }).DeskDoes(story.HandedOver());
        Assert.Equal(Stage.HandedOver, story.Job.Standings.Current);
        Assert.True(story.Job.Standings.HandedOver);
        Assert.Empty(story.Job.Warranty.Lines);
        Assert.Null(story.Job.Promise.Given);
    }

    [Fact]
    public void A_watch_that_goes_back_is_closed_again_without_a_casing()
    {
        var story = Diagnosed();
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false)).After(Duration.FromMinutes(1)).Does(story.Closing());

        Assert.True(story.Job.Case.Closed);
        Assert.Equal(StageState.Open, story[Stage.Casing]);
    }

    [Fact]
    public void A_new_version_after_a_refusal_asks_again()
    {
        var story = Diagnosed();
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false)).DeskDoes(story.Quote(2));
        Assert.Equal(Stage.Quote, story.Job.Standings.Current);
        Assert.Equal(StageState.Running, story[Stage.Quote]);

        story.DeskDoes(Story.Answer(version: 2)).Through(Stage.HandedOver);
    }

    [Fact]
    public void A_supplementary_version_holds_the_work_until_it_is_answered_and_voids_nothing()
    {
        var story = new Story().Through(Stage.Inspection).After(Duration.FromHours(1));
        story.DeskDoes(story.Quote(2));
        var hold = Assert.Single(story.Job.Holds.Standing);
        Assert.Equal((HoldReason.Approval, true), (hold.Reason, hold.StopsPromise));
        Assert.Equal(StageState.Done, story[Stage.Quote]);
        Assert.Contains("hold/approval", story.Refused(new StageStarted { Stage = Stage.Rebuild }).Select(gate => gate.Gate));

        story.After(Duration.FromHours(1)).DeskDoes(Story.Answer(version: 2));
        Assert.Empty(story.Job.Holds.Standing);
        story.Start(Stage.Rebuild);
    }

    [Fact]
    public void A_refused_supplementary_version_goes_on_with_what_was_agreed()
    {
        var story = new Story().Through(Stage.Inspection).After(Duration.FromHours(1));
        story.DeskDoes(story.Quote(2)).DeskDoes(Story.Answer(accepted: false, version: 2));

        Assert.False(story.Job.Standings.ReturnsUnrepaired);
        Assert.Empty(story.Job.Holds.Standing);
        Assert.Single(story.Entries, entry => entry.Event is PromiseGiven);
    }

    private static Story Diagnosed() => new Story().Through(Stage.Diagnosis);

    private static (string Gate, Strength Strength) Of(Objection one) => (one.Gate, one.Strength);
}
