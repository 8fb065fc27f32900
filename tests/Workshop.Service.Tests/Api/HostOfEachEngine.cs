using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Api;

/// <summary>One running service on each engine for a whole class of tests, started when the first of them asks. Its clock only moves forward.</summary>
public sealed class HostOfEachEngine : IAsyncLifetime
{
    private readonly Dictionary<StorageEngine, WorkshopHost> hosts = [];

    public async Task<WorkshopHost> On(StorageEngine engine) =>
        hosts.TryGetValue(engine, out var host) ? host : hosts[engine] = await WorkshopHost.Start(engine);

    public Task InitializeAsync() => Task.CompletedTask;

    public async Task DisposeAsync()
    {
        foreach (var host in hosts.Values)
        {
            await host.DisposeAsync();
        }
    }
}
