using System.Collections.Concurrent;
using System.Globalization;
using Xunit.Abstractions;

namespace Workshop.Service.Tests.Simulation;

public sealed class StorefrontSimulationTests(ITestOutputHelper output)
{
    private const string SeedVariable = "WORKSHOP_SEED";
    private const int Seeds = 20;

    /// <summary>The same seeds by both ways in; the second one is that of a workshop which nobody can reach from outside.</summary>
    [Theory]
    [InlineData("Post")]
    [InlineData("Inbox")]
    public async Task A_storefront_that_is_slow_broken_and_away_for_a_day_hears_everything_once_in_order_and_is_heard(string byWay)
    {
        var way = Enum.Parse<WayIn>(byWay);
        int[] asked = [.. (Environment.GetEnvironmentVariable(SeedVariable) is { Length: > 0 } text ? text : $"1-{Seeds}")
            .Split('-').Select(number => int.Parse(number, CultureInfo.InvariantCulture))];
        var broken = new ConcurrentDictionary<int, IReadOnlyList<string>>();
        var (heard, refused, told, answered, deaths) = (0, 0, 0, 0, 0);
        await Parallel.ForEachAsync(
            Enumerable.Range(asked[0], asked[^1] - asked[0] + 1),
            new ParallelOptions { MaxDegreeOfParallelism = 2 },
            async (seed, _) =>
            {
                await using var world = await World.Live(seed, way);
                Interlocked.Add(ref heard, world.Outside.Heard);
                Interlocked.Add(ref refused, world.Outside.Refused);
                Interlocked.Add(ref told, world.ToldByStorefront);
                Interlocked.Add(ref answered, world.SaidByCustomers);
                Interlocked.Add(ref deaths, world.Deaths);
                if (world.Faults.Count > 0)
                {
                    broken[seed] = world.Faults;
                }

                if (asked.Length == 1)
                {
                    output.WriteLine(string.Join('\n', world.Log));
                }
            });

        output.WriteLine($"{heard} messages were heard, {refused} attempts failed, {told} events were told by the storefront, {answered} of them by its customers about their watches, the process died {deaths} times.");
        Assert.True(broken.IsEmpty, string.Join('\n', broken.OrderBy(pair => pair.Key).Select(pair => $"Seed {pair.Key}, {pair.Value.Count} faults:\n  {string.Join("\n  ", pair.Value.Take(12))}")));
        Assert.True(heard > 20 * asked.Length && refused > 0 && told > 0 && (asked.Length == 1 || answered > 0), "nothing happened that could go wrong");
    }
}
