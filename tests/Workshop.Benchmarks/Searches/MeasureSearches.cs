using System.CommandLine;
using System.Diagnostics;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;

namespace Workshop.Benchmarks.Searches;

/// <summary><c>search</c>: each way to find a watch among 100 000 jobs, against the time in which an answer seems to be there at once.</summary>
internal static class MeasureSearches
{
    private const int Jobs = 100_000;
    private const int Watches = 80_000;
    private const int Customers = 60_000;
    private const int Rounds = 200;
    private const int WarmUp = 20;
    private const double AllowedMilliseconds = 50;
    private const string Site = Migrations.FirstSite;

    public static Command Command()
    {
        var engine = new Option<string>("--engine") { Description = "The database.", DefaultValueFactory = _ => "sqlite" };
        engine.AcceptOnlyFromAmong("sqlite", "postgres");
        var postgres = new Option<string?>("--postgres") { Description = "With --engine postgres: a connection string of an empty database.", HelpName = "CONNECTION" };
        var command = new Command("search", "Each way to find a watch among 100 000 jobs, against 50 ms.") { engine, postgres };
        command.SetAction(async given =>
        {
            var folder = Directory.CreateTempSubdirectory("search-");
            try
            {
                await Measure(new StorageSettings
                {
                    Engine = given.GetValue(engine) == "postgres" ? StorageEngine.Postgres : StorageEngine.Sqlite,
                    Path = folder.FullName,
                    Postgres = given.GetValue(postgres),
                });
            }
            finally
            {
                folder.Delete(recursive: true);
            }

            return 0;
        });
        return command;
    }

    private static async Task Measure(StorageSettings storage)
    {
        await PreparedWorkshop.Make(storage, benches: 0, jobs: 0);
        using var database = new Database(storage);
        using var reader = new Reader(database);
        var house = new SearchedHouse();
        using (var writer = new Writer(database, SystemClock.Instance, new WriterSettings(), NullLogger<Writer>.Instance))
        {
            await writer.StartAsync(CancellationToken.None);
            await house.Fill(writer, Customers, Watches, Jobs);
            if (storage.Engine == StorageEngine.Postgres)
            {
                // What its own housekeeping does within the minute.
                await writer.Turn(Site, turn => turn.Execute("analyze gram, customer, watch, job, label"));
            }

            await writer.StopAsync(CancellationToken.None);
        }

        Say($"{storage.Engine}: {Jobs} jobs, {Watches} watches, {Customers} customers");
        (string Way, Func<KnownJob, Random, SearchBody> Ask)[] ways =
        [
            ("label", (job, _) => new SearchBody { Label = job.Label }),
            ("own number", (job, _) => new SearchBody { OwnNumber = job.OwnNumber }),
            ("serial, whole", (job, _) => new SearchBody { Serial = job.CaseSerial }),
            ("serial, four of it", (job, _) => new SearchBody { Serial = job.MovementNumber[1..5] }),
            ("telephone, international", (job, _) => new SearchBody { Telephone = job.Telephone }),
            ("telephone, national", (job, _) => new SearchBody { Telephone = $"0{job.Telephone[3..]}" }),
            ("telephone, last four", (job, _) => new SearchBody { Telephone = job.Telephone[^4..] }),
            ("name, right", (job, _) => new SearchBody { Name = job.Name }),
            ("name, misspelt", (job, chance) => new SearchBody { Name = Misspelt(job.Name, chance) }),
            ("name, the first alone", (job, _) => new SearchBody { Name = job.Name.Split(' ')[0] }),
            ("name, the commonest", (_, _) => new SearchBody { Name = "Mueller" }),
            ("text, a misspelt name", (job, chance) => new SearchBody { Text = Misspelt(job.Name, chance) }),
            ("text, a number", (job, _) => new SearchBody { Text = job.MovementNumber }),
        ];
        var slowest = 0.0;
        foreach (var (way, ask) in ways)
        {
            slowest = Math.Max(slowest, await MeasureOne(reader, house, way, ask));
        }

        Say($"search: ratio {slowest / AllowedMilliseconds:0.00} (95 of 100 of the slowest way within {slowest:0.0} ms of {AllowedMilliseconds:0})");
    }

    private static async Task<double> MeasureOne(Reader reader, SearchedHouse house, string way, Func<KnownJob, Random, SearchBody> ask)
    {
        var chance = new Random(23);
        var taken = new List<double>();
        var found = 0;
        for (var round = 0; round < WarmUp + Rounds; round++)
        {
            var job = house.Jobs[chance.Next(house.Jobs.Count)];
            var body = ask(job, chance);
            var begun = Stopwatch.GetTimestamp();
            var answer = await reader.Read(connection => SearchJobs.Find(connection, Site, body, country: null));
            if (round >= WarmUp)
            {
                taken.Add(Stopwatch.GetElapsedTime(begun).TotalMilliseconds);
                found += answer!.Items.Any(one => one.Label == job.Label) ? 1 : 0;
            }
        }

        double[] sorted = [.. taken.Order()];
        Say($"{way}: median {sorted[sorted.Length / 2]:0.00} ms, 95 of 100 within {sorted[(int)(0.95 * sorted.Length)]:0.00} ms; the job meant is shown {found} times of {Rounds}");
        return sorted[(int)(0.95 * sorted.Length)];
    }

    /// <summary>A letter of the surname is left out, changed, or swapped with the next.</summary>
    private static string Misspelt(string name, Random chance)
    {
        var at = name.IndexOf(' ') + 1 + chance.Next(1, name.Length - name.IndexOf(' ') - 2);
        return chance.Next(3) switch
        {
            0 => name.Remove(at, 1),
            1 => name.Remove(at, 1).Insert(at, "y"),
            _ => $"{name[..at]}{name[at + 1]}{name[at]}{name[(at + 2)..]}",
        };
    }

    private static void Say(FormattableString line) => Console.WriteLine(FormattableString.Invariant(line));
}
