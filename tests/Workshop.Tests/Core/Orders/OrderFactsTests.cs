using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Orders;
using Workshop.Core.Shipments;

namespace Workshop.Tests.Core.Orders;

/// <summary>What a storefront tells of an order ends in one state, however it comes.</summary>
public class OrderFactsTests
{
    private static readonly Func<OrderFacts, OrderFacts>[] Story =
    [
        facts => facts.With(Revision(1, ("1", 2))),
        facts => facts.With(Revision(2, ("1", 1), ("2", 1))),
        facts => facts.With(Revision(3, ("1", 2))),
        facts => facts.With(new OrderPayment("p-1", OrderPaymentKind.Deposit, 20_000, "CHF", At(3))),
        facts => facts.With(new OrderPayment("p-2", OrderPaymentKind.Balance, 30_000, "CHF", At(4))),
        facts => facts.With(new OrderCancelled(["1"])),
        facts => facts.With(new OrderRefund("p-2", 10_000, "CHF", At(6))),
        facts => facts.With(new OrderDispute("p-1", At(7))).With(new OrderDispute("p-1", At(8), DisputeEnd.Kept)),
    ];

    [Fact]
    public void Every_order_of_hearing_and_every_repetition_ends_in_the_same_state()
    {
        var expected = Text(Story.Aggregate(new OrderFacts(), (facts, next) => next(facts)));
        var random = new Random(7);
        for (var i = 0; i < 2_000; i++)
        {
            var told = Story.Concat(Enumerable.Range(0, random.Next(8)).Select(_ => Story[random.Next(Story.Length)])).ToArray();
            random.Shuffle(told);
            Assert.Equal(expected, Text(told.Aggregate(new OrderFacts(), (facts, next) => next(facts))));
        }
    }

    [Fact]
    public void The_highest_revision_holds_and_what_only_an_older_one_had_is_ended()
    {
        var facts = new OrderFacts().With(Revision(3, ("1", 2))).With(Revision(2, ("1", 3), ("2", 1)));

        Assert.Equal(
            ["1/1 wanted", "1/2 wanted", "1/3 NoLongerOrdered", "2/1 NoLongerOrdered"],
            facts.Pieces().Select(piece => $"{piece.Line}/{piece.Piece} {piece.End?.ToString() ?? "wanted"}"));
    }

    [Fact]
    public void A_line_that_was_taken_back_stays_taken_back_whatever_a_later_state_says()
    {
        var facts = new OrderFacts().With(Revision(1, ("1", 1), ("2", 1))).With(new OrderCancelled(["2"])).With(Revision(2, ("1", 1), ("2", 1)));

        Assert.Equal([null, ArrivalEnd.Cancelled], facts.Pieces().Select(piece => piece.End));
    }

    [Fact]
    public void What_does_not_divide_goes_to_the_first_watch()
    {
        var facts = new OrderFacts().With(Revision(1, ("1", 3)));

        Assert.Equal([33_334L, 33_333, 33_333], facts.Pieces().Select(piece => piece.AmountMinor));
    }

    [Fact]
    public void A_watch_is_waited_for_from_the_later_of_payment_and_packing()
    {
        var ordered = new OrderFacts().With(Revision(1, ("1", 1)));
        var paid = ordered.With(new OrderPayment("p-1", OrderPaymentKind.Balance, 1, "CHF", At(5)));
        var packed = paid.With(new OrderShipment(ShipmentTold.Sent, ParcelDirection.ToCustomer, At(9)));
        var onItsWay = packed.With(new OrderShipment(ShipmentTold.Sent, ParcelDirection.ToWorkshop, At(11)));

        Assert.Equal([At(2), At(5), At(9), At(9)], new[] { ordered, paid, packed, onItsWay }.Select(facts => facts.WaitsFrom));
    }

    [Fact]
    public void A_dispute_stands_until_its_last_word_says_otherwise()
    {
        var open = new OrderFacts().With(new OrderDispute("p-1", At(8), DisputeEnd.Kept)).With(new OrderDispute("p-1", At(9)));

        Assert.Equal(["p-1"], open.Disputed);
        Assert.Empty(open.With(new OrderDispute("p-1", At(10), DisputeEnd.PaidBack)).Disputed);
    }

    [Fact]
    public void The_parts_of_a_payment_come_to_the_whole_whenever_the_watches_arrive()
    {
        var order = new OrderFacts().With(Revision(1, ("1", 1), ("2", 2))).With(new OrderPayment("p-1", OrderPaymentKind.Balance, 100_001, "CHF", At(3)));
        Label[] labels = [Arrival(1), Arrival(2), Arrival(3)];
        foreach (var arriving in new[] { new[] { 0, 1, 2 }, [2, 1, 0], [1, 2, 0] })
        {
            var carried = ImmutableArray<CarriedPayment>.Empty;
            var here = new HashSet<int>();
            foreach (var next in arriving)
            {
                here.Add(next);
                carried = carried.AddRange(PaymentShares.Due(order, [.. labels.Index().Select(one => new PayingPiece(one.Item, 100, !here.Contains(one.Index), here.Contains(one.Index)))], carried));
            }

            Assert.Equal(100_001, carried.Sum(one => one.AmountMinor));
            Assert.Equal(3, carried.Select(one => one.Arrival).Distinct().Count());
        }
    }

    [Fact]
    public void Nothing_is_carried_twice_and_a_refund_of_a_watch_that_never_came_leaves_the_other_alone()
    {
        var order = new OrderFacts().With(Revision(1, ("1", 1), ("2", 1))).With(new OrderPayment("p-1", OrderPaymentKind.Balance, 100_000, "CHF", At(3)));
        var (here, gone) = (Arrival(1), Arrival(2));
        var first = PaymentShares.Due(order, [new(here, 100, false, true), new(gone, 100, true, false)], []);
        var again = PaymentShares.Due(order, [new(here, 100, false, true), new(gone, 100, true, false)], first);
        var refunded = order.With(new OrderCancelled(["2"])).With(new OrderRefund("p-1", 50_000, "CHF", At(5)));
        var after = PaymentShares.Due(refunded, [new(here, 100, false, true), new(gone, 100, false, false)], first);

        Assert.Equal(new CarriedPayment("p-1", here, 50_000), Assert.Single(first));
        Assert.Empty(again);
        Assert.Empty(after);
    }

    [Fact]
    public void A_refund_of_what_a_job_was_paid_goes_to_that_job_once_nothing_is_waited_for()
    {
        var order = new OrderFacts().With(Revision(1, ("1", 1))).With(new OrderPayment("p-1", OrderPaymentKind.Balance, 100_000, "CHF", At(3))).With(new OrderRefund("p-1", 30_000, "CHF", At(5)));
        PayingPiece piece = new(Arrival(1), 100, false, true);

        var due = PaymentShares.Due(order, [piece], []);

        Assert.Equal([100_000L, -30_000], due.Select(one => one.AmountMinor));
        Assert.Empty(PaymentShares.Due(order, [piece], due));
    }

    private static OrderRevision Revision(int number, params (string Line, int Quantity)[] lines) => new(
        number, $"digest-{number}", At(2), "CHF", [.. lines.Select(one => new OrderedLine(one.Line, "full-service", one.Quantity, [], 100_000))]);

    private static Label Arrival(int number) => Label.Complete(LabelKind.Expected, [1, 2, 3, 4, number / 20, number % 20]);

    private static Instant At(int day) => Instant.FromUtc(2026, 3, day, 9, 0);

    private static string Text(OrderFacts facts) => string.Join('\n',
    [
        .. facts.Revisions.Select(one => $"{one.Revision} {one.Digest} {string.Join(", ", one.Lines)}"), .. facts.Payments.Select(one => $"{one}"),
        .. facts.Refunds.Select(one => $"{one}"), .. facts.Disputes.Select(one => $"{one}"), .. facts.Cancellations.Select(one => string.Join(", ", one.Lines)),
        .. facts.Pieces().Select(one => $"{one}"), $"{facts.WaitsFrom}",
    ]);
}
