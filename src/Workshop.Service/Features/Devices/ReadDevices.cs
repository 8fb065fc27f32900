using System.Collections.Immutable;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Sources;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Devices;

/// <summary>A device by its newest pairing.</summary>
/// <param name="Source">What it speaks for.</param>
/// <param name="LastHeard">When its key was last used, to the minute; absent where it never was.</param>
/// <param name="RevokedAt">Its key is worthless since then; absent while it is good.</param>
/// <param name="Document">What the shop has said of it; saved by PUT at the same address.</param>
public sealed record DeviceView(
    string Device, string? Source, Role? Role, string? Bench, Instant? PairedAt, Instant? LastHeard, Instant? RevokedAt, DeviceDocument? Document);

/// <param name="Devices">By name.</param>
public sealed record DeviceList(ImmutableArray<DeviceView> Devices);

/// <summary>Every device that was ever paired, by its newest pairing, and those of which the shop has said something before.</summary>
public static class ReadDevices
{
    public static async Task<Ok<DeviceList>> All(Caller caller, ApiKeys keys, Reader reader, CancellationToken cancel) =>
        TypedResults.Ok(new DeviceList([.. (await Of(caller, keys, reader, cancel)).Select(one => one.View)]));

    public static async Task<Results<Seen<DeviceView>, ProblemHttpResult>> One(string id, Caller caller, ApiKeys keys, Reader reader, CancellationToken cancel) =>
        (await Of(caller, keys, reader, cancel)).FirstOrDefault(one => one.View.Device == id) is { View: { } found, Version: var version }
            ? Answer.Seen(version, found)
            : NoDevice();

    internal static ProblemHttpResult NoDevice() => Problems.Of(ProblemCatalogue.NoSuchThing, "There is no device of this name.");

    // The version is the document's, which is what a person edits: 0 where there is none yet.
    private static async Task<IEnumerable<(DeviceView View, long Version)>> Of(Caller caller, ApiKeys keys, Reader reader, CancellationToken cancel)
    {
        var documents = (await reader.Read(connection => ShopDocuments.AllOfKind(connection, caller.Site, ShopKinds.Of<DeviceDocument>().Name), cancel)).ToDictionary(one => one.Id, StringComparer.Ordinal);
        var paired = (await keys.List(caller.Site, cancel))
            .Select(key => (Name: DeviceSource.NameOf(key.Source), Key: key))
            .Where(one => one.Name is not null)
            .GroupBy(one => one.Name!, one => one.Key, StringComparer.Ordinal)
            .ToDictionary(of => of.Key, of => of.MaxBy(key => (DeviceSource.NumberOf(key.Source), key.Created))!, StringComparer.Ordinal);
        return paired.Keys.Union(documents.Keys).Order(StringComparer.Ordinal)
            .Select(name => (Of(name, paired.GetValueOrDefault(name), documents.GetValueOrDefault(name)), documents.GetValueOrDefault(name)?.Version ?? 0));
    }

    private static DeviceView Of(string name, ApiKey? newest, ShopDocument? saved)
    {
        var document = saved is null ? null : JsonSerializer.Deserialize<DeviceDocument>(saved.Document, WorkshopJson.Options);
        return newest is null
            ? new DeviceView(name, null, null, document?.Bench, null, null, null, document)
            : new DeviceView(
                name, newest.Source, Word.Read<Role>(newest.Role)!.Value, newest.Bench,
                Microseconds.Read(newest.Created), Microseconds.Read(newest.LastUsed), Microseconds.Read(newest.Revoked), document);
    }
}
