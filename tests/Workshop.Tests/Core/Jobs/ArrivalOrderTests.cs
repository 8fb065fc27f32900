using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Pieces;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;

namespace Workshop.Tests.Core.Jobs;

/// <summary>Benches that were without a connection for a day come back in one order or the other; the watch is the same.</summary>
public class ArrivalOrderTests
{
    private const string First = "/devices/bench-1/1";
    private const string Second = "/devices/bench-2/1";

    [Fact]
    public void Two_benches_that_worked_side_by_side_end_alike_whoever_comes_back_first()
    {
        Said[] movement =
        [
            new(9, 0, new PieceTaken { Kind = PieceKind.Movement }), new(9, 10, Started(Stage.Takedown)), new(10, 0, Finished(Stage.Takedown)), new(10, 30, Finished(Stage.Cleaning)),
            new(11, 0, Finished(Stage.Inspection)), new(14, 0, Finished(Stage.Rebuild)), new(14, 30, Story.RateSet), new(14, 40, Finished(Stage.Regulation)),
        ];
        Said[] cases =
        [
            new(9, 5, new PieceTaken { Kind = PieceKind.Case }), new(9, 30, Finished(Stage.CaseStrip)), new(12, 0, Finished(Stage.CaseWork)), new(12, 10, new DamageSeen { Condition = "a scratch at six" }),
            new(12, 20, new HoldLifted { Hold = HoldReason.Damage }), new(13, 0, Finished(Stage.Gaskets)), new(13, 30, Back(Stage.CaseWork)), new(15, 0, Finished(Stage.CaseWork)),
        ];

        Assert.Equal(Told(Approved, (First, movement), (Second, cases)), Told(Approved, (Second, cases), (First, movement)));
    }

    [Fact]
    public void Bad_news_between_a_morning_and_an_afternoon_counts_in_either_order()
    {
        Said[] tests = [new(10, 0, Story.WaterTest()), new(10, 30, Finished(Stage.ReserveAndFunctions)), new(12, 0, Story.WaterTest())];
        Said[] news = [new(11, 0, new CaseOpened()), new(11, 30, new IndexTouched()), new(13, 0, Story.RateSet), new(13, 30, Finished(Stage.Regulation))];

        var (one, other) = (Lived(Cased, (First, tests), (Second, news)), Lived(Cased, (Second, news), (First, tests)));

        Assert.Equal(Seen(one), Seen(other));
        Assert.Equal((StageState.Void, StageState.Void), (one[Stage.Casing], one[Stage.WaterTest]));
        Assert.Equal(StageState.Done, one[Stage.Regulation]);
    }

    [Fact]
    public void A_bench_whose_work_rested_on_the_others_ends_where_the_right_order_ends()
    {
        Said[] movement = [new(9, 0, Finished(Stage.Takedown)), new(10, 0, Finished(Stage.Cleaning)), new(11, 0, Finished(Stage.Inspection)), new(12, 0, Finished(Stage.Rebuild))];
        Said[] regulated = [new(13, 0, Story.RateSet), new(13, 10, Finished(Stage.Regulation)), new(14, 0, Finished(Stage.DialAndHands))];

        var (right, wrong) = (Lived(CaseDone, (First, movement), (Second, regulated)), Lived(CaseDone, (Second, regulated), (First, movement)));

        Assert.Equal(Seen(right), Seen(wrong));
        Assert.Equal(StageState.Done, wrong[Stage.DialAndHands]);
        Assert.Empty(wrong.Job.Reviews);
    }

    [Fact]
    public void A_chain_of_reports_that_waited_is_released_by_the_first_of_them()
    {
        var story = Approved().At(2026, 3, 4, 8);
        foreach (var (hour, stage) in new[] { (12, Stage.Rebuild), (11, Stage.Inspection), (10, Stage.Cleaning) })
        {
            Assert.Equal(Outcome.Noted, story.Says(Finished(stage), at: At(hour), source: Second).Outcome);
        }

        Assert.Equal(3, story.Job.Reviews.Length);
        var decision = story.Says(Finished(Stage.Takedown), at: At(9), source: First);

        Assert.Equal(["stage.finished", "report.settled", "report.settled", "report.settled"], decision.Entries.Select(one => one.Entry.Event.Type));
        Assert.All(decision.Entries.Skip(1), one => Assert.Equal((decision.Entries[0].Entry.Id, EventId.Service, story.Now), (one.Entry.CausedBy, one.Entry.Id.Source, one.Entry.Effective)));
        Assert.Equal(StageState.Done, story[Stage.Rebuild]);
        Assert.Equal(At(12), story.Job.Standings.Of(Stage.Rebuild).Since);
        Assert.Empty(story.Job.Reviews);
    }

    [Fact]
    public void Settling_a_report_ends_the_query_that_waited_for_it_and_no_other()
    {
        var story = Approved().Does(new HoldPlaced { Hold = HoldReason.Query, Reason = "whose strap is it" }).At(2026, 3, 4, 8);
        story.Says(new PieceTaken { Kind = PieceKind.Case, From = "firms/polisher" }, at: At(11), source: Second);
        Assert.Equal(2, story.Job.Holds.Standing.Count());

        story.After(Duration.FromMinutes(10)).Does(new PieceGiven { Kind = PieceKind.Case, To = "firms/polisher" }, at: At(10), source: First);

        Assert.Equal("people/mara", story.Job.Pieces.Pieces.Single(piece => piece.Kind == PieceKind.Case).Holder);
        Assert.Equal("whose strap is it", Assert.Single(story.Job.Holds.Standing).Text);
    }

    [Fact]
    public void A_report_that_fails_still_goes_on_waiting()
    {
        var story = Approved().At(2026, 3, 4, 8);
        story.Says(Finished(Stage.Rebuild), at: At(12), source: Second);
        story.Does(Finished(Stage.Takedown), at: At(9), source: First);

        Assert.Single(story.Job.Reviews);
        Assert.Equal(StageState.Open, story[Stage.Rebuild]);
    }

    [Fact]
    public void What_a_person_did_not_say_does_not_pass_by_itself()
    {
        // Whose rebuild it is, is a fact of that moment: nothing that comes later names the person.
        var story = Approved().Finish(Stage.Takedown).Finish(Stage.Cleaning).At(2026, 3, 4, 8);
        story.Says(Finished(Stage.Rebuild), by: null, at: At(12), source: Second, despite: ["needs/inspection"]);
        story.Does(Finished(Stage.Inspection), at: At(11), source: First);

        Assert.Single(story.Job.Reviews);
        Assert.Equal(StageState.Open, story[Stage.Rebuild]);
    }

    [Fact]
    public void A_tap_counts_when_the_report_is_looked_at_again()
    {
        // The takedown stops nothing but is tapped through; the quote stopped it, and its answer comes in late.
        var story = new Story().Through(Stage.Diagnosis).At(2026, 3, 3, 8);
        story.DeskDoes(story.Quote()).At(2026, 3, 4, 8);
        Assert.Equal(Outcome.Noted, story.Says(Finished(Stage.Rebuild), at: At(12), source: Second, despite: ["needs/inspection"]).Outcome);
        story.After(Duration.FromMinutes(10)).Does(Story.Answer(), TestShop.Desk, at: At(9), role: "desk", source: "/desk/1");

        Assert.Equal(StageState.Done, story[Stage.Rebuild]);
        Assert.Empty(story.Job.Holds.Standing);
    }

    [Fact]
    public void What_follows_from_a_report_follows_when_it_is_released()
    {
        var story = new Story().Through(Stage.Diagnosis).At(2026, 3, 4, 8);
        story.Says(Story.Answer(), TestShop.Desk, at: At(10), role: "desk", source: "/desk/1");
        Assert.Null(story.Job.Promise.Given);

        story.Does(story.Quote(), TestShop.Desk, at: At(9), role: "desk", source: "/desk/1");
        Assert.NotNull(story.Job.Promise.Given);
        Assert.Equal(StageState.Done, story[Stage.Quote]);
    }

    private readonly record struct Said(int Hour, int Minute, WorkshopEvent Event);

    private static StageStarted Started(Stage stage) => new() { Stage = stage };

    private static StageFinished Finished(Stage stage) => new() { Stage = stage };

    private static StageSentBack Back(Stage to) => new() { Stage = Stage.Gaskets, To = to, Reason = "a scratch" };

    private static Story Approved() => new Story().Through(Stage.Quote);

    private static Story CaseDone() => new Story().Through(Stage.Quote).Finish(Stage.CaseStrip).Finish(Stage.CaseWork).Finish(Stage.Gaskets);

    private static Story Cased() => new Story().Through(Stage.Casing);

    private static Instant At(int hour, int minute = 0) => TestShop.Local(2026, 3, 3, hour, minute);

    private static string Told(Func<Story> begin, params (string Source, Said[] Day)[] days) => Seen(Lived(begin, days));

    /// <summary>Each bench tells its Tuesday on Wednesday morning, one after the other.</summary>
    private static Story Lived(Func<Story> begin, params (string Source, Said[] Day)[] days)
    {
        var story = begin().At(2026, 3, 4, 8);
        foreach (var (source, day) in days)
        {
            story.After(Duration.FromMinutes(10));
            foreach (var said in day)
            {
                // A manager lifts the hold for the damage.
                story.Says(said.Event, said.Event is HoldLifted ? TestShop.Manager : source == First ? TestShop.Mara : TestShop.Jonas, at: At(said.Hour, said.Minute), source: source);
            }
        }

        return story;
    }

    /// <summary>The job as it is, without how its journal came about: a query that came and went with a report is left out.</summary>
    private static string Seen(Story story) =>
        Portrait.Of(story.Job, "Version", "Last", "Holds") + Portrait.Of(story.Job.Holds.All.Where(hold => hold.Stands || hold.Reason != HoldReason.Query));
}
