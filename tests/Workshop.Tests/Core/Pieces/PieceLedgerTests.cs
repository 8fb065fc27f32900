using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Pieces;
using Workshop.Core.Route;

namespace Workshop.Tests.Core.Pieces;

public class PieceLedgerTests
{
    private const string Mara = "people/mara";
    private const string Jonas = "people/jonas";

    [Fact]
    public void A_watch_comes_in_as_movement_case_and_dial_with_hands_and_what_was_counted()
    {
        var story = WithBracelet();

        Assert.Equal(
            [("movement", 1, "places/desk"), ("case", 1, "places/desk"), ("dial-and-hands", 1, "places/desk"), ("bracelet", 1, "places/desk"), ("links", 2, "places/desk"), ("other", 1, "places/desk"), ("other-2", 3, "places/desk")],
            story.Job.Pieces.Pieces.Select(piece => (piece.Id, piece.Count, piece.Holder)));
    }

    [Fact]
    public void One_scan_takes_the_whole_watch_and_leaves_what_lies_elsewhere()
    {
        var story = WithBracelet().Does(new PiecePut { Kind = PieceKind.Bracelet, To = "places/safe" }).Does(new PieceTaken());

        Assert.Equal("places/safe", Holder(story, "bracelet"));
        Assert.Equal([Mara], story.Job.Pieces.Pieces.Where(piece => piece.Id != "bracelet").Select(piece => piece.Holder).Distinct());
    }

    [Fact]
    public void From_a_place_a_bench_or_a_tray_anybody_takes()
    {
        var story = new Story();
        foreach (var place in new[] { "places/safe", "benches/bench-2", "trays/T9" })
        {
            story.Does(new PiecePut { To = place }).Does(new PieceTaken(), TestShop.Jonas);
            Assert.Equal(Jonas, Holder(story, "movement"));
        }
    }

    [Fact]
    public void From_a_person_takes_only_whom_it_was_given_to()
    {
        var story = new Story().Does(new PieceTaken()).Does(new PieceGiven { To = Jonas });
        var since = story.Now;
        Assert.Equal(Mara, Holder(story, "movement"));
        Assert.Equal((Jonas, since), (story.Job.Pieces.Pieces[0].GivenTo, story.Job.Pieces.Pieces[0].GivenAt!.Value));

        var against = story.After(Duration.FromMinutes(3)).Refused(new PieceTaken(), TestShop.Desk, "desk");
        Assert.All(against, gate => Assert.Equal(("one-holder", "held-by", Strength.Stop), (gate.Gate, gate.Code, gate.Strength)));
        Assert.Equal((Mara, since.ToString()), (against[0].Names["holder"], against[0].Names["since"]));

        story.Does(new PieceTaken(), TestShop.Jonas);
        Assert.Equal(Jonas, Holder(story, "movement"));
        Assert.Null(story.Job.Pieces.Pieces[0].GivenTo);
    }

    [Fact]
    public void The_same_person_takes_it_again_and_has_it_since_the_first_time()
    {
        var story = new Story().Does(new PieceTaken());
        var since = story.Now;
        story.After(Duration.FromHours(1)).Does(new PieceTaken());

        Assert.Equal(since, story.Job.Pieces.Pieces[0].Since);
    }

    [Fact]
    public void Who_gave_it_may_take_it_back_until_it_was_taken()
    {
        var story = new Story().Does(new PieceTaken()).Does(new PieceGiven { To = Jonas }).Does(new PieceTaken());

        Assert.Null(story.Job.Pieces.Pieces[0].GivenTo);
        Assert.Contains("one-holder", story.Refused(new PieceTaken(), TestShop.Jonas).Select(gate => gate.Gate));
    }

    [Fact]
    public void Given_to_a_bench_whoever_sits_there_takes_it()
    {
        var story = new Story().Does(new PieceTaken()).Does(new PieceGiven { To = "benches/bench-2" });

        Assert.Equal(Outcome.Refused, story.Says(new PieceTaken(), TestShop.Jonas, bench: "bench-1").Outcome);
        Assert.Equal(Outcome.Accepted, story.Says(new PieceTaken(), TestShop.Jonas, bench: "bench-2").Outcome);
    }

    [Fact]
    public void To_a_firm_nothing_needs_to_be_taken_and_from_it_only_by_its_name()
    {
        var story = new Story().Does(new PieceGiven { Kind = PieceKind.Case, To = "firms/polisher", ExpectedBack = new LocalDate(2026, 3, 20) });
        Assert.Equal("firms/polisher", Holder(story, "case"));
        Assert.False(story.Job.Pieces.Pieces[1].IsHome);

        Assert.Equal("one-holder", story.RefusedBy(new PieceTaken { Kind = PieceKind.Case }).Gate);
        Assert.Equal("one-holder", story.RefusedBy(new PieceTaken { Kind = PieceKind.Case, From = "firms/gilder" }).Gate);
        story.Does(new PieceTaken { Kind = PieceKind.Case, From = "firms/polisher" });
        Assert.Equal(Mara, Holder(story, "case"));
    }

    [Fact]
    public void Who_saw_it_somewhere_else_comes_second()
    {
        var story = new Story().Does(new PiecePut { To = "places/safe" });

        Assert.Contains("one-holder", story.Refused(new PieceTaken { From = "places/desk" }).Select(gate => gate.Gate));
    }

    [Fact]
    public void A_kind_that_is_there_twice_is_named_by_its_own_id()
    {
        var story = WithBracelet();
        Assert.Equal("one-holder", story.RefusedBy(new PieceTaken { Kind = PieceKind.Other }).Gate);

        story.Does(new PieceTaken { Piece = "OTHER-2" });
        Assert.Equal((Mara, "places/desk"), (Holder(story, "other-2"), Holder(story, "other")));
    }

    [Fact]
    public void What_the_customer_has_is_not_put_or_given_by_the_house()
    {
        var story = WithBracelet().Through(Stage.Ready).Does(new PiecePut { Kind = PieceKind.Bracelet, To = "places/safe" });
        story.DeskDoes(story.HandedOver("movement", "case", "dial-and-hands"));
        Assert.False(story.Job.Standings.HandedOver);

        story.Says(new PiecePut { To = "places/safe" });
        story.Says(new PieceGiven { Kind = PieceKind.Movement, To = "firms/polisher" });
        Assert.Equal(Piece.Customer, Holder(story, "movement"));
    }

    [Fact]
    public void Of_fifty_who_take_at_once_one_has_it_and_the_others_are_told_who()
    {
        var story = new Story();
        var outcomes = Enumerable.Range(1, 50).Select(n => story.Says(new PieceTaken(), $"person-{n}", source: $"/devices/bench-{n}/1", bench: $"bench-{n}")).ToArray();

        Assert.Equal(Outcome.Accepted, outcomes[0].Outcome);
        Assert.All(outcomes[1..], decision =>
        {
            Assert.Equal(Outcome.Refused, decision.Outcome);
            Assert.All(decision.Against, gate => Assert.Equal(("people/person-1", story.Now.ToString()), (gate.Names["holder"], gate.Names["since"])));
        });
    }

    [Fact]
    public void A_piece_has_one_holder_at_every_instant()
    {
        var story = WithBracelet().Does(new PieceTaken()).After(Duration.FromHours(1)).Does(new PieceGiven { Kind = PieceKind.Case, To = "firms/polisher" })
            .After(Duration.FromHours(3)).Does(new PiecePut { Kind = PieceKind.Bracelet, To = "places/safe" });
        story.Does(new PieceTaken { Kind = PieceKind.Case, From = "firms/polisher" }, at: story.Now - Duration.FromHours(1));

        foreach (var thing in story.Job.Holdings.GroupBy(holding => holding.Thing))
        {
            var inOrder = thing.OrderBy(holding => holding.From).ToArray();
            Assert.All(inOrder.Zip(inOrder.Skip(1)), pair => Assert.Equal((pair.First.Until, pair.First.ClosedBy), (pair.Second.From, pair.Second.OpenedBy)));
            Assert.Null(inOrder[^1].Until);
        }
    }

    // Hand-over.

    [Fact]
    public void The_last_piece_hands_the_watch_over()
    {
        var story = WithBracelet().Through(Stage.Ready);
        story.DeskDoes(story.HandedOver("movement", "case", "dial-and-hands", "bracelet"));
        Assert.Equal(StageState.Open, story[Stage.HandedOver]);
        Assert.Empty(story.Job.Warranty.Terms);

        story.DeskDoes(story.HandedOver());
        Assert.Equal(StageState.Done, story[Stage.HandedOver]);
        Assert.Equal(2, story.Job.Warranty.Terms.Length);
    }

    [Fact]
    public void A_piece_with_a_firm_is_not_handed_over_with_the_rest()
    {
        var story = WithBracelet().Does(new PieceGiven { Kind = PieceKind.Bracelet, To = "firms/polisher" }).Through(Stage.Ready);
        story.Does(story.HandedOver([.. story.Job.Pieces.Pieces.Select(piece => piece.Id)]), TestShop.Desk, despite: ["pieces-home"]);
        Assert.Equal("firms/polisher", Holder(story, "bracelet"));
        Assert.False(story.Job.Standings.HandedOver);

        story.After(Duration.FromDays(3)).Does(new PieceTaken { Kind = PieceKind.Bracelet, From = "firms/polisher" }).DeskDoes(story.HandedOver());
        Assert.True(story.Job.Standings.HandedOver);
        Assert.Equal(story.Rules.Calendar.DateOf(story.Now), story.Job.Warranty.HandedOverOn);
        Assert.Equal(2, story.Job.Warranty.Terms.Length);
    }

    private static Story WithBracelet() => new(taken: new JobTakenIn
    {
        Variant = "full-automatic",
        Customer = "c",
        Watch = "w",
        CaseSerial = Story.CaseSerial,
        Counted = [new CountedPiece(PieceKind.Bracelet, 1), new CountedPiece(PieceKind.Links, 2), new CountedPiece(PieceKind.Other, 1), new CountedPiece(PieceKind.Other, 3)],
    });

    private static string Holder(Story story, string piece) => story.Job.Pieces.Pieces.Single(one => one.Id == piece).Holder;
}
