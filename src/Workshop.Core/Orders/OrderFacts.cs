using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Shipments;

namespace Workshop.Core.Orders;

/// <summary>A line of an order, without anything that belongs to a person.</summary>
/// <param name="AmountMinor">Of the whole line, tax included; minor units.</param>
/// <param name="Serial">As the customer wrote it, where they did.</param>
public sealed record OrderedLine(string Line, string Product, int Quantity, ImmutableArray<string> Options, long AmountMinor, string? Serial = null);

/// <summary>An order as it was told once: always the whole, never a difference.</summary>
/// <param name="Revision">The storefront's own count; the highest one holds.</param>
/// <param name="Digest">Of the whole content: what decides between two that say the same revision, so that it is the same one on every day.</param>
public sealed record OrderRevision(
    int Revision, string Digest, Instant PlacedAt, string Currency, ImmutableArray<OrderedLine> Lines, LocalDate? NotBefore = null,
    LocalDate? FixedDate = null, PolishWish? Polish = null, bool? OldPartsBack = null);

/// <param name="Payment">The storefront's name for it; told twice it is one.</param>
public sealed record OrderPayment(string Payment, OrderPaymentKind Kind, long AmountMinor, string Currency, Instant At);

/// <summary>Money that went back to the customer; the same payment, amount and moment are the same refund.</summary>
public sealed record OrderRefund(string Payment, long AmountMinor, string Currency, Instant At);

/// <summary>A payment is disputed, or no longer.</summary>
/// <param name="Closed">How it ended; null where it begins.</param>
public sealed record OrderDispute(string Payment, Instant At, DisputeEnd? Closed = null);

/// <summary>What the customer took back: these lines, or the whole order where none is named.</summary>
public sealed record OrderCancelled(ImmutableArray<string> Lines);

public sealed record OrderShipment(ShipmentTold Told, ParcelDirection Direction, Instant At, string? Carrier = null, string? Number = null);

/// <summary>One watch of an order.</summary>
/// <param name="Piece">1, 2 … within the line.</param>
/// <param name="AmountMinor">Its share of the line.</param>
/// <param name="End">Null while it is wanted.</param>
public sealed record OrderedPiece(string Line, int Piece, string Product, ImmutableArray<string> Options, long AmountMinor, string? Serial, ArrivalEnd? End);

/// <summary>
/// All that a storefront has told of an order, as sets: what is heard twice is there once, and in what order it was heard cannot be seen. How
/// the order stands is computed from them.
/// </summary>
public sealed record OrderFacts
{
    public ImmutableArray<OrderRevision> Revisions { get; init; } = [];

    public ImmutableArray<OrderPayment> Payments { get; init; } = [];

    public ImmutableArray<OrderRefund> Refunds { get; init; } = [];

    public ImmutableArray<OrderDispute> Disputes { get; init; } = [];

    public ImmutableArray<OrderCancelled> Cancellations { get; init; } = [];

    public ImmutableArray<OrderShipment> Shipments { get; init; } = [];

    /// <summary>The state that holds; null while only payments or parcels are known.</summary>
    public OrderRevision? Newest => Revisions.IsEmpty ? null : Revisions[^1];

    /// <summary>What holds of every payment, by its name.</summary>
    public IEnumerable<OrderPayment> Paid => Payments.GroupBy(one => one.Payment, StringComparer.Ordinal).Select(same => same.Last());

    public long PaidMinor => Paid.Sum(one => one.AmountMinor);

    public long RefundedMinor => Refunds.Sum(one => one.AmountMinor);

    public Instant? LastPaidAt => Latest(Paid.Select(one => one.At));

    /// <summary>When packing last went to the customer.</summary>
    public Instant? KitSentAt => Latest(Shipments.Where(one => one is { Told: ShipmentTold.Sent, Direction: ParcelDirection.ToCustomer }).Select(one => one.At));

    /// <summary>From when on a watch is waited for: the later of payment and packing, else the day of the order; null while that is not known.</summary>
    public Instant? WaitsFrom => Latest(new[] { LastPaidAt, KitSentAt }.OfType<Instant>()) ?? Newest?.PlacedAt;

    /// <summary>Payments that are disputed: the last word on each.</summary>
    public IEnumerable<string> Disputed => Disputes
        .GroupBy(one => one.Payment, StringComparer.Ordinal)
        .Where(told => told.Max(one => one.At) is var last && told.Where(one => one.At == last).All(one => one.Closed is null))
        .Select(told => told.Key);

    public OrderFacts With(OrderRevision one) => this with { Revisions = Put(Revisions, one, told => $"{told.Revision:D10} {told.Digest}") };

    public OrderFacts With(OrderPayment one) => this with { Payments = Put(Payments, one, told => told.ToString()) };

    public OrderFacts With(OrderRefund one) => this with { Refunds = Put(Refunds, one, told => told.ToString()) };

    public OrderFacts With(OrderDispute one) => this with { Disputes = Put(Disputes, one, told => told.ToString()) };

    public OrderFacts With(OrderCancelled one) =>
        this with { Cancellations = Put(Cancellations, one with { Lines = [.. one.Lines.Distinct().Order(StringComparer.Ordinal)] }, told => string.Join('\n', told.Lines)) };

    public OrderFacts With(OrderShipment one) => this with { Shipments = Put(Shipments, one, told => told.ToString()) };

    /// <summary>Every watch that was ever ordered: one that only an older state had is there as ended, so that it does not matter which was heard first.</summary>
    public IEnumerable<OrderedPiece> Pieces()
    {
        var lines = Revisions.SelectMany(revision => revision.Lines.Select(line => (Revision: revision, Line: line))).GroupBy(one => one.Line.Line, StringComparer.Ordinal);
        foreach (var told in lines.OrderBy(one => one.Key, StringComparer.Ordinal))
        {
            var (revision, line) = told.Last();
            var wanted = revision == Newest ? line.Quantity : 0;
            var cancelled = Cancellations.Any(one => one.Lines.IsEmpty || one.Lines.Contains(told.Key));
            for (var piece = 1; piece <= told.Max(one => one.Line.Quantity); piece++)
            {
                yield return new OrderedPiece(
                    told.Key, piece, line.Product, line.Options, Share(line.AmountMinor, line.Quantity, piece), line.Serial,
                    cancelled ? ArrivalEnd.Cancelled : piece > wanted ? ArrivalEnd.NoLongerOrdered : null);
            }
        }
    }

    // What does not divide goes to the first.
    private static long Share(long amount, int of, int piece) => (amount / of) + (piece == 1 ? amount % of : 0);

    private static Instant? Latest(IEnumerable<Instant> moments) => moments.Select(one => (Instant?)one).Max();

    private static ImmutableArray<T> Put<T>(ImmutableArray<T> told, T one, Func<T, string> name) where T : class
    {
        var at = told.Count(before => string.CompareOrdinal(name(before), name(one)) < 0);
        return at < told.Length && name(told[at]) == name(one) ? told : told.Insert(at, one);
    }
}
