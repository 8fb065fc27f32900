using System.Collections.Immutable;
using CsCheck;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Pieces;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Pieces;

/// <summary>Pieces that leave with a delivery note, pieces of somebody who is away, and that there is one holder at every instant.</summary>
public class HandOffTests
{
    private const string Firm = "firms/bellmere-dials";

    [Fact]
    public void A_delivery_note_goes_with_what_a_firm_gets_and_ends_when_it_is_back()
    {
        var story = Sent(PieceKind.Bracelet);
        var away = story.Job.Pieces.Pieces.Single(piece => piece.Id == "bracelet");
        Assert.Equal(("LS-204", 90_000, "CHF", new LocalDate(2026, 3, 16)), (away.Note, away.InsuredMinor, away.Currency, away.ExpectedBack));
        Assert.Contains("note LS-204", Assert.Single(story.Agenda(), row => row.Kind == AgendaKind.WithFirm).Line);

        story.Does(new PieceTaken { Kind = PieceKind.Bracelet, From = Firm });

        var home = story.Job.Pieces.Pieces.Single(piece => piece.Id == "bracelet");
        Assert.Equal(default((string?, long?, string?, LocalDate?)), (home.Note, home.InsuredMinor, home.Currency, home.ExpectedBack));
    }

    [Fact]
    public void What_left_with_a_note_is_counted_in_piece_by_piece()
    {
        var story = new Story().Does(new PieceGiven { To = Firm, Note = "LS-204" });

        var gate = story.RefusedBy(new PieceTaken { From = Firm });
        Assert.Equal(("piece-by-piece", Strength.Ask, "LS-204", "movement, case, dial-and-hands"), (gate.Gate, gate.Strength, gate.Names["note"], gate.Names["pieces"]));
        Assert.Equal("piece-by-piece", story.RefusedBy(new PiecePut { To = "places/desk" }).Gate);

        foreach (var kind in new[] { PieceKind.Movement, PieceKind.Case, PieceKind.DialAndHands })
        {
            story.Does(new PieceTaken { Kind = kind, From = Firm, Count = 1 });
        }

        Assert.All(story.Job.Pieces.Pieces, piece => Assert.Equal("people/mara", piece.Holder));
    }

    [Fact]
    public void A_watch_that_left_without_a_note_comes_back_in_one_scan() =>
        new Story().Does(new PieceGiven { To = Firm }).Does(new PieceTaken { From = Firm });

    [Fact]
    public void Another_number_than_went_there_holds_the_watch_until_a_manager_decides()
    {
        var story = Sent(PieceKind.Links);

        var decision = story.Says(new PieceTaken { Kind = PieceKind.Links, From = Firm, Count = 1 });

        Assert.Equal(Outcome.Accepted, decision.Outcome);
        Assert.Contains(EntryFlag.CountDiffers, decision.Flags);
        Assert.Equal(HoldReason.Query, Assert.Single(story.Job.Holds.Standing).Reason);
        Assert.Single(story.Agenda(), row => row.Kind == AgendaKind.Query);
        Assert.Equal("people/mara", story.Job.Pieces.Pieces.Single(piece => piece.Id == "links").Holder);

        story.Does(new HoldLifted { Hold = HoldReason.Query }, TestShop.Manager);
        Assert.DoesNotContain(story.Agenda(), row => row.Kind == AgendaKind.Query);
    }

    [Fact]
    public void The_right_number_is_no_news() =>
        Assert.Empty(Sent(PieceKind.Links).Does(new PieceTaken { Kind = PieceKind.Links, From = Firm, Count = 2 }).Job.Holds.All);

    [Fact]
    public void An_open_rebuild_waits_for_whoever_is_at_it_and_a_tray_for_the_machine_does_not()
    {
        var story = new Story().Through(Stage.Takedown);
        Assert.Equal((true, "it waits for cleaning"), Touch(story));

        story.Through(Stage.Inspection).Start(Stage.Rebuild);
        Assert.Equal((false, "Rebuild is open on it"), Touch(story));
        Assert.True(Touching.Of(story.Job, story.Job.Pieces.Pieces.Single(piece => piece.Kind == PieceKind.Case)).May);

        story.Does(new PiecePut { Kind = PieceKind.Movement, To = "benches/bench-1", HandsOff = false });
        Assert.Equal((true, "free to go on with, as it was put down"), Touch(story));

        story.Finish(Stage.Rebuild).Does(new PiecePut { Kind = PieceKind.Movement, To = "trays/7", HandsOff = true });
        Assert.Equal((false, "hands off, as it was put down"), Touch(story));
        story.Does(new PieceTaken { Kind = PieceKind.Movement });
        Assert.Equal((true, "nothing is open on it"), Touch(story));
    }

    /// <summary>Two benches, a desk and a firm, told at once or hours late, in any order.</summary>
    [Fact]
    public void No_sequence_of_events_leaves_a_piece_with_two_holders_and_holdings_fold_anew_to_the_same() =>
        Gen.Select(Gen.Int[0, 3], Gen.Int[0, 4], Gen.Int[0, 5], Gen.Int[0, 300], Gen.Bool, Gen.Bool).Array[1, 20].Sample(
            told =>
            {
                var story = new Story(taken: Taken()) { FoldsOnlyAtItsEnd = true }.After(Duration.FromHours(6));
                foreach (var (what, which, where, minutesAgo, late, second) in told)
                {
                    var (by, source) = second ? (TestShop.Jonas, "/devices/bench-2/1") : (TestShop.Mara, "/devices/bench-1/1");
                    story.After(Duration.FromSeconds(1)).Says(Event(what, which, where), by, late ? story.Now - Duration.FromMinutes(minutesAgo) : null, source: source);
                }

                var refolded = Job.Replay(story.Label, story.Entries.Reverse());
                Assert.Equal(story.Job.Holdings.AsEnumerable(), refolded.Holdings);
                foreach (var piece in story.Job.Pieces.Pieces)
                {
                    var held = story.Job.Holdings.Where(one => one.Thing == piece.Id).ToArray();
                    Assert.Equal(piece.Holder, Assert.Single(held, one => one.Until is null).Holder);
                    for (var i = 1; i < held.Length; i++)
                    {
                        Assert.Equal((held[i].From, held[i].OpenedBy), (held[i - 1].Until!.Value, held[i - 1].ClosedBy!.Value));
                        Assert.True(held[i - 1].From <= held[i].From);
                    }
                }
            },
            iter: 200);

    private static readonly ImmutableArray<PieceKind?> Kinds = [null, PieceKind.Movement, PieceKind.Case, PieceKind.Bracelet, PieceKind.Links];
    private static readonly ImmutableArray<string> Places = ["places/safe", "benches/bench-1", "people/jonas", "people/mara", Firm, "trays/7"];

    private static PieceEvent Event(int what, int which, int where) => what switch
    {
        0 => new PieceGiven { Kind = Kinds[which], To = Places[where], Note = where > 3 ? "LS-1" : null },
        1 => new PieceTaken { Kind = Kinds[which], From = where == 4 ? Firm : null, Count = where == 4 ? which : null },
        2 => new PiecePut { Kind = Kinds[which], To = Places[where], HandsOff = where > 2 },
        _ => new PieceTaken { Kind = Kinds[which], To = where < 2 ? Places[where] : null },
    };

    private static (bool, string) Touch(Story story) =>
        Touching.Of(story.Job, story.Job.Pieces.Pieces.Single(piece => piece.Kind == PieceKind.Movement)) is var touch ? (touch.May, touch.Why.ToString()) : default;

    private static Story Sent(PieceKind kind) => new Story(taken: Taken()).Does(
        new PieceGiven { Kind = kind, To = Firm, ExpectedBack = new LocalDate(2026, 3, 16), Note = "LS-204", InsuredMinor = 90_000, Currency = "CHF" });

    private static JobTakenIn Taken() => new()
    {
        Variant = "full-automatic",
        Customer = "c",
        Watch = "w",
        CaseSerial = Story.CaseSerial,
        Counted = [new(PieceKind.Bracelet, 1), new(PieceKind.Links, 2)],
    };
}
