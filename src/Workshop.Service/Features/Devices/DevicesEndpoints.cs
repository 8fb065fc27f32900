using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Devices;

public static class DevicesEndpoints
{
    public static void MapDevices(this IEndpointRouteBuilder routes)
    {
        var devices = routes.MapGroup("/v1/devices").WithTags("Devices");
        devices.MapPost("pairings", BeginPairing.Handle)
            .WithSummary("Open the pairing of a device: six digits, good once and for ten minutes")
            .WithDescription("A pairing of the same device that was still open is void. A repeat with the same Idempotency-Key is told of the pairing again, but not its digits, of which only a hash is kept.")
            .WithExample(
                """{ "device": "bench-2", "bench": "bench-2", "role": "bench" }""",
                """{ "device": "bench-2", "bench": "bench-2", "role": "bench", "expiresAt": "2026-03-02T09:10:00Z", "digits": "204816", "codeText": "pair:204816" }""")
            .RequireOperation(Operation.PairDevices);
        devices.MapPost("pair", PairDevice.Handle)
            .WithName("pairDevice")
            .WithSummary("Tell the digits, get a key and a source")
            .WithDescription("Without a key. The source has the next pairing number of the device's name, and its sequence begins at 1; whatever key the device had before is withdrawn. Five wrong tries a minute are looked at from one address; ten in all void every open pairing.")
            .WithProblems(ProblemCatalogue.NoSuchPairing)
            .WithExample(
                """{ "digits": "204816" }""",
                """{ "key": "wk_…", "source": "/devices/bench-2/3", "role": "bench", "bench": "bench-2", "site": "main" }""")
            .AllowAnonymous();
        devices.MapGet("", ReadDevices.All)
            .WithName("readDevices")
            .WithSummary("Every device by its newest pairing")
            .WithExample(answer: """{ "devices": [ { "device": "bench-2", "source": "/devices/bench-2/3", "role": "bench", "bench": "bench-2", "pairedAt": "2026-03-02T09:01:12Z", "lastHeard": "2026-03-02T14:20:00Z" } ] }""")
            .RequireOperation(Operation.ReadDevices);
        devices.MapGet("{id}", ReadDevices.One)
            .WithName("readDevice")
            .WithSummary("A device by its newest pairing")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: """{ "device": "bench-2", "source": "/devices/bench-2/3", "role": "bench", "bench": "bench-2", "pairedAt": "2026-03-02T09:01:12Z", "lastHeard": "2026-03-02T14:20:00Z" }""")
            .RequireOperation(Operation.ReadDevices);
        devices.MapDelete("{id}", RevokeDevice.Handle)
            .WithSummary("Withdraw a device's key")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .RequireOperation(Operation.PairDevices);
    }
}
