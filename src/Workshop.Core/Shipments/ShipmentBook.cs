using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Shipments;

/// <summary>A parcel in which this watch, or a piece of it, travelled.</summary>
public sealed record Shipment(string Id, ParcelDirection Direction, string Carrier, string? Number, Instant SentAt, LocalDate? DeliveredOn = null, Instant? LostAt = null)
{
    /// <summary>Of this job; none for all of it.</summary>
    public ImmutableArray<string> Pieces { get; init; } = [];

    public bool OnItsWay => DeliveredOn is null && LostAt is null;
}

public sealed record ShipmentBook
{
    public ImmutableArray<Shipment> All { get; init; } = [];

    public Shipment? Find(string id) => All.FirstOrDefault(one => one.Id == id);

    public ShipmentBook Apply(Entry entry) => entry.Event switch
    {
        ShipmentSent sent => this with { All = All.Add(new(sent.Shipment, sent.Direction, sent.Carrier, sent.Number, entry.Effective) { Pieces = sent.Pieces ?? [] }) },

        // What was lost and is found is delivered.
        ShipmentDelivered came => Change(came.Shipment, one => one with { DeliveredOn = came.On, LostAt = null }),
        ShipmentLost lost => Change(lost.Shipment, one => one.DeliveredOn is null ? one with { LostAt = entry.Effective } : one),
        _ => this,
    };

    private ShipmentBook Change(string id, Func<Shipment, Shipment> change) => this with { All = [.. All.Select(one => one.Id == id ? change(one) : one)] };
}
