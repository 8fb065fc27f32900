using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Core.Shipments;

/// <summary>Which way a parcel goes.</summary>
public enum ParcelDirection
{
    ToWorkshop,
    ToCustomer,
}

/// <summary>A parcel with this watch, or with pieces of it, was given to a carrier. Each job in it has an entry of its own.</summary>
public sealed record ShipmentSent : WorkshopEvent
{
    public required string Shipment { get; init; }

    public required ParcelDirection Direction { get; init; }

    /// <summary>Of this job; all of it where left out.</summary>
    public ImmutableArray<string>? Pieces { get; init; }

    /// <summary>The other jobs in the same parcel.</summary>
    public ImmutableArray<Label>? With { get; init; }

    public required string Carrier { get; init; }

    /// <summary>The carrier's number for the parcel.</summary>
    public string? Number { get; init; }

    /// <summary>What the parcel is insured for, minor units; nothing where left out.</summary>
    public long? InsuredMinor { get; init; }

    /// <summary>The most that the carrier insures, minor units; not known where left out.</summary>
    public long? CarrierInsuresMinor { get; init; }

    /// <summary>Declared values of all watches in the parcel, minor units; not known where left out.</summary>
    public long? DeclaredMinor { get; init; }

    /// <summary>ISO 4217, of all three.</summary>
    public string? Currency { get; init; }
}

/// <summary>A parcel arrived.</summary>
public sealed record ShipmentDelivered : WorkshopEvent
{
    public required string Shipment { get; init; }

    /// <summary>The day in the workshop's own calendar.</summary>
    public required LocalDate On { get; init; }
}

/// <summary>A parcel is lost on its way.</summary>
public sealed record ShipmentLost : WorkshopEvent
{
    public required string Shipment { get; init; }

    public required string Reason { get; init; }
}
