using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core.Jobs;

/// <summary>Facts and permissions: who asks may be refused, who reports is kept.</summary>
public class JobRulesTests
{
    [Fact]
    public void What_is_asked_and_passes_is_applied()
    {
        var story = new Story();
        var decision = story.Says(new StageFinished { Stage = Stage.Diagnosis });

        Assert.Equal(Outcome.Accepted, decision.Outcome);
        Assert.Empty(decision.Flags);
        Assert.Equal(Disposition.Applied, story.Entries[^1].Disposition);
    }

    [Fact]
    public void What_is_asked_and_fails_is_refused_and_leaves_the_job_as_it_was()
    {
        var story = new Story();
        var before = Portrait.Of(story.Job);
        var decision = story.Says(new StageStarted { Stage = Stage.Takedown });

        Assert.Equal(Outcome.Refused, decision.Outcome);
        Assert.Empty(decision.Entries);
        Assert.Equal(before, Portrait.Of(story.Job));
    }

    [Fact]
    public void What_is_asked_and_would_take_away_from_a_later_entry_is_noted()
    {
        // Two minutes are live; the other bench was one minute quicker.
        var story = new Story().Through(Stage.Takedown).After(Duration.FromMinutes(10));
        story.Does(new StageStarted { Stage = Stage.Cleaning }, TestShop.Jonas, source: "/devices/bench-2/1");
        var decision = story.Says(new StageFinished { Stage = Stage.Cleaning }, at: story.Now - Duration.FromMinutes(1));

        Assert.Equal(Outcome.Noted, decision.Outcome);
        Assert.Equal<string>([EntryFlag.ForReview], decision.Flags);
        Assert.Equal(StageState.Running, story[Stage.Cleaning]);
        Assert.Single(story.Job.Reviews);
        Assert.Empty(story.Job.Holds.All);
    }

    [Fact]
    public void A_report_that_passes_at_its_own_place_is_applied_there()
    {
        var story = new Story().Through(Stage.Cleaning).At(2026, 3, 2, 15);
        story.Does(new NoteWritten { Text = "lint on the barrel bridge" });
        var decision = story.Says(new StageStarted { Stage = Stage.Inspection }, at: story.Today(14, 30));

        Assert.Equal(Outcome.Accepted, decision.Outcome);
        Assert.Equal<string>([EntryFlag.Late], decision.Flags);
        Assert.Equal(story.Today(14, 30), story.Job.Standings.Of(Stage.Inspection).Since);
    }

    [Fact]
    public void An_event_of_half_past_ten_that_arrives_at_three_stands_between_ten_and_eleven()
    {
        var story = new Story();
        story.At(story.Today(10)).Finish(Stage.Diagnosis).At(story.Today(11)).Does(new NoteWritten { Text = "eleven" });
        story.At(story.Today(15)).Does(new NoteWritten { Text = "half past ten" }, at: story.Today(10, 30));

        var notes = story.Entries.OrderBy(entry => entry.Place).Select(entry => entry.Event).OfType<NoteWritten>().Select(note => note.Text);
        Assert.Equal(["half past ten", "eleven"], notes);
        Assert.Equal(story.Today(11), story.Job.Last!.Value.Effective);
    }

    [Fact]
    public void A_report_that_fails_a_gate_that_asks_is_noted_and_nothing_is_held()
    {
        var story = new Story().Through(Stage.Takedown).At(2026, 3, 2, 15);
        var decision = story.Says(new StageFinished { Stage = Stage.Inspection }, at: story.Today(13));

        Assert.Equal(Outcome.Noted, decision.Outcome);
        Assert.Equal<string>([EntryFlag.Late, EntryFlag.ForReview], decision.Flags);
        Assert.Equal<string>(["needs/cleaning"], story.Entries[^1].Judged.Failed);
        Assert.Equal<string>(["needs/cleaning"], Assert.Single(story.Job.Reviews).Failed);
        Assert.Equal(StageState.Open, story[Stage.Inspection]);
        Assert.Empty(story.Job.Holds.All);
    }

    [Fact]
    public void A_report_in_spite_of_a_gate_that_asks_is_applied()
    {
        var story = new Story().Through(Stage.Takedown).At(2026, 3, 2, 15);
        story.Does(new StageFinished { Stage = Stage.Inspection }, at: story.Today(13), despite: ["needs/cleaning"]);

        Assert.Equal(StageState.Done, story[Stage.Inspection]);
    }

    [Fact]
    public void A_report_that_fails_a_gate_that_stops_is_noted_and_the_job_is_held_from_its_receipt()
    {
        var story = new Story().Through(Stage.Diagnosis).At(2026, 3, 2, 15);
        var decision = story.Says(new StageFinished { Stage = Stage.Rebuild }, at: story.Today(13));

        Assert.Equal(Outcome.Noted, decision.Outcome);
        Assert.Equal(["stage.finished", "hold.placed"], decision.Entries.Select(one => one.Entry.Event.Type));
        var hold = Assert.Single(story.Job.Holds.Standing);
        Assert.Equal((HoldReason.Query, story.Now), (hold.Reason, hold.From));
        Assert.Equal(decision.Entries[0].Entry.Id, decision.Entries[1].Entry.CausedBy);
        Assert.Equal(EventId.Service, decision.Entries[1].Entry.Id.Source);

        // What happened between the report's place and its receipt is not refused by the hold.
        story.Does(new StageFinished { Stage = Stage.Takedown }, at: story.Today(14), despite: ["needs/quote"]);
        Assert.Contains("hold/query", story.Refused(new StageStarted { Stage = Stage.Cleaning }).Select(gate => gate.Gate));
    }

    [Fact]
    public void A_report_that_would_take_away_from_a_later_entry_is_noted_and_nothing_is_held()
    {
        var story = new Story().Through(Stage.Takedown).At(2026, 3, 2, 15);
        story.Does(new StageStarted { Stage = Stage.Cleaning }, TestShop.Jonas);
        var decision = story.At(2026, 3, 2, 16).Says(new StageFinished { Stage = Stage.Cleaning }, at: story.Today(14));

        Assert.Equal(Outcome.Noted, decision.Outcome);
        Assert.Empty(decision.Against);
        Assert.Empty(story.Job.Holds.All);
    }

    [Fact]
    public void Who_says_already_reports_whatever_the_time()
    {
        var story = new Story().Through(Stage.Diagnosis);
        var decision = story.Says(new StageFinished { Stage = Stage.Takedown }, already: true);

        Assert.Equal(Outcome.Noted, decision.Outcome);
        Assert.Contains(EntryFlag.Late, decision.Flags);
    }

    [Fact]
    public void A_noted_report_uses_no_waiver_and_passes_nothing()
    {
        var story = new Story().Does(new Workshop.Core.Waivers.WaiverGiven { Gate = "needs/inspection", Reason = "seen by me" }, TestShop.Manager).At(2026, 3, 2, 15);
        story.Says(new StageFinished { Stage = Stage.Rebuild }, at: story.Today(13));

        var noted = story.Entries.Single(entry => entry.Disposition == Disposition.Noted);
        Assert.Equal<string>(["needs/quote"], noted.Judged.Failed);
        Assert.Empty(noted.Judged.WaiversUsed);
        Assert.Null(Assert.Single(story.Job.Waivers.All).UsedBy);
    }

    [Fact]
    public void A_late_measurement_is_applied_whatever_comes_after_it()
    {
        var story = new Story().Through(Stage.Casing).After(Duration.FromHours(1)).Start(Stage.WaterTest).After(Duration.FromHours(1));
        story.Does(Story.WaterTest(), at: story.Now - Duration.FromMinutes(90));

        Assert.Equal(StageState.Done, story[Stage.WaterTest]);
    }

    public static TheoryData<WorkshopEvent> LateBadNews => new(
        new CaseOpened(), new SealSeen { State = SealState.Broken }, new IndexTouched(), Story.WaterTest(false),
        new StageSentBack { Stage = Stage.FinalControl, To = Stage.Gaskets, Reason = "a hair" },
        new Workshop.Core.FinalControls.FinalControlRefused { To = Stage.Gaskets, Reason = "a hair" },
        new HoldPlaced { Hold = HoldReason.Damage }, new DamageSeen { Condition = "a scratch" });

    [Theory]
    [MemberData(nameof(LateBadNews))]
    public void Bad_news_is_applied_late_although_later_entries_stood_on_what_it_takes_away(WorkshopEvent one)
    {
        var story = new Story().Through(Stage.ReserveAndFunctions).After(Duration.FromMinutes(10));
        var place = story.Now;
        story.After(Duration.FromMinutes(10)).Does(story.AllChecksOk, TestShop.Jonas).After(Duration.FromHours(1));

        var decision = story.Says(one, at: place);

        Assert.Equal(Outcome.Accepted, decision.Outcome);
        Assert.Contains(EntryFlag.Late, decision.Flags);
        Assert.True(story[Stage.FinalControl] is StageState.GroundLost || story.Job.Holds.Standing.Any());
    }

    [Fact]
    public void Bad_news_that_a_gate_is_asked_about_is_applied_when_it_is_a_report()
    {
        var story = new Story().Through(Stage.WaterTest);
        Assert.Equal(Outcome.Refused, story.Says(new WearCheckPaused { Kind = WearCheckKind.Worn }).Outcome);
        story.After(Duration.FromHours(1)).Does(new WearCheckPaused { Kind = WearCheckKind.Worn }, at: story.Now - Duration.FromMinutes(30));

        // Sent back to a later stage it makes no sense; told at once it is refused.
        Assert.Equal(Outcome.Refused, story.Says(new StageSentBack { Stage = Stage.Rebuild, To = Stage.Casing, Reason = "?" }).Outcome);
    }

    [Fact]
    public void A_failing_reading_counts_late_and_a_reading_without_a_check_is_noted()
    {
        var story = new Story().Through(Stage.WaterTest).Does(Story.WearStart()).After(Duration.FromHours(30));
        story.Does(Story.WearRead(90), at: story.Now - Duration.FromHours(5));
        Assert.Equal(StageState.Failed, story[Stage.WearCheck]);

        var decision = story.Says(Story.WearRead(90), at: story.Now - Duration.FromHours(4));
        Assert.Equal(Outcome.Noted, decision.Outcome);
        Assert.Equal(1, story.Job.WearChecks.TotalFails);
    }

    // Where the watch has gone on.

    [Theory]
    [InlineData(11)]
    [InlineData(12)]
    public void A_case_opened_at_half_past_eleven_and_reported_after_the_final_control_takes_the_tests_away(int controlledAt)
    {
        var story = new Story().Through(Stage.ReserveAndFunctions).At(2026, 3, 5, 11).Does(new NoteWritten { Text = "a new day" });
        story.At(story.Today(controlledAt)).Does(story.AllChecksOk, TestShop.Jonas).DeskDoes(new StageFinished { Stage = Stage.Settlement });
        Assert.True(story.Job.Standings.IsReady);

        var decision = story.At(story.Today(15)).Says(new CaseOpened(), at: story.Today(11, 30), source: "/devices/bench-2/1");

        Assert.Equal(Outcome.Accepted, decision.Outcome);
        Assert.All(new[] { Stage.Casing, Stage.WaterTest, Stage.WearCheck, Stage.FinalControl }, stage => Assert.False(story.Job.Standings.Stands(stage)));
        Assert.Equal(Stage.FinalControl, Assert.Single(story.Job.Standings.GroundLost).Stage);
        Assert.False(story.Job.Standings.IsReady);
        Assert.Equal(Stage.Casing, story.Job.Standings.Current);
        Assert.Contains("needs/final-control", story.Refused(story.HandedOver(), TestShop.Desk).Select(gate => gate.Gate));

        story.At(2026, 3, 6, 9).Through(Stage.Ready);
        Assert.Empty(story.Job.Standings.GroundLost);
    }

    [Fact]
    public void Bad_news_after_the_watch_has_left_is_urgent()
    {
        var story = new Story().Through(Stage.HandedOver).After(Duration.FromHours(5));
        var opened = story.Job.FinalControl.PassedAt!.Value + Duration.FromMinutes(1);
        story.Does(new CaseOpened(), at: opened);

        Assert.True(Assert.Single(story.Job.Standings.GroundLost).Urgent);
        Assert.True(story.Job.Standings.HandedOver);
        Assert.NotEmpty(story.Job.Warranty.Lines);
    }

    [Fact]
    public void Bad_news_told_at_once_before_the_control_needs_no_manager()
    {
        var story = new Story().Through(Stage.ReserveAndFunctions).Does(new CaseOpened());

        Assert.Empty(story.Job.Standings.GroundLost);
    }

    [Fact]
    public void A_touched_index_on_a_closed_case_voids_casing_and_water_test_too()
    {
        var story = new Story().Through(Stage.WearCheck).After(Duration.FromMinutes(5));
        var decision = story.Says(new IndexTouched());

        Assert.Contains(EntryFlag.OpeningImplied, decision.Flags);
        Assert.All(new[] { Stage.Regulation, Stage.Casing, Stage.WaterTest, Stage.WearCheck }, stage => Assert.Equal(StageState.Void, story[stage]));
        Assert.False(story.Job.Case.Closed);
    }

    [Fact]
    public void A_touched_index_on_an_open_case_leaves_the_water_test_void_as_it_was()
    {
        var story = new Story().Through(Stage.WearCheck).Does(new CaseOpened());
        var decision = story.After(Duration.FromMinutes(5)).Says(new IndexTouched());

        Assert.DoesNotContain(EntryFlag.OpeningImplied, decision.Flags);
        Assert.Equal(StageState.Void, story[Stage.Regulation]);
    }

    [Fact]
    public void Nothing_happens_to_a_watch_before_it_is_in_the_house()
    {
        var story = new Story().After(Duration.FromHours(2));
        var before = Portrait.Of(story.Job, "Version", "Last");
        story.Says(new DamageSeen { Condition = "a scratch" }, at: story.Now - Duration.FromHours(5));

        Assert.Equal(before, Portrait.Of(story.Job, "Version", "Last"));
        Assert.Equal(2, story.Job.Version);
    }

    [Fact]
    public void A_consequence_takes_source_and_sequence_of_its_cause_and_an_id_made_from_it()
    {
        var story = new Story().Through(Stage.Quote);
        var answer = story.Entries.Single(entry => entry.Event is Workshop.Core.Quotes.QuoteAnswered);
        var promise = story.Entries.Single(entry => entry.Event is Workshop.Core.Promises.PromiseGiven);

        Assert.Equal(answer.Id, promise.CausedBy);
        Assert.Equal((answer.Place.OrderSource, answer.Place.OrderSequence), (promise.Place.OrderSource, promise.Place.OrderSequence));
        Assert.Equal(new EventId("/service", $"promise.given/job/{story.Label}/{answer.Id}"), promise.Id);
    }

    [Fact]
    public void An_entry_keeps_what_it_was_judged_by()
    {
        var story = new Story();
        story.Does(new PieceTaken());
        var entry = story.Entries[^1];

        Assert.Equal((TestShop.Mara, "bench-1", "bench", 7), (entry.Judged.Person, entry.Judged.Bench, entry.Judged.Role, (int)entry.RulesVersion));
        Assert.Equal("full-automatic", story.Entries[0].Judged.Route!.Id);
    }
}
