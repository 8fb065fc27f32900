using System.Text.Json;
using NodaTime;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;

namespace Workshop.Service.Tests.Api.Cleaning;

/// <summary>
/// A house with the two machines of the demo, a bath for cases and twelve cages. What benches say goes through the door, each by a tablet
/// of its own.
/// </summary>
public sealed class CleaningHouse : IAsyncDisposable
{
    private const string Rinses = """{ "jar": "rinse-1", "fluid": "petroleum-rinse" }, { "jar": "rinse-2", "fluid": "petroleum-rinse" }, { "jar": "rinse-3", "fluid": "alcohol" }""";

    private int watches;

    private CleaningHouse(WorkshopHost host)
    {
        Host = host;
        First = Device.Pair(host, bench: "bench-1");
        Second = Device.Pair(host, bench: "bench-2");
        Manager = Device.Pair(host, Role.Manager, bench: null);
    }

    public WorkshopHost Host { get; }

    public Device First { get; }

    public Device Second { get; }

    public Device Manager { get; }

    public static string NewRun() => Guid.CreateVersion7(WorkshopHost.Monday.ToDateTimeOffset()).ToString();

    public static async Task<CleaningHouse> Open(StorageEngine engine = StorageEngine.Sqlite)
    {
        var host = await Counter.Open(engine);
        await host.Save("cleaning-machine", "machine-1", $$"""{ "name": "With water", "places": 4, "jars": [ { "jar": "clean", "fluid": "ammoniated" }, {{Rinses}} ] }""");
        await host.Save("cleaning-machine", "machine-2", $$"""{ "name": "Without water", "places": 4, "jars": [ { "jar": "clean", "fluid": "waterless" }, {{Rinses}} ] }""");
        await host.Save("cleaning-machine", "case-bath", """{ "name": "Cases", "kind": "case", "places": 2, "jars": [ { "jar": "soap-bath", "fluid": "soap-water" }, { "jar": "water", "fluid": "water-rinse" } ] }""");
        for (var cage = 1; cage <= 12; cage++)
        {
            await host.Save("cage", $"cage-{cage:00}", $$"""{ "number": "{{cage}}" }""");
        }

        await host.Save("cage", "case-cage", """{ "number": "C1", "machineKind": "case" }""");
        await host.Save("cage", "open-cage", """{ "number": "O1", "open": true }""");
        return new CleaningHouse(host);
    }

    /// <summary>Takes a watch in and takes it down; its calibre is written down unless told otherwise.</summary>
    public async Task<string> Watch(string? calibre = "OF 9", params (string Group, string[] Flags)[] groups)
    {
        var number = ++watches;
        var job = await Host.TakeIn(
            $$"""{ "customer": { "telephone": "01632 960 {{200 + number}}" }, "watch": { "maker": "Orrery & Finch", "words": "an automatic", "caseSerial": "40-{{number}}"{{(calibre is null ? "" : $$""", "calibre": { "name": "{{calibre}}", "kind": "automatic" }""")}} }, "variant": "full-automatic" }""");
        foreach (var (group, flags) in groups)
        {
            Host.Clock.Advance(Duration.FromSeconds(10));
            await Declare(job, group, flags);
        }

        return job;
    }

    public Task<Told> Declare(string job, string group, params string[] flags) =>
        First.Say(job, "group.declared", $$"""{ "group": "{{group}}", "members": ["parts"], "count": 3, "flags": [{{string.Join(',', flags.Select(flag => $"\"{flag}\""))}}], "person": "mara" }""");

    public Task<Told> Load(string job, string group, string cage, string run, Device? by = null, Instant? at = null, string more = "") =>
        (by ?? First).Say(job, "cage.loaded", $$"""{ "cage": "{{cage}}", "group": "{{group}}", "run": "{{run}}", "count": 3, "person": "mara"{{more}} }""", at);

    public Task<Told> Empty(string job, string cage, Device? by = null, Instant? at = null, string more = "") =>
        (by ?? First).Say(job, "cage.emptied", $$"""{ "cage": "{{cage}}", "count": 3, "person": "mara"{{more}} }""", at);

    public Task<Told> Start(string run, string machine, string programme, Device? by = null, Instant? at = null, string more = "") =>
        (by ?? First).Say(run, "run.started", $$"""{ "machine": "{{machine}}", "programme": "{{programme}}", "person": "mara"{{more}} }""", at);

    public Task<Told> Finish(string run, Device? by = null, Instant? at = null) => (by ?? First).Say(run, "run.finished", """{ "person": "mara" }""", at);

    public Task<Told> Abort(string run, string reason = "power cut", Device? by = null, Instant? at = null) => (by ?? First).Say(run, "run.aborted", $$"""{ "reason": "{{reason}}", "person": "mara" }""", at);

    /// <summary>A batch in every jar of a machine.</summary>
    public async Task Fill(string machine = "machine-1", string batches = "b1")
    {
        foreach (var jar in new[] { "clean", "rinse-1", "rinse-2", "rinse-3" })
        {
            Accepted(await First.Say(machine, "fluid.filled", $$"""{ "batch": "{{batches}}-{{jar}}", "jar": "{{jar}}", "litres": 1.2, "lot": "L-7", "person": "mara" }"""));
        }
    }

    /// <summary>A run of nothing but fluid: what the table says of empty cages is not asked.</summary>
    public async Task<Told> Run(string machine = "machine-1", string programme = "standard", string more = "")
    {
        var run = NewRun();
        var told = await Start(run, machine, programme, more: more is "" ? """, "despite": ["run-loaded"]""" : more);
        if (told.Outcome == "accepted")
        {
            Accepted(await Finish(run));
        }

        return told;
    }

    public async Task<JsonElement> RunOf(string run) => await Host.Bench.Get($"/v1/cleaning-runs/{run}");

    public async Task<JsonElement[]> Agenda() => [.. (await Host.Manager.Get("/v1/agenda?limit=500")).GetProperty("items").EnumerateArray()];

    public static void Accepted(Told told) => Assert.True(told.Outcome == "accepted", $"{told.Whole}");

    public ValueTask DisposeAsync() => Host.DisposeAsync();
}
