using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Holds;
using Workshop.Core.Pieces;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Corrections;

/// <summary>The wrong badge lay at the bench; one word of a manager says whose work it was.</summary>
public class MendedBadgeTests
{
    private const string Bench = "/devices/bench-2/1";

    [Fact]
    public void A_wrong_badge_all_morning_is_mended_by_one_entry()
    {
        var story = new Story().Through(Stage.Quote).At(2026, 3, 3, 9);
        foreach (var stage in new[] { Stage.Takedown, Stage.Cleaning, Stage.Inspection, Stage.Rebuild })
        {
            story.After(Duration.FromMinutes(30)).Does(new StageFinished { Stage = stage }, TestShop.Mara, source: Bench);
        }

        story.Does(new PieceTaken { Kind = PieceKind.Movement }, TestShop.Mara, source: Bench);
        Assert.Equal("people/mara", Movement(story));
        var decision = story.At(2026, 3, 3, 12).Mends(Bench, 1, 5, TestShop.Jonas);

        Assert.Equal(["person.corrected"], decision.Entries.Select(one => one.Entry.Event.Type));
        Assert.Equal([TestShop.Jonas], story.Job.Standings.Of(Stage.Rebuild).Hands);
        Assert.Equal("people/jonas", Movement(story));
        Assert.Equal(TestShop.Mara, story.Entries.First(entry => entry.Id.Source == Bench).Person);
    }

    [Fact]
    public void Only_the_stretch_is_mended_and_the_last_word_counts()
    {
        var story = new Story().Through(Stage.Quote).At(2026, 3, 3, 9);
        foreach (var stage in new[] { Stage.Takedown, Stage.Cleaning, Stage.Inspection })
        {
            story.Does(new StageFinished { Stage = stage }, TestShop.Mara, source: Bench).After(Duration.FromMinutes(30));
        }

        story.Mends(Bench, 2, 3, TestShop.Jonas);
        story.After(Duration.FromMinutes(1)).Mends(Bench, 3, 9, TestShop.Manager);
        story.Does(new StageFinished { Stage = Stage.Rebuild }, TestShop.Mara, source: Bench);

        Assert.Equal(
            ["mara", "jonas", "ines", "mara"],
            new[] { Stage.Takedown, Stage.Cleaning, Stage.Inspection, Stage.Rebuild }.Select(stage => Assert.Single(story.Job.Standings.Of(stage).Hands)));
    }

    [Fact]
    public void What_the_right_person_would_not_have_been_allowed_stands_and_a_manager_is_asked()
    {
        var story = new Story().Through(Stage.ReserveAndFunctions).After(Duration.FromMinutes(10));
        story.Does(story.AllChecksOk, TestShop.Jonas, source: Bench);
        Assert.Equal(StageState.Done, story[Stage.FinalControl]);
        story.After(Duration.FromHours(1)).Mends(Bench, 1, 1, TestShop.Mara);

        Assert.Equal(StageState.Done, story[Stage.FinalControl]);
        var hold = Assert.Single(story.Job.Holds.Standing);
        Assert.Equal((HoldReason.Query, "by the mended badge not allowed: final-control.passed"), (hold.Reason, hold.Text));
        var row = Assert.Single(story.Agenda(), row => row.Kind == AgendaKind.Query);
        Assert.Equal((AgendaLevel.Manager, story.Now), (row.Level, row.Wake));

        story.After(Duration.FromMinutes(5)).Does(new HoldLifted { Hold = HoldReason.Query, Reason = "looked at it again" }, TestShop.Manager);
        Assert.DoesNotContain(story.Agenda(), one => one.Kind == AgendaKind.Query);
    }

    [Fact]
    public void A_report_that_failed_for_the_wrong_badge_counts_once_the_badge_is_mended()
    {
        var story = new Story().Through(Stage.ReserveAndFunctions).After(Duration.FromHours(3));
        story.Says(story.AllChecksOk, TestShop.Mara, at: story.Now - Duration.FromHours(2), source: Bench);
        Assert.Equal(StageState.Open, story[Stage.FinalControl]);
        story.Mends(Bench, 1, 1, TestShop.Jonas);

        Assert.Equal(StageState.Done, story[Stage.FinalControl]);
        Assert.Empty(story.Job.Reviews);
        Assert.Empty(story.Job.Holds.Standing);
    }

    [Fact]
    public void Whoever_it_was_undoes_it()
    {
        var story = new Story().Through(Stage.Quote).At(2026, 3, 3, 9).Does(new StageFinished { Stage = Stage.Takedown }, TestShop.Mara, source: Bench);
        var takedown = story.Entries[^1];
        story.After(Duration.FromMinutes(1)).Mends(Bench, 1, 1, TestShop.Jonas);

        story.Does(new Workshop.Core.Corrections.CorrectionMade { Of = takedown.Id, Reason = "not done yet" }, TestShop.Jonas);
        Assert.Equal(StageState.Open, story[Stage.Takedown]);
    }

    private static string Movement(Story story) => story.Job.Pieces.Pieces.Single(piece => piece.Kind == PieceKind.Movement).Holder;
}
