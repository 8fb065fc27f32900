using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Devices;

/// <summary>Withdraws a device's key, in whose hands the device ever is. What it said stays said; it can be paired anew.</summary>
public static class RevokeDevice
{
    public static async Task<Results<NoContent, ProblemHttpResult>> Handle(string id, Caller caller, ApiKeys keys, Writer writer, CancellationToken cancel)
    {
        var known = await writer.Turn(caller.Site, turn =>
        {
            ApiKeys.RevokeDevice(turn, id);
            return ApiKeys.OfDevice(turn, id).Count > 0;
        }, cancel);
        keys.Forget();
        return known ? TypedResults.NoContent() : ReadDevices.NoDevice();
    }
}
