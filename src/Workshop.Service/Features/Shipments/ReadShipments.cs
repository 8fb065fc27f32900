using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Labels;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Shipments;

/// <summary>The parcels a job travelled in, the first one first.</summary>
public sealed record ShipmentsView(Label Job, ImmutableArray<ShipmentView> Items);

public static class ReadShipments
{
    public static Task<Results<Seen<ShipmentView>, ProblemHttpResult>> One(string id, Caller caller, Reader reader, CancellationToken cancel) =>
        reader.Read<Results<Seen<ShipmentView>, ProblemHttpResult>>(
            connection => ShipmentStore.Find(connection, caller.Site, id) is { } found
                ? Answer.Seen(VersionOf(found), ShipmentView.Of(found, ShipmentStore.Jobs(connection, caller.Site, id)))
                : NoShipment(),
            cancel);

    public static async Task<Results<Seen<ShipmentsView>, ProblemHttpResult>> OfJob(string label, Caller caller, JobStore store, Reader reader, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, job, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var items = await reader.Read<ImmutableArray<ShipmentView>>(
            connection => [.. read.Job.Shipments.All
                .Select(one => ShipmentStore.Find(connection, caller.Site, one.Id)).OfType<StoredShipment>()
                .Select(found => ShipmentView.Of(found, ShipmentStore.Jobs(connection, caller.Site, found.Id)))],
            cancel);
        return Answer.Seen(read.Job.Version, new ShipmentsView(job, items));
    }

    internal static ProblemHttpResult NoShipment() => Problems.Of(ProblemCatalogue.NoSuchThing, "There is no parcel with this id.");

    // It is sent, and then it arrives or is lost.
    private static long VersionOf(StoredShipment one) => 1 + (one.LostAt is null ? 0 : 1) + (one.DeliveredOn is null ? 0 : 2);
}
