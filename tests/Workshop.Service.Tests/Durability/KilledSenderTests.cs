using System.Security.Cryptography;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using Workshop.Benchmarks;
using Workshop.Core.Outgoing;
using Workshop.Core.Words;
using Workshop.Service.Features.Webhooks;
using Workshop.Service.Http.Signatures;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Webhooks;

namespace Workshop.Service.Tests.Durability;

/// <summary>
/// The service is killed while it sends, again and again: every message arrives, those of one job in their order, and once when repeats
/// are taken out by their ids.
/// </summary>
public sealed class KilledSenderTests : IDisposable
{
    private const int Messages = 3_000;
    private const int Jobs = 12;

    private readonly string folder = Path.Combine(Path.GetTempPath(), $"workshop-kill-{RandomNumberGenerator.GetHexString(12, lowercase: true)}");

    [Fact]
    public Task On_sqlite_fifty_deaths_lose_no_message() => Live(new StorageSettings { Engine = StorageEngine.Sqlite, Path = folder }, lives: 50);

    [Fact]
    public async Task On_postgresql_five_deaths_lose_no_message()
    {
        await using var database = await PostgresDatabase.Create();
        await Live(new StorageSettings { Engine = StorageEngine.Postgres, Path = folder, Postgres = database.ConnectionString }, lives: 5);
    }

    public void Dispose()
    {
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task Live(StorageSettings storage, int lives)
    {
        await using var receiver = await Receiver.Open();
        await PreparedWorkshop.Make(storage, benches: 1, jobs: 1);
        var secret = WebhookSecret.Draw();
        var before = await Prepare(storage, receiver.Address, secret);
        var interrupted = 0;
        for (var life = 0; life < lives && receiver.All.Select(one => one.Headers.Id).Distinct().Count() < Messages; life++)
        {
            var came = receiver.All.Count;
            await using var service = await Start(storage);

            // A moment that no test could choose, once something is on its way: between a request and its answer, an answer and a commit.
            for (var i = 0; i < 1_000 && receiver.All.Count == came; i++)
            {
                await Task.Delay(10);
            }

            await Task.Delay(RandomNumberGenerator.GetInt32(0, 80));
            await service.Kill();
            interrupted += receiver.All.Count > came && receiver.All.Select(one => one.Headers.Id).Distinct().Count() < Messages ? 1 : 0;
        }

        await using (await Start(storage))
        {
            for (var i = 0; i < 600 && receiver.All.Select(one => one.Headers.Id).Distinct().Count() < Messages; i++)
            {
                await Task.Delay(100);
            }
        }

        var all = receiver.All;
        var first = all.DistinctBy(one => one.Headers.Id).ToArray();
        Assert.Equal(Messages, first.Length);
        Assert.Equal(Enumerable.Range(1, Messages).Select(number => before + number), first.Select(one => one.Position).Order());
        Assert.All(first.GroupBy(one => one.Subject), job => Assert.Equal(job.Select(one => one.Position).Order(), job.Select(one => one.Position)));
        Assert.All(all.GroupBy(one => one.Headers.Id), one => Assert.Single(one.Select(again => Convert.ToHexString(again.Body)).Distinct()));
        Assert.All(all.Where((_, i) => i % 100 == 0), one => Assert.True(Signed(one, secret)));

        // Else nothing was tried: it has to have died with messages on their way, and some have to have come twice for it.
        Assert.True(interrupted > lives / 2, $"Only {interrupted} of {lives} deaths were while something was sent.");
        Assert.True(all.Count > Messages, "Nothing came a second time: nothing was cut off.");
    }

    private static Task<ServiceProcess> Start(StorageSettings storage) =>
        ServiceProcess.Start(storage, [("Webhooks:AllowPrivateTargets", "127.0.0.1"), ("Webhooks:AtOnce", "2"), ("Webhooks:Timeout", "PT1S")]);

    // The moment of the attempt is long over.
    private static bool Signed(Received one, WebhookSecret secret) => one.Headers.Signature == WebhookSignature.Sign(
        secret, one.Headers.Id!, Instant.FromUnixTimeSeconds(long.Parse(one.Headers.Timestamp!, System.Globalization.CultureInfo.InvariantCulture)), one.Body);

    /// <returns>The position of the last message before them.</returns>
    private static async Task<long> Prepare(StorageSettings storage, string address, WebhookSecret secret)
    {
        using var database = new Database(storage);
        using var writer = new Writer(database, SystemClock.Instance, new WriterSettings(), NullLogger<Writer>.Instance);
        await writer.StartAsync(CancellationToken.None);
        var before = await writer.Turn(Migrations.FirstSite, turn =>
        {
            var last = Outbox.Last(turn);
            WebhookStore.Add(turn, new StoredEndpoint
            {
                Id = "shop",
                Version = 1,
                Url = address,
                State = Word.Of(EndpointState.Enabled),
                StateSince = Microseconds.Of(turn.Now),
                Created = Microseconds.Of(turn.Now),
                TakenThrough = last,
                Failures = 0,
            });
            WebhookStore.AddSecret(turn, "shop", secret, turn.Now, turn.Now);
            return last;
        });
        foreach (var numbers in Enumerable.Range(1, Messages).Chunk(500))
        {
            await writer.Turn(Migrations.FirstSite, turn => numbers.Select(number => turn.Put(Sending.Message($"job/J{number % Jobs}", number))).ToArray());
        }

        await writer.StopAsync(CancellationToken.None);
        return before;
    }
}
