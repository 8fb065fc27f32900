using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Casing;
using Workshop.Core.Corrections;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Reports;
using Workshop.Core.Route;
using Workshop.Core.Waivers;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core.Corrections;

/// <summary>A wrong scan is taken back: the entry stays visible and the job is as if it had never been.</summary>
public class CorrectionTests
{
    [Fact]
    public void A_wrong_scan_is_undone_by_the_same_person_within_five_minutes_and_leaves_no_trace_in_the_job()
    {
        var story = new Story().Through(Stage.Takedown).After(Duration.FromMinutes(10));
        var before = Seen(story);
        story.Finish(Stage.Cleaning).After(Duration.FromMinutes(5));
        story.Does(Undo(story.Entries[^1]));

        Assert.Equal(before, Seen(story));
        Assert.Equal(story.Entries.Count, story.Job.Version);
    }

    [Fact]
    public void At_six_minutes_it_is_a_managers()
    {
        var story = new Story().Through(Stage.Takedown).After(Duration.FromMinutes(10)).Finish(Stage.Cleaning).After(Duration.FromMinutes(6));
        var undo = Undo(story.Entries[^1]);

        Assert.Equal("own-and-fresh", story.RefusedBy(undo).Gate);
        story.Does(undo, TestShop.Manager);
        Assert.Equal(StageState.Open, story[Stage.Cleaning]);
    }

    [Fact]
    public void The_five_minutes_run_from_when_it_was_done_and_not_from_when_it_was_heard()
    {
        var story = new Story().Through(Stage.Takedown).At(2026, 3, 2, 15);
        story.Does(new StageFinished { Stage = Stage.Cleaning }, at: story.Today(13));
        Assert.Equal("own-and-fresh", story.RefusedBy(Undo(story.Entries[^1])).Gate);

        // Both were done without a connection; the second reached its five minutes by its own clock.
        story.Does(Undo(story.Entries[^1]), at: story.Today(13, 4));
        Assert.Equal(StageState.Open, story[Stage.Cleaning]);
    }

    [Fact]
    public void Another_person_may_not_undo_it_nor_may_nobody()
    {
        var story = new Story().Through(Stage.Takedown).After(Duration.FromMinutes(10)).Finish(Stage.Cleaning);

        Assert.Equal("own-and-fresh", story.RefusedBy(Undo(story.Entries[^1]), TestShop.Jonas).Gate);
        Assert.Equal("own-and-fresh", story.RefusedBy(Undo(story.Entries[^1]), by: null).Gate);
    }

    [Fact]
    public void A_managers_badge_is_enough_at_the_key_of_a_bench()
    {
        var story = new Story().Through(Stage.Cleaning).After(Duration.FromHours(1));
        story.Does(Undo(Told(story, Stage.Cleaning)), TestShop.Manager, role: "bench");

        Assert.Equal(StageState.Open, story[Stage.Cleaning]);
    }

    [Fact]
    public void What_later_entries_rest_on_is_needed_and_the_refusal_names_in_which_order_to_go_back()
    {
        var story = new Story().Through(Stage.Inspection).After(Duration.FromMinutes(1));
        story.Does(new NoteWritten { Text = "a hair" });
        var refused = story.RefusedBy(Undo(Told(story, Stage.Takedown)), TestShop.Manager);

        Assert.Equal(("needed-later", Strength.Stop), (refused.Gate, refused.Strength));
        Assert.Equal([Told(story, Stage.Inspection).Id, Told(story, Stage.Cleaning).Id], refused.Entries.Select(one => one.Id));

        foreach (var stage in new[] { Stage.Inspection, Stage.Cleaning, Stage.Takedown })
        {
            story.Does(Undo(Told(story, stage)), TestShop.Manager);
        }

        Assert.Equal([StageState.Open, StageState.Open, StageState.Open], new[] { Stage.Inspection, Stage.Cleaning, Stage.Takedown }.Select(stage => story[stage]));
    }

    [Fact]
    public void What_passed_by_a_tap_does_not_need_what_is_taken_back()
    {
        var story = new Story().Through(Stage.Quote).After(Duration.FromMinutes(10));
        story.Does(new StageFinished { Stage = Stage.Inspection }, despite: ["needs/cleaning"]).Finish(Stage.Takedown);
        story.Does(Undo(Told(story, Stage.Takedown)));

        Assert.Equal(StageState.Done, story[Stage.Inspection]);
    }

    [Fact]
    public void A_right_reading_takes_the_place_of_a_wrong_one_and_changes_the_verdict_of_the_worn_check()
    {
        var story = new Story().Through(Stage.WaterTest).After(Duration.FromMinutes(10)).Does(Story.WearStart()).After(Duration.FromHours(24));
        var read = story.Now;
        story.Does(Story.WearRead(15));
        Assert.Equal(WearVerdict.Outside, story.Job.WearChecks.LastJudged!.Verdict);

        story.After(Duration.FromMinutes(3));
        var decision = story.Says(Story.WearRead(2), insteadOf: story.Entries[^1].Id);

        Assert.Equal(Outcome.Accepted, decision.Outcome);
        Assert.Equal((WearVerdict.Pass, read), (story.Job.WearChecks.LastJudged!.Verdict!.Value, story.Job.WearChecks.LastJudged.EndedAt!.Value));
        Assert.Equal((StageState.Done, 0), (story[Stage.WearCheck], story.Job.WearChecks.TotalFails));
    }

    [Fact]
    public void A_right_reading_is_refused_while_a_final_control_rests_on_the_wrong_one()
    {
        var story = new Story().Through(Stage.FinalControl).After(Duration.FromMinutes(1));
        var reading = story.Entries.Last(entry => entry.Event is WearCheckRead);
        var decision = story.Says(Story.WearRead(20), TestShop.Manager, insteadOf: reading.Id);

        Assert.Equal((Outcome.Refused, "needed-later"), (decision.Outcome, decision.Against[0].Gate));
        Assert.Equal([story.Entries.Last(entry => entry.Event is Workshop.Core.FinalControls.FinalControlPassed).Id], decision.Against[0].Entries.Select(one => one.Id));
        Assert.Equal(Outcome.Accepted, story.Says(Story.WearRead(4), TestShop.Manager, insteadOf: reading.Id).Outcome);
        Assert.True(story.Job.Standings.Stands(Stage.FinalControl));
    }

    [Fact]
    public void A_right_value_told_late_against_what_rests_on_the_wrong_one_is_noted_and_waits()
    {
        var story = new Story().Through(Stage.FinalControl).After(Duration.FromMinutes(1));
        var reading = story.Entries.Last(entry => entry.Event is WearCheckRead);
        var decision = story.Says(Story.WearRead(20), TestShop.Manager, insteadOf: reading.Id, already: true);

        Assert.Equal(Outcome.Noted, decision.Outcome);
        Assert.True(story.Job.Standings.Stands(Stage.WearCheck));
        story.Does(Undo(story.Entries.Last(entry => entry.Event is Workshop.Core.FinalControls.FinalControlPassed)), TestShop.Manager);

        // With the control gone nothing needs the wrong value any more, and the right one takes its place by itself.
        Assert.Equal((StageState.Failed, StageState.Open), (story[Stage.WearCheck], story[Stage.FinalControl]));
        Assert.Empty(story.Job.Reviews);
    }

    [Fact]
    public void A_chain_names_its_newest()
    {
        var story = new Story().Through(Stage.WaterTest).After(Duration.FromMinutes(10)).Does(Story.WearStart(1));
        var first = story.Entries[^1];
        story.Says(Story.WearStart(2), insteadOf: first.Id);
        var second = story.Entries[^1];
        var refused = story.Says(Story.WearStart(3), insteadOf: first.Id);

        Assert.Equal((Outcome.Refused, "newest-of-its-chain"), (refused.Outcome, refused.Against[0].Gate));
        Assert.Equal([second.Id], refused.Against[0].Entries.Select(one => one.Id));
        Assert.Equal([second.Id], story.RefusedBy(Undo(first)).Entries.Select(one => one.Id));

        Assert.Equal(Outcome.Accepted, story.Says(Story.WearStart(4), insteadOf: second.Id).Outcome);
        Assert.Equal((4, first.Effective), (story.Job.WearChecks.Running!.OffsetSeconds, story.Job.WearChecks.Running.StartedAt));
        Assert.Single(story.Job.WearChecks.Checks);
    }

    [Fact]
    public void What_was_replaced_stays_replaced_when_the_right_value_is_taken_back()
    {
        var story = new Story().Through(Stage.WaterTest).After(Duration.FromMinutes(10)).Does(Story.WearStart(1));
        story.Says(Story.WearStart(2), insteadOf: story.Entries[^1].Id);
        story.Does(Undo(story.Entries[^1]));

        Assert.Empty(story.Job.WearChecks.Checks);
        Assert.Equal(StageState.Open, story[Stage.WearCheck]);
    }

    [Fact]
    public void An_entry_that_takes_a_place_stands_next_to_the_one_it_replaces_whatever_came_at_the_same_moment()
    {
        var story = new Story().Through(Stage.Quote).After(Duration.FromMinutes(10));
        DeskSays(story, new HoldPlaced { Hold = HoldReason.Customer });
        var wrong = story.Entries[^1];
        DeskSays(story, new HoldLifted { Hold = HoldReason.Payment });
        Assert.Equal(wrong.Effective, story.Entries[^1].Effective);
        DeskSays(story, new HoldPlaced { Hold = HoldReason.Payment }, wrong.Id);

        // It was placed before it was lifted: desk commands have no numbers that could tell.
        Assert.Empty(story.Job.Holds.Standing);
        Assert.Equal(HoldReason.Payment, Assert.Single(story.Job.Holds.All).Reason);
    }

    [Fact]
    public void Corrections_settlements_and_the_services_entries_are_not_corrected()
    {
        var story = new Story().Through(Stage.Quote).After(Duration.FromMinutes(10)).Finish(Stage.Takedown);
        story.Does(Undo(story.Entries[^1]));

        Assert.Equal("/of", Fault(story.Says(Undo(story.Entries[^1]), TestShop.Manager)));
        Assert.Equal("/of", Fault(story.Says(Undo(story.Entries[0]), TestShop.Manager)));
        Assert.Equal("/of", Fault(story.Says(new CorrectionMade { Of = new EventId("/devices/bench-9/1", "e1"), Reason = "another watch" }, TestShop.Manager)));
        Assert.Equal("/insteadOf", Fault(story.Says(new StageFinished { Stage = Stage.Takedown }, TestShop.Manager, insteadOf: new EventId("/devices/bench-9/1", "e1"))));
        Assert.Equal("/insteadOf", Fault(story.Says(new StageStarted { Stage = Stage.Takedown }, TestShop.Manager, insteadOf: Told(story, Stage.Takedown).Id)));
    }

    [Fact]
    public void A_waiver_used_by_a_void_entry_is_free_again()
    {
        var story = new Story().Through(Stage.Takedown).After(Duration.FromMinutes(10));
        story.Does(new WaiverGiven { Gate = "needs/cleaning", Reason = "hand-cleaned elsewhere" }, TestShop.Manager).Finish(Stage.Inspection);
        story.Does(Undo(story.Entries[^1]));

        Assert.Null(story.Job.Waivers.All.Single().UsedBy);
        story.After(Duration.FromMinutes(1)).Finish(Stage.Inspection);
    }

    [Fact]
    public void What_an_entry_caused_goes_with_it_and_what_was_said_stays_said()
    {
        var story = new Story().Through(Stage.Quote);
        var (on, promised) = (story.Job.Promise.On, story.Entries.Count);
        story.At(2026, 3, 3, 10).Does(new HoldPlaced { Hold = HoldReason.Customer, Reason = "asks his wife" }, TestShop.Desk, role: "desk", source: "/desk/1");
        story.At(2026, 3, 9, 10).Does(new HoldLifted { Hold = HoldReason.Customer }, TestShop.Desk, role: "desk", source: "/desk/1");
        Assert.NotEqual(on, story.Job.Promise.On);
        var lifted = story.Entries.Last(entry => entry.Event is HoldLifted);
        Assert.Contains(story.Entries.Skip(promised), entry => entry.CausedBy == lifted.Id);
        story.Does(Undo(lifted), TestShop.Desk, role: "desk", source: "/desk/1");

        Assert.Equal(on, story.Job.Promise.On);
        Assert.True(story.Job.Holds.Holds(HoldReason.Customer));

        story.At(2026, 3, 9, 11).Says(new DueAnnounced { Kind = AgendaKind.Promise, Ref = "promise", Level = AgendaLevel.Due, Due = story.Now }, by: null, role: "service", source: EventId.Service);
        Assert.True(story.Job.Announcements.Has(AgendaKind.Promise, "promise", AgendaLevel.Due, story.Now));
    }

    [Fact]
    public void Bad_news_that_was_no_news_gives_back_what_it_took()
    {
        var story = new Story().Through(Stage.WearCheck).After(Duration.FromMinutes(10)).Does(new CaseOpened());
        Assert.Equal((StageState.Void, StageState.Void), (story[Stage.Casing], story[Stage.WearCheck]));
        story.Does(Undo(story.Entries[^1]));

        Assert.Equal((StageState.Done, StageState.Done), (story[Stage.Casing], story[Stage.WearCheck]));
    }

    [Fact]
    public void An_event_that_is_told_later_sees_the_job_without_the_void_entry()
    {
        var story = new Story().Through(Stage.Quote).At(2026, 3, 3, 10).Finish(Stage.Takedown).After(Duration.FromMinutes(2));
        story.Does(Undo(Told(story, Stage.Takedown))).At(2026, 3, 3, 15);

        Assert.Equal(Outcome.Noted, story.Says(new StageFinished { Stage = Stage.Cleaning }, at: story.Today(10, 1)).Outcome);
    }

    [Fact]
    public void A_report_that_is_taken_back_waits_for_nobody_and_its_query_is_gone()
    {
        var story = new Story().Through(Stage.Diagnosis).At(2026, 3, 3, 15);
        story.Says(new StageFinished { Stage = Stage.Rebuild }, at: story.Today(13));
        Assert.Single(story.Job.Reviews);
        story.Does(Undo(Told(story, Stage.Rebuild)), TestShop.Manager);

        Assert.Empty(story.Job.Reviews);
        Assert.Empty(story.Job.Holds.Standing);
    }

    [Fact]
    public void What_was_released_by_an_entry_that_is_taken_back_waits_again_and_is_released_anew()
    {
        var story = new Story().Through(Stage.Quote).At(2026, 3, 4, 8);
        story.Says(new StageFinished { Stage = Stage.Cleaning }, at: TestShop.Local(2026, 3, 3, 11), source: "/devices/bench-2/1");
        story.Does(new StageFinished { Stage = Stage.Takedown }, at: TestShop.Local(2026, 3, 3, 10));
        var takedown = Told(story, Stage.Takedown);
        Assert.Equal(StageState.Done, story[Stage.Cleaning]);

        // It was another watch's takedown, as a manager says although the cleaning rests on it.
        Assert.Equal(Outcome.Noted, story.Says(Undo(takedown), already: true, at: takedown.Effective).Outcome);
        story.Does(new ReportSettled { Of = story.Entries.Last(entry => entry.Event is CorrectionMade).Id, As = SettledAs.Happened, Reason = "two labels exchanged" }, TestShop.Manager);
        Assert.Equal((StageState.Open, StageState.Open), (story[Stage.Takedown], story[Stage.Cleaning]));
        Assert.Equal([Told(story, Stage.Cleaning).Id], story.Job.Reviews.Select(review => review.Id));

        story.Does(new StageFinished { Stage = Stage.Takedown }, at: TestShop.Local(2026, 3, 3, 10, 30));
        Assert.Equal((StageState.Done, StageState.Done), (story[Stage.Takedown], story[Stage.Cleaning]));
        Assert.Empty(story.Job.Reviews);
    }

    private static void DeskSays(Story story, WorkshopEvent one, EventId? insteadOf = null) =>
        Assert.Equal(Outcome.Accepted, story.Says(one, TestShop.Desk, source: "/desk/1", insteadOf: insteadOf).Outcome);

    private static CorrectionMade Undo(Entry entry) => new() { Of = entry.Id, Reason = "the wrong card" };

    private static Entry Told(Story story, Stage stage) => Latest(story, new StageFinished { Stage = stage });

    private static Entry Latest(Story story, WorkshopEvent one) => story.Entries.Last(entry => entry.Event == one);

    private static string Fault(Decision decision)
    {
        Assert.Equal(Outcome.Refused, decision.Outcome);
        Assert.Empty(decision.Entries);
        return Assert.Single(decision.Faults).Pointer;
    }

    private static string Seen(Story story) => Portrait.Of(story.Job, "Version", "Last");
}
