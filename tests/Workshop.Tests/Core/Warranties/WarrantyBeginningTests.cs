using NodaTime;
using Workshop.Core.Route;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.Core.Warranties;

/// <summary>Where a warranty starts. Thirty and seven days: common practice, and settings.</summary>
public class WarrantyBeginningTests
{
    private static readonly WarrantyOffer Movement = new("movement", Period.FromMonths(24));

    [Theory]
    [InlineData("2026-03-02", "2026-03-02", "2026-03-02")]
    [InlineData("2026-04-01", "2026-03-02", "2026-04-01")]
    [InlineData("2026-04-02", "2026-03-02", "2026-04-01")]
    [InlineData("2026-09-14", "2026-03-02", "2026-04-01")]
    [InlineData("2026-09-14", null, "2026-09-14")]
    public void A_watch_that_is_collected_late_starts_thirty_days_after_it_was_ready(string collected, string? ready, string starts)
    {
        var term = WarrantyBeginning.Begin(Movement, new Leaving(HandedOverHow.Collected, Date(collected), ready is null ? null : Date(ready)), WarrantyRuleSet.ShopDefault);

        Assert.Equal((Date(starts), Date(starts).PlusMonths(24)), (term.StartsOn, term.LastDay));
        Assert.Equal(Date(collected), term.HandedOverOn);
    }

    [Fact]
    public void The_times_are_the_shops_to_set()
    {
        var rules = WarrantyRuleSet.ShopDefault with { Start = new() { NotCollectedAfterReady = Period.FromDays(60), PresumedDeliveredAfterDispatch = Period.FromDays(3) } };

        Assert.Equal(Date("2026-05-01"), WarrantyBeginning.Begin(Movement, new Leaving(HandedOverHow.Collected, Date("2026-09-14"), Date("2026-03-02")), rules).StartsOn);
        Assert.Equal(Date("2026-03-05"), WarrantyBeginning.Begin(Movement, new Leaving(HandedOverHow.Dispatched, Date("2026-03-02"), Date("2026-03-01")), rules).StartsOn);
    }

    [Theory]
    [InlineData(null, "2026-03-09")]
    [InlineData("2026-03-04", "2026-03-09")]
    [InlineData("2026-03-09", "2026-03-09")]
    [InlineData("2026-03-12", "2026-03-12")]
    public void A_parcel_counts_as_delivered_after_seven_days_and_only_a_later_day_that_is_proven_takes_their_place(string? delivered, string starts)
    {
        var term = WarrantyBeginning.Begin(Movement, new Leaving(HandedOverHow.Dispatched, Date("2026-03-02"), Date("2026-01-01")), WarrantyRuleSet.ShopDefault);
        var line = WarrantyArithmetic.Lines([term], [], delivered is null ? null : Date(delivered))[0];

        Assert.Equal((Date(starts), Date(starts).PlusMonths(24)), (line.StartsOn, line.LastDay));
    }

    [Fact]
    public void How_it_starts_is_said()
    {
        var late = Line(new Leaving(HandedOverHow.Collected, Date("2026-09-14"), Date("2026-03-02")));
        var sent = Line(new Leaving(HandedOverHow.Dispatched, Date("2026-03-02"), null));
        var proven = Line(new Leaving(HandedOverHow.Dispatched, Date("2026-03-02"), null), Date("2026-03-12"));

        Assert.Equal(
            "24 months from the last day for collecting it, 1 April 2026: 1 April 2028 is the last day. "
            + "It was ready on 2 March 2026 and collected on 14 September 2026; without that the warranty starts 30 days after it was ready.",
            late.Why);
        Assert.Equal(
            "24 months from presumed delivery on 9 March 2026: 9 March 2028 is the last day. "
            + "It was dispatched on 2 March 2026; where nobody proves a later day it counts as delivered 7 days later.",
            sent.Why);
        Assert.Equal("24 months from delivery on 12 March 2026: 12 March 2028 is the last day.", proven.Why);
        Assert.Equal("24 Monate ab der Zustellung am 12. März 2026: letzter Tag ist der 12. März 2028.", proven.WhyIn(Language.German));
    }

    [Fact]
    public void Ready_is_the_day_of_the_final_control_and_paying_may_wait()
    {
        var story = new Story(begins: TestShop.Local(2026, 1, 5, 9)).Through(Stage.FinalControl);
        var ready = story.Rules.Calendar.DateOf(story.Now);
        story.At(2026, 6, 8, 10).Through(Stage.HandedOver);

        var line = story.Job.Warranty.Lines[0];
        Assert.Equal((ready.PlusDays(30), WarrantyStart.ReadyUncollected, Date("2026-06-08")), (line.StartsOn, line.Term.Start, line.HandedOverOn));
        Assert.True(WarrantyArithmetic.Covered(line, Date("2026-06-08")));
    }

    [Fact]
    public void Of_several_days_of_delivery_the_latest_counts_in_whatever_order_they_are_told()
    {
        var story = new Story(begins: TestShop.Local(2026, 1, 5, 9)).Through(Stage.Ready);
        var on = story.Rules.Calendar.DateOf(story.Now);
        story.DeskDoes(new JobHandedOver { How = HandedOverHow.Dispatched, On = on });
        Assert.Equal([on.PlusDays(7), on.PlusDays(7)], story.Job.Warranty.Lines.Select(line => line.StartsOn));

        story.After(Duration.FromDays(20)).DeskDoes(new DeliveryRecorded { On = on.PlusDays(12) }).DeskDoes(new DeliveryRecorded { On = on.PlusDays(9) });
        Assert.All(story.Job.Warranty.Lines, line => Assert.Equal(on.PlusDays(12), line.StartsOn));

        story.DeskDoes(new DeliveryRecorded { On = on.PlusDays(13), How = DeliveryProof.Signature });
        Assert.Equal(on.PlusDays(13).PlusMonths(24), story.Job.Warranty.Lines[0].LastDay);
    }

    [Fact]
    public void An_entry_from_before_there_were_rule_sets_keeps_its_meaning()
    {
        // As such entries stand in journals: four members a line, and nothing else.
        var story = new Story(begins: TestShop.Local(2025, 3, 3, 9)).Through(Stage.Ready).At(2025, 3, 14, 11);
        story.DeskDoes(story.HandedOver()).At(2026, 3, 1, 10)
            .DeskDoes(new ClaimReported { Claim = 1, ReportedOn = Date("2026-01-08"), ReceivedOn = Date("2026-03-01"), Text = "it loses" })
            .DeskDoes(new ClaimStayRecorded { Claim = 1, ReceivedOn = Date("2026-03-01"), ReturnedOn = Date("2026-03-01") })
            .DeskDoes(new ClaimDecided { Claim = 1, Covered = true, Reason = "ours" });
        var old = story.Entries.Select(entry => entry.Event is not JobHandedOver ? entry : entry with
        {
            Judged = entry.Judged with { Warranty = [new("movement", Period.FromMonths(24), Date("2025-03-14"), Date("2027-03-14")), new("water-resistance", Period.FromMonths(12), Date("2025-03-14"), Date("2026-03-14"))] },
        });

        var lines = Workshop.Core.Jobs.Job.Replay(story.Label, old).Warranty.Lines;

        // No new work of its own, and no limit to the arrival of the watch.
        Assert.Equal([Date("2027-03-14"), Date("2026-03-14")], lines.Select(line => line.LastDay));
        Assert.Equal([Date("2027-03-14"), Date("2026-09-01")], story.Job.Warranty.Lines.Select(line => line.LastDay));
    }

    [Fact]
    public void Each_line_is_counted_by_its_own_rules_and_one_that_is_none_does_not_begin()
    {
        var route = TestShop.FullAutomatic with
        {
            Warranty =
            [
                new("movement", Period.FromMonths(24)), new("parts-fitted", Period.FromMonths(24), Rules: "first-day-counts"),
                new("rate", Period.FromMonths(3), Text: "one re-adjustment"), new("polish", None: true), new("glued", Period.FromMonths(3), OnlyIf: Stage.Cleaning),
            ],
        };
        var rules = TestShop.With([route]) with { Warranties = new WarrantyRules { RuleSets = [WarrantyRuleSet.ShopDefault, RuleSetTests.Preset("first-day-counts")] } };
        var story = new Story(route, rules, begins: TestShop.Local(2025, 3, 3, 9)).Through(Stage.Ready).At(2025, 3, 14, 11);
        story.DeskDoes(story.HandedOver());

        Assert.Equal(
            [("movement", Date("2027-03-14")), ("parts-fitted", Date("2027-03-13")), ("rate", Date("2025-06-14")), ("glued", Date("2025-06-14"))],
            story.Job.Warranty.Lines.Select(line => (line.Line, line.LastDay)));
        Assert.Equal("one re-adjustment", story.Job.Warranty.Terms[2].Text);

        // What the shop decides afterwards reaches no warranty that has begun.
        story.Rules = TestShop.With([route]);
        Assert.Equal("24 months from hand-over on 14 March 2025, that day counted: 13 March 2027 is the last day.", story.Job.Warranty.Lines[1].Why);
    }

    private static WarrantyLine Line(Leaving leaving, LocalDate? delivered = null) =>
        WarrantyArithmetic.Lines([WarrantyBeginning.Begin(Movement, leaving, WarrantyRuleSet.ShopDefault)], [], delivered)[0];
}
