using System.Diagnostics;
using Hangfire;
using Hangfire.Storage;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Tasks;

/// <summary>Runs when the others are through: it is about real seconds.</summary>
[CollectionDefinition(nameof(AlarmClockTests), DisableParallelization = true)]
[Collection(nameof(AlarmClockTests))]
public class AlarmClockTests
{
    // Two rounds of five seconds, and some for a busy machine.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(120);

    [Theory, BothEngines]
    public async Task The_sweep_is_woken_again_and_again_on_either_engine(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine, awake: true, set: new Dictionary<string, string?> { ["Sweep:EverySeconds"] = "5" });
        var seen = new HashSet<DateTime>();

        for (var began = Stopwatch.GetTimestamp(); seen.Count < 2 && Stopwatch.GetElapsedTime(began) < Patience; await Task.Delay(200))
        {
            using var connection = host.Services.GetRequiredService<JobStorage>().GetConnection();
            var sweep = connection.GetRecurringJobs().SingleOrDefault(task => task.Id == "sweep-due");
            if (sweep is { LastExecution: { } at, LastJobState: "Succeeded" })
            {
                seen.Add(at);
            }
        }

        Assert.Equal(2, seen.Count);
    }
}
