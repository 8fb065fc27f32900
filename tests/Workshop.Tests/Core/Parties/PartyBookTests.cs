using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Parties;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Parties;

public class PartyBookTests
{
    [Fact]
    public void Everyone_is_the_customer_of_the_intake_until_told_otherwise()
    {
        var story = new Story();
        var customer = story.Job.Intake.Customer;
        Assert.NotEmpty(customer);
        Assert.Equal([customer], story.Job.Parties.All);
        Assert.Equal((customer, customer, 1), (story.Job.Parties.Decides, Assert.Single(story.Job.Parties.Told), story.Job.Parties.Version));

        story.DeskDoes(new PartiesChanged { Payer = "ida", Decides = "ida", Told = ["tom", "ida"] });

        Assert.Equal((customer, "ida", 2), (story.Job.Parties.Owner, story.Job.Parties.Decides, story.Job.Parties.Version));
        Assert.Equal<string>(["tom", "ida"], story.Job.Parties.Told);

        // The whole of it, never a difference.
        story.DeskDoes(new PartiesChanged { Owner = "tom" });
        Assert.Equal(("tom", customer), (story.Job.Parties.Owner, story.Job.Parties.Payer));
    }

    [Fact]
    public void Before_its_day_nobody_but_the_giver_knows_of_a_gift()
    {
        var day = new LocalDate(2026, 5, 10);
        var parties = new Story().DeskDoes(new PartiesChanged { Payer = "ida", Recipient = "tom", Told = ["ida", "tom"], NotBefore = day }).Job.Parties;

        Assert.Equal("ida", parties.Giver);
        Assert.True(parties.MayKnow("ida", day.PlusDays(-1)));
        Assert.False(parties.MayKnow("tom", day.PlusDays(-1)));
        Assert.True(parties.MayKnow("tom", day));
    }

    [Fact]
    public void Whoever_has_died_agrees_to_nothing_and_the_agenda_asks_for_a_new_decider()
    {
        var story = new Story().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote());
        var decides = story.Job.Parties.Decides;
        story.DeskDoes(new PartyStandingTold { Customer = decides, Deceased = true });

        Assert.Equal("decider-there", story.RefusedBy(Story.Answer(), TestShop.Desk).Gate);
        Assert.Single(story.Agenda(), row => row.Kind == AgendaKind.DeciderGone);

        story.DeskDoes(new PartiesChanged { Decides = "the daughter" });
        Assert.DoesNotContain(story.Agenda(), row => row.Kind == AgendaKind.DeciderGone);
        Assert.Equal(StageState.Done, story.DeskDoes(Story.Answer())[Stage.Quote]);
    }

    [Fact]
    public void A_letter_that_came_back_is_on_the_agenda_until_another_way_is_known()
    {
        var story = new Story();
        var customer = story.Job.Intake.Customer;
        story.DeskDoes(new PartyStandingTold { Customer = customer, Unreachable = [PartyWay.Email] });

        Assert.True(story.Job.Parties.IsUnreachable(customer, PartyWay.Email));
        Assert.Single(story.Agenda(), row => row.Kind == AgendaKind.Unreachable);

        story.DeskDoes(new PartyStandingTold { Customer = customer });
        Assert.DoesNotContain(story.Agenda(), row => row.Kind == AgendaKind.Unreachable);
    }
}
