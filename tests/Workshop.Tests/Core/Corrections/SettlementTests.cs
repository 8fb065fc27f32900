using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.FinalControls;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Pieces;
using Workshop.Core.Reports;
using Workshop.Core.Route;
using Workshop.Core.Waivers;

namespace Workshop.Tests.Core.Corrections;

/// <summary>A report that could not be taken as it was waits for a manager, who says whether it happened.</summary>
public class SettlementTests
{
    private const string Away = "/devices/bench-2/1";

    [Fact]
    public void A_report_that_happened_counts_at_its_own_place_and_passes_what_had_failed_under_the_managers_name()
    {
        var story = new Story().Through(Stage.Takedown).At(2026, 3, 3, 15);
        story.Says(new StageFinished { Stage = Stage.Rebuild }, at: story.Today(13), source: Away);
        var report = story.Entries[^1];
        story.After(Duration.FromMinutes(5)).Does(Settle(report), TestShop.Manager);

        Assert.Equal((StageState.Done, report.Effective), (story[Stage.Rebuild], story.Job.Standings.Of(Stage.Rebuild).Since));
        Assert.Equal(report.Judged.Failed.AsEnumerable(), story.Entries[^1].Judged.Passing);
        Assert.Equal(TestShop.Manager, story.Entries[^1].Person);
        Assert.Empty(story.Job.Reviews);
    }

    [Fact]
    public void A_report_that_did_not_happen_changes_nothing_and_waits_no_more()
    {
        var story = new Story().Through(Stage.Diagnosis).At(2026, 3, 3, 15);
        story.Says(new StageFinished { Stage = Stage.Rebuild }, at: story.Today(13), source: Away);
        var report = story.Entries[^2];
        Assert.True(story.Job.Holds.Holds(HoldReason.Query));
        story.Does(Settle(report, SettledAs.DidNotHappen), TestShop.Manager);

        Assert.Equal(StageState.Open, story[Stage.Rebuild]);
        Assert.Empty(story.Job.Reviews);
        Assert.Empty(story.Job.Holds.Standing);
    }

    [Fact]
    public void Only_what_waits_is_settled_and_only_once()
    {
        var story = new Story().Through(Stage.Takedown).At(2026, 3, 3, 15);
        story.Says(new StageFinished { Stage = Stage.Inspection }, at: story.Today(13), source: Away);
        var report = story.Entries[^1];
        Assert.Equal("waits-for-review", story.RefusedBy(Settle(story.Entries[^2]), TestShop.Manager).Gate);
        Assert.Equal("/of", Assert.Single(story.Says(new ReportSettled { Of = new EventId("/devices/bench-9/1", "e1"), As = SettledAs.Happened, Reason = "-" }, TestShop.Manager).Faults).Pointer);
        Assert.Equal("person-named", story.RefusedBy(Settle(report), by: null, role: "manager").Gate);

        story.Does(Settle(report), TestShop.Manager);
        Assert.Equal("waits-for-review", story.RefusedBy(Settle(report, SettledAs.DidNotHappen), TestShop.Manager).Gate);
    }

    [Fact]
    public void A_settlement_by_a_clock_that_is_behind_still_comes_after_the_report()
    {
        var story = new Story().Through(Stage.Diagnosis).At(2026, 3, 3, 15);
        story.Says(new StageFinished { Stage = Stage.Rebuild }, at: story.Today(13), source: Away);
        story.Does(Settle(story.Entries[^2]), TestShop.Manager, at: story.Today(12), source: "/devices/office/1");

        Assert.Empty(story.Job.Reviews);
        Assert.Empty(story.Job.Holds.Standing);
    }

    [Fact]
    public void What_is_told_after_the_query_was_answered_is_not_held_against_by_it()
    {
        var story = new Story().Through(Stage.Diagnosis).At(2026, 3, 3, 10);
        story.Says(new StageFinished { Stage = Stage.CaseWork }, at: story.Today(9), source: Away, despite: ["needs/case-strip"]);
        story.At(2026, 3, 3, 14).Does(Settle(story.Entries[^2]), TestShop.Manager);

        // Done at noon without a connection, while the query stood.
        story.At(2026, 3, 3, 16).Does(new StageFinished { Stage = Stage.Gaskets }, at: story.Today(12), source: Away);
        Assert.Equal(StageState.Done, story[Stage.Gaskets]);
    }

    [Fact]
    public void What_follows_from_a_report_follows_when_a_manager_says_that_it_happened()
    {
        var story = new Story().Through(Stage.Diagnosis).At(2026, 3, 4, 8);
        story.DeskDoes(story.Quote());
        story.Says(Story.Answer(version: 2), TestShop.Desk, at: TestShop.Local(2026, 3, 3, 10), role: "desk", source: "/desk/1");
        Assert.Null(story.Job.Promise.Given);
        var report = story.Entries.Last(entry => entry.Disposition == Disposition.Noted);
        story.Does(Settle(report), TestShop.Manager);
        Assert.Empty(story.Job.Holds.Standing);

        story = new Story().Through(Stage.Quote).At(2026, 3, 9, 8);
        var on = story.Job.Promise.On;
        story.Does(new HoldPlaced { Hold = HoldReason.Customer }, TestShop.Desk, at: TestShop.Local(2026, 3, 3, 9), role: "desk", source: "/desk/1");
        Assert.Equal(on, story.Job.Promise.On);
    }

    [Fact]
    public void A_whole_offline_day_is_kept_and_the_seventh_of_forty_alone_waits()
    {
        var story = new Story().Through(Stage.Quote).At(2026, 3, 4, 8);
        var posts = OfflineDay();
        Assert.Equal(40, posts.Length);
        var outcomes = posts.Select((one, i) => story.Says(one, TestShop.Jonas, at: DayAt(i), source: Away).Outcome).ToArray();

        Assert.Equal(Outcome.Noted, outcomes[6]);
        Assert.All(outcomes.Where((_, i) => i is not (6 or 8)), outcome => Assert.Equal(Outcome.Accepted, outcome));

        // The ninth rests on the seventh and waits behind it, each for its own reason.
        Assert.Equal(Outcome.Noted, outcomes[8]);
        Assert.Equal(40, story.Entries.Count(entry => entry.Id.Source == Away));
        Assert.Equal((StageState.Open, StageState.Done), (story[Stage.CaseWork], story[Stage.CaseStrip]));
        Assert.True(story.Job.Holds.Holds(HoldReason.Query));

        var seventh = story.Entries.Where(entry => entry.Id.Source == Away).ElementAt(6);
        story.After(Duration.FromMinutes(5)).Does(Settle(seventh), TestShop.Manager);

        Assert.Equal(["report.settled", "report.settled"], story.Entries.TakeLast(2).Select(entry => entry.Event.Type));
        Assert.Equal(story.Entries[^2].Id, story.Entries[^1].CausedBy);
        Assert.Empty(story.Job.Reviews);
        Assert.Empty(story.Job.Holds.Standing);
        Assert.Equal("people/jonas", story.Job.Pieces.Pieces.Single(piece => piece.Kind == PieceKind.Case).Holder);
    }

    [Fact]
    public void A_late_final_control_by_the_one_who_rebuilt_is_kept_and_the_manager_sees_it_first_thing()
    {
        var story = new Story().Through(Stage.ReserveAndFunctions).After(Duration.FromMinutes(10));
        var (then, now) = (story.Now, story.Now + Duration.FromHours(3));
        Assert.Contains("second-person", story.Refused(story.AllChecksOk).Select(gate => gate.Gate));

        var decision = story.At(now).Says(story.AllChecksOk, TestShop.Mara, at: then);

        Assert.Equal(Outcome.Noted, decision.Outcome);
        Assert.Equal(StageState.Open, story[Stage.FinalControl]);
        Assert.True(story.Job.Holds.Holds(HoldReason.Query));
        var row = Assert.Single(story.Agenda(), row => row.Kind == AgendaKind.Review);
        Assert.Equal((AgendaLevel.Manager, then), (row.Level, row.Wake));
        Assert.Contains("final-control.passed", row.Line);

        // The house has one watchmaker this week: the manager lets it count.
        story.After(Duration.FromHours(1)).Does(Settle(story.Entries.Last(entry => entry.Event is FinalControlPassed)), TestShop.Manager);
        Assert.Equal(StageState.Done, story[Stage.FinalControl]);
        Assert.DoesNotContain(story.Agenda(), one => one.Kind is AgendaKind.Review or AgendaKind.Query);
    }

    [Fact]
    public void A_waiver_that_is_told_late_releases_what_waited_for_it_and_is_used_up()
    {
        var story = new Story().Through(Stage.Takedown).At(2026, 3, 3, 15);
        story.Says(new StageFinished { Stage = Stage.Inspection }, at: story.Today(13), source: Away);
        story.Does(new WaiverGiven { Gate = "needs/cleaning", Reason = "cleaned by the maker" }, TestShop.Manager, at: story.Today(11), source: "/devices/office/1");

        Assert.Equal((StageState.Done, 0), (story[Stage.Inspection], story.Job.Reviews.Length));
        Assert.Equal(story.Entries.Single(entry => entry.Event is StageFinished { Stage: Stage.Inspection }).Id, story.Job.Waivers.All.Single().UsedBy);
    }

    [Fact]
    public void A_report_is_judged_again_by_the_rules_it_was_first_judged_by()
    {
        var story = new Story().Through(Stage.Takedown).At(2026, 3, 3, 15);
        story.Says(new StageFinished { Stage = Stage.Inspection }, at: story.Today(13), source: Away);
        var lenient = TestShop.With(strengths: new Dictionary<string, Workshop.Core.Gates.Strength> { ["needs"] = Workshop.Core.Gates.Strength.Note }) with { Version = 8 };
        var (old, asked) = (story.Rules, 0);
        story.Rules = lenient;
        story.RulesAsOf = version =>
        {
            Assert.Equal(old.Version, version);
            asked++;
            return old;
        };
        story.Does(new NoteWritten { Text = "remembered" }, at: story.Today(10));

        Assert.True(asked > 0);
        Assert.Single(story.Job.Reviews);
    }

    private static ReportSettled Settle(Entry report, SettledAs settledAs = SettledAs.Happened) => new() { Of = report.Id, As = settledAs, Reason = "asked at the bench" };

    private static Instant DayAt(int post) => TestShop.Local(2026, 3, 3, 9) + Duration.FromMinutes(10 * post);

    /// <summary>Forty things said in a cellar; the seventh takes a case from a firm that nobody gave it to, the ninth takes it where that left it.</summary>
    private static WorkshopEvent[] OfflineDay()
    {
        var notes = Enumerable.Range(0, 40).Select(i => (WorkshopEvent)new NoteWritten { Text = $"line {i + 1}" }).ToArray();
        notes[0] = new StageFinished { Stage = Stage.Takedown };
        notes[1] = new StageFinished { Stage = Stage.Cleaning };
        notes[3] = new StageFinished { Stage = Stage.Inspection };
        notes[5] = new StageFinished { Stage = Stage.CaseStrip };
        notes[6] = new PieceTaken { Kind = PieceKind.Case, From = "firms/polisher", To = "trays/7" };
        notes[8] = new PieceTaken { Kind = PieceKind.Case, From = "trays/7" };
        notes[20] = new StageFinished { Stage = Stage.Rebuild };
        notes[39] = new PieceTaken { Kind = PieceKind.Movement };
        return notes;
    }
}
