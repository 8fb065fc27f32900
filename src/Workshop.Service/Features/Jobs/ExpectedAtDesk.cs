using System.Collections.Immutable;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Orders;
using Workshop.Core.Words;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Jobs;

/// <summary>An expected watch that stands on the desk: what was ordered fills what nobody says anew, and is held against what is there.</summary>
internal sealed class ExpectedAtDesk
{
    private readonly Turn turn;
    private readonly StoredArrival arrival;
    private readonly OrderedThing ordered;
    private readonly StoredStorefront? storefront;

    private ExpectedAtDesk(Turn turn, StoredArrival arrival)
    {
        this.turn = turn;
        this.arrival = arrival;
        ordered = arrival.ReadOrdered();
        storefront = arrival.Storefront is { } id ? StorefrontStore.Find(turn, id) : null;
    }

    /// <returns>Null where no label was named; or why nothing is waited for under it.</returns>
    public static (ExpectedAtDesk? Expected, ProblemHttpResult? Refusal) Find(Turn turn, Label? label)
    {
        if (label is not { } named)
        {
            return (null, null);
        }

        if (named.Kind != LabelKind.Expected || ArrivalStore.Find(turn, named) is not { } arrival)
        {
            return (null, Problems.BadFields(new Fault("/expected", "No watch is or was expected under this label")));
        }

        // One that was given up may come after all.
        return arrival.ReadState() == ArrivalStanding.Expected || arrival.ReadReason() == ArrivalEnd.NeverCame
            ? (new ExpectedAtDesk(turn, arrival), null)
            : (null, NotExpected(arrival));
    }

    /// <summary>Reads whom or what a body names; left out it is missing.</summary>
    public static (KnownOrNew<T>? Value, ImmutableArray<Fault> Faults) Read<T>(JsonElement? sent, string pointer) where T : class =>
        sent is { } told ? KnownOrNew<T>.Read(told, pointer) : (null, [new Fault(pointer, $"'{pointer[1..]}' is missing.")]);

    /// <summary>What was ordered, where nobody said otherwise at the desk.</summary>
    public TakeInBody Fill(TakeInBody body)
    {
        var wishes = body.Wishes ?? new IntakeWishes();
        return body with
        {
            Customer = body.Customer ?? (arrival.CustomerId is { } customer ? JsonSerializer.SerializeToElement(customer, WorkshopJson.Options) : null),
            Watch = body.Watch ?? JsonSerializer.SerializeToElement(new WatchDetails { Words = arrival.Words ?? ordered.Product ?? "expected" }, WorkshopJson.Options),
            Wishes = wishes with
            {
                Polish = wishes.Polish ?? ordered.Polish,
                OldPartsBack = wishes.OldPartsBack ?? ordered.OldPartsBack,
                FixedDate = wishes.FixedDate ?? (ordered.FixedDate is { } day && day >= turn.Rules.Calendar.DateOf(turn.Now) ? day : null),
            },
        };
    }

    /// <summary>What stands there otherwise than it was ordered.</summary>
    public ImmutableArray<OrderDiffers> Differs(string? variant, CalibreKind? kind, string? serial) =>
        OrderComparison.Of(Variant, variant, kind, ordered.Serial, serial, turn.Rules);

    /// <summary>The kind of work that was ordered, unless the watch asks for another.</summary>
    public string? VariantUnless(ImmutableArray<OrderDiffers> differs) => differs.Contains(OrderDiffers.Work) ? null : Variant;

    /// <summary>Two orders may have been placed for one watch; it is in the house once.</summary>
    public ProblemHttpResult? IsHere(string? serial) =>
        serial is not null && turn.OtherJobWithNumber(serial, arrival.ReadLabel()) is { } job
            ? Problems.Of(ProblemCatalogue.WatchIsHere, $"A watch with this number is here as {job}.", ("job", job), ("arrival", arrival.Label))
            : null;

    /// <summary>Of a storefront's order; null where the desk expected it.</summary>
    public OrderedAs? OrderedAs(ImmutableArray<OrderDiffers> differs) => storefront is null ? null
        : new OrderedAs(arrival.ReadLabel(), storefront.Source, arrival.OrderRef!, arrival.Line!, (int)arrival.Piece!.Value) { Differs = differs.IsEmpty ? null : differs };

    /// <summary>The watch is taken in: it is waited for no longer, and what its order was paid goes into the job's account.</summary>
    /// <returns>Other watches that are expected of this customer.</returns>
    public ImmutableArray<Label> Taken(Label job, string customer, string? serial)
    {
        ArrivalStore.Change(turn, arrival, arrival with { State = Word.Of(ArrivalStanding.Arrived), Reason = null, Job = job.ToString() });
        if (storefront is not null && OrderStore.Find(turn, storefront.Id, arrival.OrderRef!) is { } order)
        {
            OrderPayments.Carry(turn, storefront, order);
        }

        var besides = ArrivalStore.OfCustomer(turn, arrival.CustomerId ?? customer).Where(one => one.ReadState() == ArrivalStanding.Expected).ToArray();
        foreach (var same in besides.Where(one => IsSame(one, serial)))
        {
            ArrivalStore.Change(turn, same, same with { State = Word.Of(ArrivalStanding.Ended), Reason = Word.Of(ArrivalEnd.SameWatch), Job = job.ToString() });
        }

        HouseAgenda.Refresh(turn);
        return [.. besides.Where(one => !IsSame(one, serial)).Select(one => one.ReadLabel())];
    }

    /// <summary>Why nothing is waited for under a label.</summary>
    internal static ProblemHttpResult NotExpected(StoredArrival arrival) => Problems.Of(
        ProblemCatalogue.NotExpected, arrival.Job is { } became ? $"{arrival.Label} has become {became}." : $"{arrival.Label} has ended.",
        ("arrival", arrival.Label), ("job", arrival.Job), ("state", arrival.State), ("reason", arrival.Reason));

    private string? Variant => ordered.Variant
        ?? (storefront is not null && ordered.Product is { } product ? turn.Rules.VariantsOfProducts.GetValueOrDefault(new(storefront.Source, product)) : null);

    private static bool IsSame(StoredArrival other, string? serial) =>
        Core.Casing.WatchNumber.Key(serial) is { } key && Core.Casing.WatchNumber.Key(other.ReadOrdered().Serial) == key;
}
