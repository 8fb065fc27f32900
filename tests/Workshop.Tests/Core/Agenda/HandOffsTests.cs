using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Pieces;

namespace Workshop.Tests.Core.Agenda;

/// <summary>Two working hours for the second half of a hand-off, and a manager for what nobody has: common practice.</summary>
public class HandOffsTests
{
    [Fact]
    public void What_was_given_and_not_taken_falls_due_after_two_working_hours_and_goes_to_the_manager_a_working_day_later()
    {
        var story = new Story().At(2026, 3, 6, 17);
        story.Does(new PieceTaken()).Does(new PieceGiven { To = "people/jonas" });

        var row = Row(story, AgendaKind.HandOff)!;
        Assert.Equal(TestShop.Local(2026, 3, 9, 10), row.Due);
        Assert.Equal((AgendaLevel.Due, row.Due), (row.Level, row.Wake));

        Announce(story, row);
        row = Row(story, AgendaKind.HandOff)!;
        Assert.Equal((AgendaLevel.Manager, TestShop.Local(2026, 3, 10, 10)), (row.Level, row.Wake));

        Announce(story, row);
        Assert.Null(Row(story, AgendaKind.HandOff)!.Wake);
    }

    [Fact]
    public void It_is_over_when_it_was_taken_or_given_back()
    {
        var story = new Story().After(Duration.FromHours(1)).Does(new PieceTaken()).Does(new PieceGiven { To = "people/jonas" });
        Assert.NotNull(Row(story, AgendaKind.HandOff));

        story.Does(new PieceGiven { To = "people/mara" });
        Assert.Null(Row(story, AgendaKind.HandOff));

        story.Does(new PieceGiven { To = "places/cleaning" });
        Assert.NotNull(Row(story, AgendaKind.HandOff));

        story.Does(new PieceTaken(), TestShop.Jonas);
        Assert.Null(Row(story, AgendaKind.HandOff));
        Assert.All(story.Job.Pieces.Pieces, piece => Assert.Equal("people/jonas", piece.Holder));
    }

    [Fact]
    public void What_is_with_somebody_or_at_a_bench_nobody_knows_is_the_managers()
    {
        var story = new Story().After(Duration.FromHours(1)).Does(new PieceTaken { Kind = PieceKind.Case, To = "benches/bench-9" });
        Assert.Equal(AgendaLevel.Manager, Row(story, AgendaKind.Orphan)!.Level);

        story.Does(new PieceTaken { Kind = PieceKind.Case, To = "benches/bench-2" });
        Assert.Null(Row(story, AgendaKind.Orphan));

        story.Does(new PieceTaken { Kind = PieceKind.Movement }, "somebody-else");
        Assert.Equal("people/somebody-else", Row(story, AgendaKind.Orphan)!.Ref);
    }

    private static AgendaRow? Row(Story story, AgendaKind kind) => story.Agenda().SingleOrDefault(row => row.Kind == kind);

    private static void Announce(Story story, AgendaRow row) => story.At(row.Wake!.Value)
        .Does(new DueAnnounced { Kind = row.Kind, Ref = row.Ref, Level = row.Level, Due = row.Due!.Value }, by: null, role: "service");
}
