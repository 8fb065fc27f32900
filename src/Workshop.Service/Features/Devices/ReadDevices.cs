using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Devices;

/// <summary>A device by its newest pairing.</summary>
/// <param name="Source">What it speaks for.</param>
/// <param name="LastHeard">When its key was last used, to the minute; absent where it never was.</param>
/// <param name="RevokedAt">Its key is worthless since then; absent while it is good.</param>
public sealed record DeviceView(string Device, string Source, Role Role, string? Bench, Instant PairedAt, Instant? LastHeard, Instant? RevokedAt);

/// <param name="Devices">By name.</param>
public sealed record DeviceList(ImmutableArray<DeviceView> Devices);

/// <summary>Every device that was ever paired, by its newest pairing.</summary>
public static class ReadDevices
{
    public static async Task<Ok<DeviceList>> All(Caller caller, ApiKeys keys, CancellationToken cancel) =>
        TypedResults.Ok(new DeviceList(Of(await keys.List(caller.Site, cancel))));

    public static async Task<Results<Seen<DeviceView>, ProblemHttpResult>> One(string device, Caller caller, ApiKeys keys, CancellationToken cancel) =>
        Of(await keys.List(caller.Site, cancel)).FirstOrDefault(one => one.Device == device) is { } found
            ? Answer.Seen(DeviceSource.NumberOf(found.Source), found)
            : NoDevice();

    internal static ProblemHttpResult NoDevice() => Problems.Of(ProblemCatalogue.NoSuchThing, "There is no device of this name.");

    private static ImmutableArray<DeviceView> Of(IEnumerable<ApiKey> keys) =>
    [
        .. from key in keys
           let name = DeviceSource.NameOf(key.Source)
           where name is not null
           group key by name into ofDevice
           let newest = ofDevice.MaxBy(key => (DeviceSource.NumberOf(key.Source), key.Created))!
           orderby ofDevice.Key
           select new DeviceView(
               ofDevice.Key, newest.Source, Word.Read<Role>(newest.Role)!.Value, newest.Bench,
               Microseconds.Read(newest.Created), Microseconds.Read(newest.LastUsed), Microseconds.Read(newest.Revoked)),
    ];
}
