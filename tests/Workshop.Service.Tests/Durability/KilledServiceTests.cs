using System.Security.Cryptography;
using Workshop.Benchmarks;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Durability;

/// <summary>
/// The service is killed while benches post; what was acknowledged is there, once. What was written outlives a killed process by itself;
/// that it outlives the machine is what <see cref="TracedAnswerTests"/> shows.
/// </summary>
public sealed class KilledServiceTests : IDisposable
{
    private const int Lives = 50;
    private const int Benches = 6;

    private readonly string folder = Path.Combine(Path.GetTempPath(), $"workshop-kill-{RandomNumberGenerator.GetHexString(12, lowercase: true)}");

    [Fact]
    public Task On_sqlite_fifty_deaths_lose_nothing() => Live(new StorageSettings { Engine = StorageEngine.Sqlite, Path = folder });

    [Fact]
    public async Task On_postgresql_fifty_deaths_lose_nothing()
    {
        await using var database = await PostgresDatabase.Create();
        await Live(new StorageSettings { Engine = StorageEngine.Postgres, Path = folder, Postgres = database.ConnectionString });
    }

    public void Dispose()
    {
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task Live(StorageSettings storage)
    {
        var workshop = await PreparedWorkshop.Make(storage, Benches, jobs: Benches);
        var posters = workshop.Benches.Zip(workshop.Jobs, (bench, job) => new Poster(bench, job)).ToArray();
        for (var life = 0; life < Lives; life++)
        {
            await using var service = await ServiceProcess.Start(storage);
            await Task.WhenAll(posters.Select(poster => poster.PostAgain(service.Address)));
            var posting = Task.WhenAll(posters.Select(poster => poster.PostUntilItDies(service.Address)));

            // A moment that no test could choose: somewhere between two statements, a commit and an answer.
            await Task.Delay(RandomNumberGenerator.GetInt32(30, 400));
            await service.Kill();
            await posting;
        }

        await using (var last = await ServiceProcess.Start(storage))
        {
            await Task.WhenAll(posters.Select(poster => poster.PostAgain(last.Address)));
        }

        Assert.True(posters.Sum(poster => poster.Acknowledged.Count) > Lives * Benches, "Hardly anything was posted.");
        using var database = new Database(storage);
        using var reader = new Reader(database);
        foreach (var poster in posters)
        {
            var history = await reader.History(Migrations.FirstSite, poster.Job.Label);
            var kept = history!.Entries.Where(entry => entry.Id.Source == poster.Source).Select(entry => entry.Id.Id).ToList();
            Assert.Equal(poster.Acknowledged.Distinct().Order(StringComparer.Ordinal), kept.Order(StringComparer.Ordinal));
        }

        var (code, said) = await ServiceProcess.Run(storage, "check", "--replay");
        Assert.True(code == 0, said);
    }
}
