using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Promises;
using Workshop.Core.Route;
using Workshop.Core.Waivers;
using static Workshop.Tests.Core.Route.KindsOfWork;

namespace Workshop.Tests.Core.Route;

public class VariantChangeTests
{
    [Fact]
    public void A_regulation_that_becomes_a_service_keeps_what_is_done_and_adds_what_is_missing()
    {
        var story = Begin(Regulation).Through(Stage.Regulation).BecomesBy(TestShop.FullAutomatic);

        Assert.Equal("full-automatic", story.Job.Intake.Variant);
        Assert.Equal("full-automatic", story.Job.Route!.Id);
        Assert.Equal(StageState.Done, story[Stage.Diagnosis]);
        Assert.Equal(StageState.Done, story[Stage.Queue]);
        Assert.Equal(StageState.Void, story[Stage.Quote]);
        Assert.All((Stage[])[Stage.Takedown, Stage.Rebuild, Stage.CaseWork, Stage.WaterTest], stage => Assert.Contains(stage, story.Job.Standings.Required.Select(one => one.Stage)));
        Assert.Single(story.Job.Timekeeping.RateSets);
    }

    [Fact]
    public void What_rests_on_work_that_is_added_is_done_again()
    {
        var story = Begin(Regulation).Through(Stage.WearCheck).BecomesBy(TestShop.FullAutomatic);

        // A movement that will be taken down was regulated for nothing, and cased for nothing.
        Assert.All((Stage[])[Stage.Regulation, Stage.Casing, Stage.WearCheck], stage => Assert.Equal(StageState.Void, story[stage]));
    }

    [Fact]
    public void A_service_that_was_a_regulation_goes_its_whole_way()
    {
        var story = Begin(Regulation).Through(Stage.Regulation).BecomesBy(TestShop.FullAutomatic).Through(Stage.HandedOver);

        Assert.All(TestShop.FullAutomatic.Stages, one => Assert.True(story.Job.Standings.Stands(one.Stage), $"{one.Stage}"));
        Assert.Equal(["movement", "water-resistance"], story.Job.Warranty.Terms.Select(term => term.Line));
    }

    [Fact]
    public void A_service_that_becomes_case_work_keeps_the_case_and_has_no_movement_branch()
    {
        var story = Begin(TestShop.FullAutomatic).Through(Stage.Quote).Finish(Stage.CaseStrip).BecomesBy(CaseOnly);

        Assert.Equal(StageState.Done, story[Stage.CaseStrip]);
        Assert.DoesNotContain(story.Job.Standings.Plan, one => one.Branch == Branch.Movement);
        story.Through(Stage.HandedOver);
        Assert.Equal(StageState.Open, story[Stage.Rebuild]);
    }

    [Fact]
    public void What_the_new_kind_lacks_is_kept_and_comes_back_with_the_old_one()
    {
        var story = Begin(TestShop.FullAutomatic).Through(Stage.Inspection);
        story.BecomesBy(CaseOnly, "movement-together");
        Assert.Null(story.Job.Standings.InPlan(Stage.Inspection));

        story.BecomesBy(TestShop.FullAutomatic);

        Assert.Equal(StageState.Done, story[Stage.Inspection]);
        Assert.Equal(Stage.Quote, story.Job.Standings.Current);
    }

    [Fact]
    public void A_result_that_a_waiver_let_stand_stands_in_the_new_kind_too()
    {
        var story = Begin(TestShop.FullAutomatic).Through(Stage.Takedown);
        story.Does(new WaiverGiven { Gate = "needs/cleaning", Reason = "washed at the bench" }, TestShop.Manager).Finish(Stage.Inspection);

        story.BecomesBy(TestShop.FullChronograph);

        Assert.Equal(StageState.Done, story[Stage.Inspection]);
    }

    [Fact]
    public void Work_waits_for_the_customer_who_had_agreed_to_something_else()
    {
        var story = Begin(Regulation).Through(Stage.Quote).BecomesBy(TestShop.FullAutomatic);

        Assert.True(story.Job.Holds.Holds(HoldReason.Approval));
        Assert.Contains(story.Refused(new StageStarted { Stage = Stage.Takedown }), one => one.Gate == "hold/approval");
        story.DeskDoes(story.Quote(2)).DeskDoes(Story.Answer(version: 2));
        Assert.False(story.Job.Holds.Holds(HoldReason.Approval));
        story.Start(Stage.Takedown);
    }

    [Fact]
    public void Nobody_is_asked_anew_who_had_not_agreed_to_anything()
    {
        var story = Begin(Regulation).Through(Stage.Diagnosis).BecomesBy(TestShop.FullAutomatic);

        Assert.False(story.Job.Holds.Holds(HoldReason.Approval));
        Assert.Equal(Stage.Quote, story.Job.Standings.Current);
    }

    [Fact]
    public void A_new_approval_gives_a_new_date_counted_from_its_day()
    {
        var story = Begin(Regulation);
        story.Through(Stage.Diagnosis).DeskDoes(story.Quote(workingDays: 4)).DeskDoes(Story.Answer());
        Assert.Equal(new LocalDate(2026, 3, 6), story.Job.Promise.On);

        story.BecomesBy(TestShop.FullAutomatic).At(2026, 3, 5, 10).DeskDoes(story.Quote(2, workingDays: 20)).DeskDoes(Story.Answer(version: 2));

        // Thursday, 5 March and twenty open days.
        Assert.Equal(new LocalDate(2026, 4, 2), story.Job.Promise.On);
        var moved = Assert.Single(story.Entries, entry => entry.Event is PromiseMoved).Event as PromiseMoved;
        Assert.Equal((PromiseReason.SupplementaryWork, new LocalDate(2026, 3, 6)), (moved!.Reason, moved.From));
        Assert.Equal((new LocalDate(2026, 3, 5), 20), (story.Job.Promise.Given!.ApprovedOn, story.Job.Promise.Given.WorkingDays));
    }

    [Fact]
    public void Stops_after_a_new_approval_count_from_the_new_date_and_those_before_it_do_not()
    {
        var story = Begin(Regulation);
        story.Through(Stage.Diagnosis).DeskDoes(story.Quote(workingDays: 4)).DeskDoes(Story.Answer());
        story.BecomesBy(TestShop.FullAutomatic).At(2026, 3, 5, 10).DeskDoes(story.Quote(2, workingDays: 20)).DeskDoes(Story.Answer(version: 2));
        story.At(2026, 3, 9, 10).DeskDoes(new HoldPlaced { Hold = HoldReason.Customer, Reason = "the strap" });
        story.At(2026, 3, 11, 10).DeskDoes(new HoldLifted { Hold = HoldReason.Customer });

        Assert.Equal(new LocalDate(2026, 4, 6), story.Job.Promise.On);
    }

    [Fact]
    public void A_quote_for_the_old_kind_can_be_accepted_no_more()
    {
        var story = Begin(Regulation);
        story.Through(Stage.Diagnosis).DeskDoes(story.Quote()).BecomesBy(TestShop.FullAutomatic);

        Assert.Equal("quote-newest", Assert.Single(story.After(Duration.FromMinutes(1)).Says(Story.Answer(), TestShop.Desk, source: "/desk/1").Against).Gate);
        Assert.DoesNotContain(story.Agenda(), row => row.Line.StartsWith("Quote", StringComparison.Ordinal));
    }

    [Fact]
    public void A_customer_who_had_agreed_to_less_and_refuses_more_has_a_watch_that_waits_not_one_that_goes_back()
    {
        var story = Begin(Regulation).Through(Stage.Quote).BecomesBy(TestShop.FullAutomatic);
        story.DeskDoes(story.Quote(2)).DeskDoes(Story.Answer(accepted: false, version: 2));

        Assert.False(story.Job.Standings.ReturnsUnrepaired);
        Assert.Contains(story.Refused(new StageFinished { Stage = Stage.Rebuild }), one => one.Gate == "needs/quote");
        story.BecomesBy(Return).Does(new StageFinished { Stage = Stage.ReturnUnrepaired }, TestShop.Desk, role: "desk").DeskDoes(story.HandedOver());
        Assert.Empty(story.Job.Warranty.Terms);
    }

    [Fact]
    public void A_customer_who_had_agreed_to_nothing_and_refuses_gets_the_watch_back()
    {
        var story = Begin(Regulation).Through(Stage.Diagnosis).BecomesBy(TestShop.FullAutomatic);
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false));

        Assert.True(story.Job.Standings.ReturnsUnrepaired);
    }

    [Fact]
    public void A_refused_estimate_walks_the_same_last_steps_as_a_return_that_was_chosen()
    {
        var story = Begin(TestShop.FullAutomatic).Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false));

        Assert.Equal(
            Return.Stages.Select(one => (one.Stage, string.Join(' ', one.Needs))).Where(one => one.Stage != Stage.Intake),
            story.Job.Standings.Plan.Select(one => (one.Stage, string.Join(' ', one.Needs))).SkipWhile(one => one.Stage != Stage.ReturnUnrepaired));
    }

    [Fact]
    public void A_watch_whose_estimate_was_refused_becomes_another_kind_of_work_after_all()
    {
        var story = Begin(TestShop.FullAutomatic).Through(Stage.Diagnosis);
        story.DeskDoes(story.Quote()).DeskDoes(Story.Answer(accepted: false)).BecomesBy(Regulation);

        Assert.False(story.Job.Standings.ReturnsUnrepaired);
        story.Through(Stage.HandedOver);
    }

    [Fact]
    public void A_movement_in_parts_is_not_left_to_a_kind_of_work_without_rebuild()
    {
        var story = Begin(TestShop.FullAutomatic).Through(Stage.Takedown);

        Assert.Equal("movement-together", story.RefusedBy(To(CaseOnly, TestShop.FullAutomatic), TestShop.Manager).Gate);
        story.BecomesBy(TestShop.FullChronograph);
        Assert.Equal(StageState.Done, story[Stage.Takedown]);
    }

    [Fact]
    public void A_movement_that_is_together_again_may_be_left_to_case_work()
    {
        var story = Begin(TestShop.FullAutomatic).Through(Stage.Rebuild).BecomesBy(CaseOnly);

        Assert.Equal("case-or-crystal", story.Job.Intake.Variant);
    }

    [Fact]
    public void Where_takedown_may_be_left_out_a_case_is_not_closed_over_a_movement_in_parts()
    {
        var story = Begin(Partial).Through(Stage.Quote).Finish(Stage.Takedown).Through(Stage.DialAndHands);

        Assert.Contains(story.Refused(story.Closing()), one => one.Gate == "movement-together");
        story.Finish(Stage.Rebuild).Does(Story.RateSet).Finish(Stage.Regulation).Does(story.Closing());
    }

    [Fact]
    public void A_watch_that_was_handed_over_is_no_other_kind_of_work()
    {
        var story = Begin(Regulation).Through(Stage.HandedOver);

        Assert.Equal("handed-over", story.RefusedBy(To(TestShop.FullAutomatic, Regulation), TestShop.Manager).Gate);
    }

    [Fact]
    public void A_final_control_is_passed_anew_for_the_new_kind()
    {
        var story = Begin(TestShop.FullAutomatic).Through(Stage.Settlement);
        Assert.True(story.Job.Standings.IsReady);

        story.BecomesBy(TestShop.FullChronograph);

        Assert.False(story.Job.Standings.IsReady);
        Assert.Equal(StageState.Void, story[Stage.FinalControl]);
        Assert.Equal(StageState.Done, story[Stage.Settlement]);
    }

    [Fact]
    public void A_worn_check_that_the_new_kind_does_not_have_is_neither_pass_nor_fail()
    {
        var story = Begin(TestShop.FullAutomatic).Through(Stage.WaterTest).Does(Story.WearStart()).BecomesBy(CellAndSeals);

        Assert.Null(story.Job.WearChecks.Running);
        Assert.Equal(0, story.Job.WearChecks.TotalFails);
        Assert.Empty(story.Agenda().Where(row => row.Kind == Workshop.Core.Agenda.AgendaKind.WearCheck));
    }

    [Fact]
    public void A_kind_of_work_without_a_quote_is_promised_from_intake_on()
    {
        var story = Begin(CellAndSeals);

        Assert.Equal(new LocalDate(2026, 3, 3), story.Job.Promise.On);
        story.Through(Stage.HandedOver);
    }

    [Fact]
    public void Supplementary_work_that_is_refused_leaves_fixed_price_work_as_it_was()
    {
        var story = Begin(CellAndSeals);
        story.DeskDoes(story.Quote());
        Assert.True(story.Job.Holds.Holds(HoldReason.Approval));

        story.DeskDoes(Story.Answer(accepted: false));

        Assert.False(story.Job.Standings.ReturnsUnrepaired);
        story.Through(Stage.HandedOver);
    }

    [Fact]
    public void Fixed_price_work_that_becomes_more_is_asked_about()
    {
        var story = Begin(CellAndSeals).BecomesBy(QuartzExchange);

        Assert.True(story.Job.Holds.Holds(HoldReason.Approval));
        Assert.Equal(Stage.Diagnosis, story.Job.Standings.Current);
    }

    [Fact]
    public void A_hold_for_an_approval_ends_with_a_kind_of_work_that_needs_none()
    {
        var story = Begin(QuartzExchange).Through(Stage.Quote);
        story.DeskDoes(story.Quote(2));
        Assert.True(story.Job.Holds.Holds(HoldReason.Approval));

        story.BecomesBy(CellAndSeals);

        Assert.False(story.Job.Holds.Holds(HoldReason.Approval));
    }

    [Fact]
    public void What_was_done_before_the_change_and_told_after_it_is_judged_by_the_old_kind()
    {
        var story = Begin(TestShop.FullAutomatic).Through(Stage.Quote);
        var done = story.Now + Duration.FromMinutes(1);
        story.After(Duration.FromMinutes(30)).BecomesBy(Regulation);

        var told = story.Says(new StageFinished { Stage = Stage.CaseStrip }, TestShop.Jonas, at: done, source: "/devices/bench-2/1");

        Assert.Equal(Outcome.Accepted, told.Outcome);
        Assert.Equal(StageState.Done, story[Stage.CaseStrip]);
        Assert.Equal("in-route", story.RefusedBy(new StageFinished { Stage = Stage.CaseWork }).Gate);
    }

    [Fact]
    public void A_takedown_told_late_waits_for_a_manager_when_the_job_became_work_without_rebuild_meanwhile()
    {
        var story = Begin(TestShop.FullAutomatic).Through(Stage.Quote);
        var done = story.Now + Duration.FromMinutes(1);
        story.After(Duration.FromMinutes(30)).BecomesBy(CaseOnly);

        Assert.Equal(Outcome.Noted, story.Says(new StageFinished { Stage = Stage.Takedown }, TestShop.Jonas, at: done, source: "/devices/bench-2/1").Outcome);
    }
}
