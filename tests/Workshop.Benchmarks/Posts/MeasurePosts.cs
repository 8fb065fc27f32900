using System.CommandLine;
using System.Globalization;
using Workshop.Service.Storage;

namespace Workshop.Benchmarks.Posts;

/// <summary>
/// <c>post</c>: durable bench events in a second, single events over HTTP, each acknowledged before the next of its client, against the
/// medium's own durable commits of one row each.
/// </summary>
internal static class MeasurePosts
{
    private static readonly int[] ClientsAtOnce = [1, 16, 64];

    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(6);
    private static readonly TimeSpan WarmUpBetween = TimeSpan.FromSeconds(1);

    // A fast disk would make the comparison ask for more than a workshop ever needs.
    private const double BareCommitsCounted = 500;
    private const double RatioAimed = 10;
    private const double LatencyAllowedMilliseconds = 2;

    // To have enough watches at hand whatever the service reaches.
    private const int EventsPerSecondAtMost = 15_000;

    public static Command Command()
    {
        var data = new Option<string?>("--data") { Description = "A folder on the disk to be measured; a new one in the working folder otherwise.", HelpName = "DIR" };
        var seconds = new Option<int>("--seconds") { Description = "How long each number of clients posts.", HelpName = "N", DefaultValueFactory = _ => 5 };
        var engine = new Option<string>("--engine") { Description = "The database.", DefaultValueFactory = _ => "sqlite" };
        engine.AcceptOnlyFromAmong("sqlite", "postgres");
        var postgres = new Option<string?>("--postgres") { Description = "With --engine postgres: a connection string of an empty database.", HelpName = "CONNECTION" };
        var command = new Command("post", "Durable bench events in a second against the medium's bare commits.") { data, seconds, engine, postgres };
        command.SetAction(given =>
        {
            var storage = new StorageSettings
            {
                Engine = given.GetValue(engine) == "postgres" ? StorageEngine.Postgres : StorageEngine.Sqlite,
                Path = Path.Combine(Path.GetFullPath(given.GetValue(data) ?? "."), $"post-{Environment.ProcessId}"),
                Postgres = given.GetValue(postgres),
            };
            return Run(storage, TimeSpan.FromSeconds(given.GetValue(seconds)));
        });
        return command;
    }

    private static async Task<int> Run(StorageSettings storage, TimeSpan span)
    {
        if (storage.Faults().FirstOrDefault() is { } fault)
        {
            return Refuse(fault);
        }

        if (storage.Engine == StorageEngine.Sqlite && Medium.Refusal(storage.Path) is { } refusal)
        {
            return Refuse(refusal);
        }

        Directory.CreateDirectory(storage.Path);
        try
        {
            await Measure(storage, span);
            return 0;
        }
        finally
        {
            Directory.Delete(storage.Path, recursive: true);
        }
    }

    private static async Task Measure(StorageSettings storage, TimeSpan span)
    {
        Say($"medium: {(storage.Engine == StorageEngine.Sqlite ? Medium.FileSystemOf(storage.Path) : "a PostgreSQL server")}, {Environment.ProcessorCount} processors shared by client and service");
        var bare = BareCommits.Measure(storage, span);
        Say($"bare commits of one row each: {bare.PerSecond:0} a second, {bare.Latencies}");

        var seconds = span.TotalSeconds * ClientsAtOnce.Length + WarmUp.TotalSeconds + WarmUpBetween.TotalSeconds * ClientsAtOnce.Length;
        var workshop = await PreparedWorkshop.Make(storage, ClientsAtOnce.Max(), jobs: (int)(EventsPerSecondAtMost * seconds / BenchWork.EventsOfAJob));
        await using var service = await ServiceProcess.Start(storage);
        Say($"events: {BenchWork.EventsOfAJob} of each watch from takedown to the worn check ({BenchWork.Description}); {BenchClient.JobsAtHand} watches at hand at each bench, in turn");

        using var benches = new BenchClients(service.Address, workshop.Benches, new Queue<ReadyJob>(workshop.Jobs));
        benches.Post(ClientsAtOnce.Max(), WarmUp);
        var reached = new Dictionary<int, Figures>();
        foreach (var clients in ClientsAtOnce)
        {
            benches.Post(clients, WarmUpBetween);
            var before = ProcessorTime.Of(service.Id);
            var figures = reached[clients] = benches.Post(clients, span);
            var used = ProcessorTime.Of(service.Id) - before;
            Say($"{clients} clients: {figures.PerSecond:0} events a second, {figures.Latencies}");
            Say($"  processor time an event: writer {Micro(used.Writer, figures)} µs, whole service {Micro(used.Whole, figures)} µs");
        }

        Say($"memory of the service after all this: {ProcessMemory.MebibytesOf(service.Id)} MiB");
        var one = reached[1].Latencies.Quantile(0.5);
        var allowed = bare.Latencies.Quantile(0.5) + LatencyAllowedMilliseconds;
        var most = reached[ClientsAtOnce.Max()].PerSecond;
        Say($"post: one client = {one:0.00} ms, allowed {allowed:0.00} ms (bare commit + {LatencyAllowedMilliseconds:0} ms): {(one <= allowed ? "within" : "beyond")}");
        Say($"post: bare commits = {bare.PerSecond:0}/s, plain quotient = {most / bare.PerSecond:0.0}");
        Say($"post: ratio = {most / Math.Min(bare.PerSecond, BareCommitsCounted):0.0} ({most:0} events/s at {ClientsAtOnce.Max()} clients ÷ {Math.Min(bare.PerSecond, BareCommitsCounted):0}; aim {RatioAimed:0} or more)");
    }

    private static string Micro(TimeSpan used, Figures figures) =>
        (used.TotalMicroseconds / figures.Latencies.Count).ToString("0", CultureInfo.InvariantCulture);

    private static void Say(FormattableString line) => Console.WriteLine(FormattableString.Invariant(line));

    private static int Refuse(string sentence)
    {
        Console.Error.WriteLine(sentence);
        return 1;
    }
}
