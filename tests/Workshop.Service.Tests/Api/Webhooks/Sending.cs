using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;
using Workshop.Service.Features.Webhooks;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;

namespace Workshop.Service.Tests.Api.Webhooks;

/// <summary>What tests of sending share: a house that may send to this machine, with the machine's clock in the test's hand.</summary>
internal static class Sending
{
    public static Task<(WorkshopHost Host, FakeClock RealTime)> Open(StorageEngine engine = StorageEngine.Sqlite, string allow = "127.0.0.1", params (string Name, string Value)[] set) =>
        Open(engine, null, new FakeClock(SystemClock.Instance.GetCurrentInstant()), allow, set);

    /// <param name="connection">A PostgreSQL database that others work in as well.</param>
    public static async Task<(WorkshopHost Host, FakeClock RealTime)> Open(StorageEngine engine, string? connection, FakeClock real, string allow = "127.0.0.1", params (string Name, string Value)[] set)
    {
        var settings = set.Append(("Webhooks:AllowPrivateTargets", allow)).ToDictionary(one => one.Item1, one => (string?)one.Item2);
        var host = await WorkshopHost.Start(engine, settings, connection: connection, realTime: new RealTime(real));
        host.Clock.AutoAdvance = Duration.FromMilliseconds(1);
        return (host, real);
    }

    public static async Task<JsonElement> AddEndpoint(this WorkshopHost host, string url, string more = "") =>
        await (await host.Manager.PostJson("/v1/webhook-endpoints", $$"""{ "url": "{{url}}"{{more}} }""")).Json();

    public static Task<JsonElement> Endpoint(this WorkshopHost host, JsonElement endpoint) => host.Manager.Get($"/v1/webhook-endpoints/{endpoint.Text("id")}");

    public static async Task<JsonElement[]> Deliveries(this WorkshopHost host, JsonElement endpoint) =>
        [.. (await host.Manager.Get($"/v1/webhook-endpoints/{endpoint.Text("id")}/deliveries?limit=500")).GetProperty("items").EnumerateArray()];

    /// <summary>Sends what can be sent now.</summary>
    public static Task Send(this WorkshopHost host) => host.Services.GetRequiredService<SendMessages>().Run(WorkshopHost.Site, CancellationToken.None).WaitAsync(TimeSpan.FromMinutes(1));

    /// <summary>Writes messages down as the rest of the house does.</summary>
    public static Task Put(this WorkshopHost host, params OutboxMessage[] messages) =>
        host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn => messages.Select(turn.Put).ToArray());

    public static Task Execute(this WorkshopHost host, string sql, object parameters) =>
        host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn => turn.Execute(sql, parameters));

    public static Task Withdraw(this WorkshopHost host, string message) =>
        host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn => turn.Withdraw(message));

    public static OutboxMessage Message(string stream, int number, string? storefront = null, Instant? notBefore = null) => new()
    {
        Id = $"job.ready/{stream}/{number}",
        Type = "job.ready",
        Stream = stream,
        Body = $$"""{"job":"{{stream[4..]}}","number":{{number}}}""",
        Storefront = storefront,
        NotBefore = notBefore,
    };
}
