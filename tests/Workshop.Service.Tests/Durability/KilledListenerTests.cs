using System.Net;
using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text.Json;
using Workshop.Benchmarks;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Recordings;

namespace Workshop.Service.Tests.Durability;

/// <summary>The service is killed while recordings wait or are listened to: started again, it listens to them by itself.</summary>
public sealed class KilledListenerTests : IDisposable
{
    private readonly string folder = Path.Combine(Path.GetTempPath(), $"workshop-kill-{RandomNumberGenerator.GetHexString(12, lowercase: true)}");

    public void Dispose()
    {
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task Recordings_that_waited_when_the_service_died_are_listened_to_after_the_next_start()
    {
        var storage = new StorageSettings { Engine = StorageEngine.Sqlite, Path = folder };
        var workshop = await PreparedWorkshop.Make(storage, benches: 1, jobs: 1);
        var job = workshop.Jobs[0].Label.ToString();
        var sounds = Enumerable.Range(1, 3).Select(Sounds.LongHiss).ToArray();
        await using (var service = await ServiceProcess.Start(storage))
        {
            using var client = Client(service, workshop);
            foreach (var sound in sounds)
            {
                using var answer = await client.PutRecording(job, sound, "position=dial-up&windState=full&liftAngleDegrees=52");
                Assert.Equal(HttpStatusCode.Accepted, answer.StatusCode);
            }

            await service.Kill();
        }

        Assert.True(await Waiting(storage) > 0, "Everything had been heard before the service died.");
        await using var next = await ServiceProcess.Start(storage);
        using var again = Client(next, workshop);
        for (var attempt = 0; await Waiting(storage) > 0; attempt++)
        {
            Assert.True(attempt < 300, "A recording still waits after a minute.");
            await Task.Delay(200);
        }

        foreach (var sound in sounds)
        {
            var heard = JsonElement.Parse(await again.GetStringAsync($"/v1/jobs/{job}/recordings/{Sounds.HashOf(sound)}"));
            Assert.Equal("listened", heard.GetProperty("state").GetString());
        }
    }

    private static async Task<long> Waiting(StorageSettings storage)
    {
        using var database = new Database(storage);
        using var reader = new Reader(database);
        return await reader.QueryFirst<long>("select count(*) from recording where state = 'waiting'");
    }

    private static HttpClient Client(ServiceProcess service, PreparedWorkshop workshop)
    {
        var client = new HttpClient { BaseAddress = service.Address };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", workshop.Benches[0].Key);
        return client;
    }
}
