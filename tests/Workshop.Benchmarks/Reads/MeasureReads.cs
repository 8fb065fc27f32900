using System.CommandLine;
using System.Diagnostics;
using System.Net.Http.Headers;
using Dapper;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;

namespace Workshop.Benchmarks.Reads;

/// <summary>
/// <c>read</c>: one job out of a hundred thousand with two million entries, against one out of a thousand, over HTTP from two services
/// that run side by side, in turns.
/// </summary>
internal static class MeasureReads
{
    private const int Copies = 99;
    private const double RatioAllowed = 1.3;
    private const int WarmUp = 500;
    private const int Measured = 3_000;

    public static Command Command()
    {
        var command = new Command("read", "Reading a job out of 100 000 against one out of 1 000.");
        var copies = new Option<int>("--copies") { Description = "How often each of the thousand jobs is copied.", DefaultValueFactory = _ => Copies };
        command.Add(copies);
        command.SetAction(async given =>
        {
            var folder = Directory.CreateTempSubdirectory("read-");
            try
            {
                await Measure(folder.FullName, given.GetValue(copies));
            }
            finally
            {
                folder.Delete(recursive: true);
            }

            return 0;
        });
        return command;
    }

    private static async Task Measure(string folder, int copies)
    {
        var few = new StorageSettings { Path = Path.Combine(folder, "few") };
        var many = new StorageSettings { Path = Path.Combine(folder, "many") };
        var begun = Stopwatch.GetTimestamp();
        var ofFew = await ManyJobs.Write(few);
        Directory.CreateDirectory(many.Path);
        using (var database = new Database(few))
        using (var connection = database.OpenShortWriter())
        {
            connection.Execute("vacuum into @file", new { file = Path.Combine(many.Path, Database.FileName) });
        }

        var ofMany = ManyJobs.Copy(many, ofFew, copies);
        Say($"made in {Stopwatch.GetElapsedTime(begun).TotalSeconds:0} s: {Size(few)} against {Size(many)}");

        await using var small = await Asked.Start(few, ofFew);
        await using var large = await Asked.Start(many, ofMany);
        var random = new Random(17);
        var (a, b) = (new double[Measured], new double[Measured]);
        for (var i = -WarmUp; i < Measured; i++)
        {
            var (one, other) = (await small.Time(random), await large.Time(random));
            if (i >= 0)
            {
                (a[i], b[i]) = (one, other);
            }
        }

        var (within, among) = (await Store(few, ofFew), await Store(many, ofMany));
        Say($"over HTTP: median {Quantile(a, 0.5):0} µs of few, {Quantile(b, 0.5):0} µs of many; 95 of 100 within {Quantile(a, 0.95):0} and {Quantile(b, 0.95):0} µs");
        Say($"without HTTP, entries read and folded: median {within:0} µs and {among:0} µs, ratio {among / within:0.00}");
        Say($"read: ratio {Quantile(b, 0.5) / Quantile(a, 0.5):0.00} of {RatioAllowed:0.00}");
    }

    private static async Task<double> Store(StorageSettings storage, IReadOnlyList<Label> jobs)
    {
        using var database = new Database(storage);
        using var reader = new Reader(database);
        var store = new JobStore(reader);
        var random = new Random(18);
        var taken = new double[Measured];
        for (var i = -WarmUp; i < Measured; i++)
        {
            var label = jobs[random.Next(jobs.Count)];
            var begun = Stopwatch.GetTimestamp();
            GC.KeepAlive(await store.Find(Migrations.FirstSite, label, CancellationToken.None) ?? throw new InvalidOperationException($"There is no job {label}."));
            if (i >= 0)
            {
                taken[i] = Stopwatch.GetElapsedTime(begun).TotalMicroseconds;
            }
        }

        return Quantile(taken, 0.5);
    }

    private static string Size(StorageSettings storage)
    {
        using var database = new Database(storage);
        using var connection = database.OpenReader();
        var (jobs, entries) = connection.QuerySingle<(long, long)>("select (select count(*) from job), (select count(*) from journal)");
        return FormattableString.Invariant($"{jobs} jobs, {entries} entries, {new FileInfo(database.FilePath).Length / 1_048_576} MiB");
    }

    private static double Quantile(double[] values, double part) => values.Order().ElementAt((int)Math.Min(values.Length - 1, part * values.Length));

    private static void Say(FormattableString line) => Console.WriteLine(FormattableString.Invariant(line));

    /// <summary>A running service that is asked for jobs.</summary>
    private sealed class Asked(ServiceProcess service, HttpClient client, IReadOnlyList<Label> jobs) : IAsyncDisposable
    {
        public static async Task<Asked> Start(StorageSettings storage, IReadOnlyList<Label> jobs)
        {
            string key;
            using (var database = new Database(storage))
            using (var reader = new Reader(database))
            {
                key = new ApiKeys(database, reader).Add(Migrations.FirstSite, "/desk/front", "desk", null, SystemClock.Instance.GetCurrentInstant()).Secret;
            }

            var service = await ServiceProcess.Start(storage);
            var client = new HttpClient { BaseAddress = service.Address };
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
            return new Asked(service, client, jobs);
        }

        /// <summary>Microseconds until a job was there, whole.</summary>
        public async Task<double> Time(Random random)
        {
            var label = jobs[random.Next(jobs.Count)];
            var begun = Stopwatch.GetTimestamp();
            using var answer = await client.GetAsync($"/v1/jobs/{label}");
            await answer.Content.ReadAsByteArrayAsync();
            var taken = Stopwatch.GetElapsedTime(begun).TotalMicroseconds;
            return answer.IsSuccessStatusCode ? taken : throw new InvalidOperationException($"{label} was answered with {answer.StatusCode}. The service said: {service.Said}");
        }

        public async ValueTask DisposeAsync()
        {
            client.Dispose();
            await service.DisposeAsync();
        }
    }
}
