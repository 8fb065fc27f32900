using System.Diagnostics;
using System.Security.Cryptography;
using Workshop.Benchmarks;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Durability;

/// <summary>Runs when the others are through: it is about real seconds.</summary>
[CollectionDefinition(nameof(StartTests), DisableParallelization = true)]
[Collection(nameof(StartTests))]
public sealed class StartTests : IDisposable
{
    private static readonly TimeSpan Within = TimeSpan.FromSeconds(3);

    private readonly string folder = Path.Combine(Path.GetTempPath(), $"workshop-start-{RandomNumberGenerator.GetHexString(12, lowercase: true)}");

    public void Dispose()
    {
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>The best of five: it is the program that is measured, whatever else the machine does in between.</summary>
    [Fact]
    public async Task The_first_answer_comes_within_three_seconds_of_the_start()
    {
        var storage = new StorageSettings { Path = folder };
        await PreparedWorkshop.Make(storage, benches: 1, jobs: 1);
        var best = TimeSpan.MaxValue;
        for (var attempt = 0; attempt < 5 && best > Within; attempt++)
        {
            var began = Stopwatch.GetTimestamp();
            await using var service = await ServiceProcess.Start(storage);
            using var client = new HttpClient { BaseAddress = service.Address };
            using var answer = await client.GetAsync("/health/live");
            Assert.True(answer.IsSuccessStatusCode);
            var took = Stopwatch.GetElapsedTime(began);
            best = took < best ? took : best;
        }

        Assert.True(best <= Within, $"The first 200 came after {best.TotalSeconds:0.0} s.");
    }
}
