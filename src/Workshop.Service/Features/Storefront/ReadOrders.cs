using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Orders;
using Workshop.Service.Features.Arrivals;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Storefront;

/// <summary>An order as it stands by all that was told of it.</summary>
public sealed record OrderView
{
    public required string Storefront { get; init; }

    public required string Order { get; init; }

    /// <summary>The storefront's own name of the customer.</summary>
    public string? CustomerRef { get; init; }

    /// <summary>Absent while only payments or parcels are known.</summary>
    public int? Revision { get; init; }

    public Instant? PlacedAt { get; init; }

    /// <summary>ISO 4217.</summary>
    public string? Currency { get; init; }

    public required ImmutableArray<OrderedLine> Lines { get; init; }

    public required long PaidMinor { get; init; }

    public required long RefundedMinor { get; init; }

    /// <summary>Payments that are disputed.</summary>
    public required ImmutableArray<string> Disputed { get; init; }

    public required ImmutableArray<OrderPayment> Payments { get; init; }

    public required ImmutableArray<OrderShipment> Shipments { get; init; }

    public required ImmutableArray<ArrivalView> Arrivals { get; init; }

    public ToldParty? BillTo { get; init; }

    public ToldParty? ShipTo { get; init; }

    /// <summary>For a gift: who gets the watch, and before which day they hear nothing.</summary>
    public ToldParty? Recipient { get; init; }

    public LocalDate? NotBefore { get; init; }

    public required long Version { get; init; }
}

/// <summary>Reads orders of storefronts.</summary>
public static class ReadOrders
{
    public static async Task<Paged<OrderView>> All(string id, Page page, Caller caller, Reader reader, CancellationToken cancel)
    {
        var rows = await reader.Read(
            connection => OrderStore.List(connection, caller.Site, id, page.After is [var after] ? after : "", page.Limit + 1)
                .Select(row => Shown(row, ArrivalStore.OfOrder(connection, caller.Site, id, row.OrderRef))).ToArray(), cancel);
        return page.Of(rows, one => [one.Order]);
    }

    public static async Task<Results<Ok<OrderView>, ProblemHttpResult>> One(string id, string order, Caller caller, Reader reader, CancellationToken cancel) =>
        await reader.Read<Results<Ok<OrderView>, ProblemHttpResult>>(
            connection => OrderStore.Find(connection, caller.Site, id, order) is { } found
                ? TypedResults.Ok(Shown(found, ArrivalStore.OfOrder(connection, caller.Site, id, order)))
                : Problems.Of(ProblemCatalogue.NoSuchThing, "Nothing was told of such an order."), cancel);

    private static OrderView Shown(StoredOrder stored, IReadOnlyList<StoredArrival> arrivals)
    {
        var (facts, people) = (stored.ReadFacts(), stored.ReadPeople());
        return new OrderView
        {
            Storefront = stored.Storefront,
            Order = stored.OrderRef,
            CustomerRef = stored.CustomerRef,
            Revision = facts.Newest?.Revision,
            PlacedAt = facts.Newest?.PlacedAt,
            Currency = facts.Newest?.Currency ?? facts.Paid.FirstOrDefault()?.Currency,
            Lines = facts.Newest?.Lines ?? [],
            PaidMinor = facts.PaidMinor,
            RefundedMinor = facts.RefundedMinor,
            Disputed = [.. facts.Disputed],
            Payments = [.. facts.Paid],
            Shipments = facts.Shipments,
            Arrivals = [.. arrivals.Select(ArrivalView.Of)],
            BillTo = people?.BillTo,
            ShipTo = people?.ShipTo,
            Recipient = people?.Recipient,
            NotBefore = facts.Newest?.NotBefore,
            Version = stored.Version,
        };
    }
}
