using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Corrections;
using Workshop.Core.FinalControls;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Money;
using Workshop.Core.Parts;
using Workshop.Core.PublicPage;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.Warranties;

namespace Workshop.Tests.Core.PublicPage;

/// <summary>What a customer is told of where the watch is. Common practice: what is done again inside the house takes nothing back.</summary>
public class PublicStandingTests
{
    [Fact]
    public void A_watch_goes_through_its_public_stages_in_order()
    {
        var story = new Story();
        List<PublicStage> shown = [Shown(story).Stage];
        foreach (var stage in new[] { Stage.Diagnosis, Stage.Quote, Stage.Takedown, Stage.Regulation, Stage.Gaskets, Stage.DialAndHands, Stage.WearCheck, Stage.FinalControl, Stage.HandedOver })
        {
            story.Through(stage);
            shown.Add(Shown(story).Stage);
        }

        Assert.Equal(
            [
                PublicStage.Received, PublicStage.BeingExamined, PublicStage.Approved, PublicStage.AtTheWatchmaker, PublicStage.CaseInWork, PublicStage.AtTheWatchmaker, PublicStage.BeingTested,
                PublicStage.BeingTested, PublicStage.Ready, PublicStage.YoursAgain,
            ],
            shown);
        Assert.Equal(
            [PublicStage.Received, PublicStage.BeingExamined, PublicStage.YourDecision, PublicStage.Approved, PublicStage.AtTheWatchmaker, PublicStage.CaseInWork, PublicStage.BeingTested, PublicStage.Ready, PublicStage.YoursAgain],
            story.Job.Progress.Steps.Select(step => step.Stage));
    }

    [Fact]
    public void An_open_quote_waits_for_the_customer_until_the_last_day_is_over()
    {
        var story = new Story().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote());
        var sent = story.Now;
        var last = story.Job.Quotes.Newest!.ValidThrough;

        Assert.Equal(new PublicStanding(PublicStage.YourDecision, sent, PublicStage.Approved, WaitingOn.You, WaitingFor.Decision), Shown(story));
        Assert.Equal(PublicStage.YourDecision, Shown(story, TestShop.Local(last.Year, last.Month, last.Day, 23, 59)).Stage);

        var over = last.PlusDays(1);
        Assert.Equal((PublicStage.BeingExamined, WaitingOn.Us), StageAndOn(Shown(story, TestShop.Local(over.Year, over.Month, over.Day, 0, 0))));
    }

    [Fact]
    public void A_failed_worn_check_is_still_being_tested()
    {
        var story = new Story().Through(Stage.WaterTest).Does(Story.WearStart());
        story.At(story.Job.WearChecks.Running!.Due!.Value + Duration.FromMinutes(5)).Does(Story.WearRead(60));
        Assert.Equal(StageState.Failed, story[Stage.WearCheck]);

        story.Does(new IndexTouched());

        Assert.Equal((PublicStage.BeingTested, WaitingOn.Us), StageAndOn(Shown(story)));
    }

    [Fact]
    public void A_final_control_that_sends_the_watch_back_to_the_rebuild_is_no_step_back()
    {
        var story = new Story().Through(Stage.ReserveAndFunctions);
        story.Does(new FinalControlRefused { To = Stage.Rebuild, Reason = "amplitude" }, TestShop.Jonas).Finish(Stage.Rebuild);

        Assert.Equal((PublicStage.BeingTested, WaitingOn.Us), StageAndOn(Shown(story)));
    }

    [Fact]
    public void A_watch_whose_control_fell_after_it_was_ready_stays_ready_and_waits_for_the_house()
    {
        var story = new Story().Through(Stage.FinalControl);
        Assert.Equal((PublicStage.Ready, WaitingOn.You), StageAndOn(Shown(story)));
        Assert.Equal(WaitingFor.Collection, Shown(story).WaitingFor);

        story.Does(new CaseOpened { Reason = "fibre under the crystal" });

        Assert.Equal((PublicStage.Ready, WaitingOn.Us), StageAndOn(Shown(story)));
        Assert.False(PublicStanding.IsReady(story.Job));
    }

    [Fact]
    public void Bad_news_told_after_the_final_control_takes_ready_back_from_nobody()
    {
        var story = new Story().Through(Stage.FinalControl);
        var controlled = story.Now;
        story.At(controlled + Duration.FromHours(3)).Says(new CaseOpened { Reason = "told late" }, at: controlled - Duration.FromMinutes(5), source: "/devices/bench-2/1");

        Assert.NotEqual(StageState.Done, story[Stage.FinalControl]);
        Assert.Equal((PublicStage.Ready, WaitingOn.Us), StageAndOn(Shown(story)));
    }

    [Fact]
    public void An_approved_further_quote_leads_to_approved_and_the_work_goes_on_from_there()
    {
        var story = new Story().Through(Stage.DialAndHands);
        Assert.Equal(PublicStage.BeingTested, Shown(story).Stage);

        story.DeskDoes(story.Quote(version: 2));
        Assert.Equal(PublicStage.YourDecision, Shown(story).Stage);

        story.DeskDoes(Story.Answer(version: 2));
        Assert.Equal(PublicStage.Approved, Shown(story).Stage);

        story.SendBack(Stage.DialAndHands, Stage.Rebuild).Finish(Stage.Rebuild);
        Assert.Equal(PublicStage.AtTheWatchmaker, Shown(story).Stage);
    }

    [Fact]
    public void A_declined_further_quote_leaves_the_watch_where_it_was()
    {
        var story = new Story().Through(Stage.DialAndHands);
        story.DeskDoes(story.Quote(version: 2)).DeskDoes(Story.Answer(accepted: false, version: 2));

        Assert.Equal(PublicStage.BeingTested, Shown(story).Stage);
    }

    [Fact]
    public void Another_kind_of_work_leads_to_approved_once_its_own_quote_is()
    {
        var story = new Story().Through(Stage.Rebuild);
        story.Does(new VariantChanged { Variant = "full-chronograph", Was = "full-automatic", Reason = "it is one" }, TestShop.Manager);
        Assert.Equal((PublicStage.AtTheWatchmaker, WaitingOn.Us), StageAndOn(Shown(story)));

        story.DeskDoes(story.Quote(version: 2)).DeskDoes(Story.Answer(version: 2));

        Assert.Equal(PublicStage.Approved, Shown(story).Stage);
    }

    [Fact]
    public void A_refused_quote_brings_the_watch_back_unrepaired()
    {
        var story = new Story().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false));
        Assert.Equal((PublicStage.BeingExamined, PublicStage.Ready), (Shown(story).Stage, Shown(story).Next));

        story.Finish(Stage.ReturnUnrepaired);
        Assert.Equal((PublicStage.Ready, WaitingFor.Collection, PublicStage.Returned), (Shown(story).Stage, Shown(story).WaitingFor, Shown(story).Next));

        story.DeskDoes(story.HandedOver());
        Assert.Equal((PublicStage.Returned, WaitingOn.Nobody), StageAndOn(Shown(story)));
    }

    [Fact]
    public void A_parcel_is_on_its_way_until_it_is_said_or_presumed_to_have_come()
    {
        var story = new Story().Through(Stage.Settlement);
        story.DeskDoes(story.HandedOver() with { How = HandedOverHow.Dispatched });
        var sent = story.Now;

        Assert.Equal((PublicStage.OnItsWay, PublicStage.YoursAgain), (Shown(story).Stage, Shown(story).Next));
        Assert.Equal(PublicStage.OnItsWay, Shown(story, sent + Duration.FromDays(5)).Stage);
        Assert.Equal((PublicStage.YoursAgain, WaitingOn.Nobody), StageAndOn(Shown(story, sent + Duration.FromDays(7))));

        story.DeskDoes(new DeliveryRecorded { On = story.Rules.Calendar.DateOf(story.Now), How = DeliveryProof.Carrier });
        Assert.Equal(PublicStage.YoursAgain, Shown(story).Stage);
    }

    [Fact]
    public void A_control_that_was_told_of_the_wrong_watch_has_never_been()
    {
        var story = new Story().Through(Stage.FinalControl);
        var passed = story.Entries.Last(entry => entry.Event is FinalControlPassed).Id;
        story.After(Duration.FromMinutes(5)).Does(new CorrectionMade { Of = passed, Reason = "the wrong watch" }, TestShop.Manager);

        Assert.Equal(PublicStage.BeingTested, Shown(story).Stage);
    }

    [Fact]
    public void A_hold_for_parts_shows_the_wait_and_the_day_of_the_last_part()
    {
        var story = new Story().Through(Stage.Takedown);
        story.Does(new HoldPlaced { Hold = HoldReason.Parts }).DeskDoes(new PartExpected { Part = "mainspring", Order = "o-1", ExpectedOn = new LocalDate(2026, 3, 20) });

        var shown = Shown(story);
        Assert.Equal((PublicStage.WaitingForPart, WaitingOn.Part, PublicStage.AtTheWatchmaker, new LocalDate(2026, 3, 20)), (shown.Stage, shown.WaitingOn, shown.Next!.Value, shown.PartExpectedOn!.Value));

        story.DeskDoes(new PartExpected { Part = "crown", Order = "o-2" });
        Assert.Null(Shown(story).PartExpectedOn);

        story.Does(new HoldLifted { Hold = HoldReason.Parts });
        Assert.Equal((PublicStage.AtTheWatchmaker, WaitingOn.Us), StageAndOn(Shown(story)));
    }

    [Theory]
    [InlineData(HoldReason.Query)]
    [InlineData(HoldReason.Damage)]
    [InlineData(HoldReason.Loss)]
    [InlineData(HoldReason.Dispute)]
    [InlineData(HoldReason.Legal)]
    [InlineData(HoldReason.Person)]
    [InlineData(HoldReason.Other)]
    public void What_is_looked_into_inside_the_house_waits_for_the_house(HoldReason hold)
    {
        var story = new Story().Through(Stage.FinalControl);
        story.Does(new HoldPlaced { Hold = hold, Reason = "nobody's business" }, TestShop.Manager);

        Assert.Equal((PublicStage.Ready, WaitingOn.Us, null), (Shown(story).Stage, Shown(story).WaitingOn, Shown(story).WaitingFor));
    }

    [Fact]
    public void A_quote_is_asked_about_whatever_is_looked_into_meanwhile()
    {
        var story = new Story().Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote()).Does(new HoldPlaced { Hold = HoldReason.Legal, Reason = "on a register" }, TestShop.Manager);

        Assert.Equal((PublicStage.YourDecision, WaitingOn.You), StageAndOn(Shown(story)));
    }

    [Fact]
    public void A_deposit_that_has_not_come_is_waited_for()
    {
        var story = new Story(rules: TestShop.Rules with { Money = new MoneyRules { Kept = MoneyKept.Here } }).Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote() with { DepositMinor = 20_000 }).DeskDoes(Story.Answer());

        Assert.Equal((PublicStage.Approved, WaitingOn.You, WaitingFor.Deposit), (Shown(story).Stage, Shown(story).WaitingOn, Shown(story).WaitingFor));
    }

    [Fact]
    public void A_claim_that_is_not_decided_waits_for_the_house()
    {
        var story = new Story().Through(Stage.HandedOver);
        story.DeskDoes(new ClaimReported { Claim = 1, ReportedOn = story.Rules.Calendar.DateOf(story.Now), Text = "it stops" });

        Assert.Equal((PublicStage.YoursAgain, WaitingOn.Us, WaitingFor.Claim), (Shown(story).Stage, Shown(story).WaitingOn, Shown(story).WaitingFor));
    }

    private static PublicStanding Shown(Story story, Instant? at = null) => PublicStanding.Of(story.Job, story.Rules, at ?? story.Now);

    private static (PublicStage, WaitingOn) StageAndOn(PublicStanding standing) => (standing.Stage, standing.WaitingOn);
}
