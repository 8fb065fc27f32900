using System.Text.Json;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Orders;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Arrivals;

/// <summary>What is told outside of an expected watch, and when its customer may be written to.</summary>
public static class ArrivalMessages
{
    /// <summary>A watch is expected: the storefront learns under which label, and where the slip for the parcel is.</summary>
    public static void Expected(Turn turn, StoredArrival arrival)
    {
        if (arrival.ReadState() == ArrivalStanding.Expected)
        {
            Put(turn, "arrival.expected", arrival, arrival.Label);
        }
    }

    /// <summary>A watch has not come within its days.</summary>
    public static void Overdue(Turn turn, Label label, Instant due)
    {
        if (ArrivalStore.Find(turn, label) is { } arrival)
        {
            Put(turn, "arrival.overdue", arrival, due.ToString());
        }
    }

    /// <summary>The moments about which the customer of an expected watch may be written to.</summary>
    public static ArrivalMoments Moments(Turn turn, StoredArrival arrival)
    {
        var facts = arrival is { Storefront: { } storefront, OrderRef: { } order } ? Storefront.OrderStore.Find(turn, storefront, order)?.ReadFacts() : null;
        return new ArrivalMoments(
            Microseconds.Read(arrival.Created), facts?.KitSentAt, ArrivalPlan.AskedAt(Microseconds.Read(arrival.WaitsFrom), turn.Rules), arrival.ReadState() != ArrivalStanding.Expected);
    }

    private static void Put(Turn turn, string type, StoredArrival arrival, string occasion)
    {
        var stream = $"arrival/{arrival.Label}";
        turn.Put(new OutboxMessage
        {
            Id = $"{type}/{stream}/{occasion}",
            Type = type,
            Stream = stream,
            Storefront = arrival.Storefront,
            Body = JsonSerializer.Serialize(
                new Told
                {
                    Arrival = arrival.Label,
                    Order = arrival.OrderRef,
                    Line = arrival.Line,
                    Version = arrival.Version,
                    At = turn.Now,
                    Slip = $"/v1/arrivals/{arrival.Label}/slip.pdf",
                    Until = turn.Rules.Calendar.DateOf(Microseconds.Read(arrival.WaitsFrom)).PlusDays(turn.Rules.Orders.ArrivesWithinDays),
                    Public = new Seen(arrival.Label, "expected", turn.Rules.Calendar.DateOf(Microseconds.Read(arrival.Created))),
                },
                WorkshopJson.Options),
        });
    }

    private sealed record Told
    {
        public required string Arrival { get; init; }

        public string? Order { get; init; }

        public string? Line { get; init; }

        public required long Version { get; init; }

        public required Instant At { get; init; }

        public required string Slip { get; init; }

        public required LocalDate Until { get; init; }

        public required Seen Public { get; init; }
    }

    private sealed record Seen(string Reference, string Stage, LocalDate Since);
}
