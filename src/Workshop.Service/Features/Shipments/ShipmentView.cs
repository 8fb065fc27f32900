using System.Collections.Immutable;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Labels;
using Workshop.Core.Shipments;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Shipments;

/// <summary>How a parcel stands.</summary>
public enum ShipmentState
{
    OnItsWay,
    Delivered,
    Lost,
}

/// <summary>A watch in a parcel.</summary>
/// <param name="Pieces">Of this job; absent for all of it.</param>
public sealed record ShippedJob(Label Job, ImmutableArray<string>? Pieces);

/// <summary>A parcel and the watches in it.</summary>
/// <param name="InsuredMinor">Minor units of <paramref name="Currency"/>.</param>
/// <param name="DeliveredOn">The day in the workshop's own calendar.</param>
public sealed record ShipmentView(
    string Id, ParcelDirection Direction, ImmutableArray<ShippedJob> Jobs, string Carrier, string? Number, Instant SentAt, long? InsuredMinor, string? Currency, ShipmentState State,
    LocalDate? DeliveredOn, Instant? LostAt)
{
    public static ShipmentView Of(StoredShipment one, ImmutableArray<JobInShipment> jobs) => new(
        one.Id,
        one.Direction == Word.Of(ParcelDirection.ToWorkshop) ? ParcelDirection.ToWorkshop : ParcelDirection.ToCustomer,
        [.. jobs.Select(job => new ShippedJob(job.Job, job.Pieces.IsEmpty ? null : job.Pieces))],
        one.Carrier, one.Number, Microseconds.Read(one.SentAt), one.InsuredMinor, one.Currency,
        one.DeliveredOn is not null ? ShipmentState.Delivered : one.LostAt is not null ? ShipmentState.Lost : ShipmentState.OnItsWay,
        one.DeliveredOn is { } day ? LocalDatePattern.Iso.Parse(day).Value : null,
        Microseconds.Read(one.LostAt));
}
