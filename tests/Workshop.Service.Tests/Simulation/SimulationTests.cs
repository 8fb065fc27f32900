using System.Collections.Concurrent;
using System.Globalization;
using Workshop.Service.Storage;
using Xunit.Abstractions;

namespace Workshop.Service.Tests.Simulation;

public sealed class SimulationTests(ITestOutputHelper output)
{
    private const string SeedVariable = "WORKSHOP_SEED";
    private const string Replay = "dotnet test tests/Workshop.Service.Tests --filter Simulation -e WORKSHOP_SEED={0} --logger 'console;verbosity=detailed'";
    private const int Seeds = 100;
    private const int FaultsShown = 12;

    /// <summary>One seed where the environment names one (<c>17</c>), with all that happened; others where it names them (<c>101-400</c>).</summary>
    [Fact]
    public async Task A_hundred_seeds_of_bad_lines_wrong_clocks_and_dying_processes_leave_a_true_history()
    {
        int[] asked = [.. (Environment.GetEnvironmentVariable(SeedVariable) is { Length: > 0 } text ? text : $"1-{Seeds}")
            .Split('-').Select(number => int.Parse(number, CultureInfo.InvariantCulture))];
        var one = asked.Length == 1;
        var broken = new ConcurrentDictionary<int, IReadOnlyList<string>>();
        var (events, deaths) = (0, 0);
        await Parallel.ForEachAsync(
            Enumerable.Range(asked[0], asked[^1] - asked[0] + 1),
            new ParallelOptions { MaxDegreeOfParallelism = 2 },
            async (seed, _) =>
            {
                await using var world = await World.Live(seed);
                Interlocked.Add(ref events, world.Told.Verdicts.Count);
                Interlocked.Add(ref deaths, world.Deaths);
                if (world.Faults.Count > 0)
                {
                    broken[seed] = world.Faults;
                }

                if (one)
                {
                    output.WriteLine(string.Join('\n', world.Log));
                }
            });

        output.WriteLine($"{events} events were judged, the process died {deaths} times.");
        Assert.True(events > 0);
        Assert.True(broken.IsEmpty, string.Join('\n', broken.OrderBy(pair => pair.Key).Select(pair =>
            $"Seed {pair.Key}, {pair.Value.Count} faults; to see it again: {string.Format(CultureInfo.InvariantCulture, Replay, pair.Key)}\n  {string.Join("\n  ", pair.Value.Take(FaultsShown))}")));
    }

    [Fact]
    public async Task The_same_seed_gives_the_same_journal()
    {
        var first = await Journal();
        var second = await Journal();

        Assert.NotEmpty(first);
        Assert.Equal(first, second);

        static async Task<string[]> Journal()
        {
            await using var world = await World.Live(seed: 7);
            using var evidence = world.Evidence();
            return [.. evidence.Rows<string>("""
                select position || ' ' || stream || ' ' || source || ' ' || id || ' ' || type || ' ' || effective || ' ' || received || ' ' || disposition || ' ' || flags
                from journal
                where site = @site
                order by position
                """)];
        }
    }

    [Fact]
    public async Task Every_kind_of_trouble_comes_up_within_a_few_seeds()
    {
        var flags = new HashSet<string>(StringComparer.Ordinal);
        var outcomes = new HashSet<string>(StringComparer.Ordinal);
        var (deaths, waited, announced) = (0, 0, 0L);
        foreach (var seed in Enumerable.Range(1, 8))
        {
            await using var world = await World.Live(seed);
            using var evidence = world.Evidence();
            deaths += world.Deaths;
            waited += world.Told.Waiting.Count;
            announced += evidence.Rows<long>("select count(*) from journal where site = @site and type = 'due.announced'").Single();
            outcomes.UnionWith(world.Told.Verdicts.Values.Select(verdict => verdict.Code ?? verdict.Outcome));
            flags.UnionWith(evidence.Rows<string>("select flags from journal where site = @site").SelectMany(FlagsOf));
        }

        Assert.True(deaths > 5, $"{deaths} deaths");
        Assert.True(waited > 20, $"{waited} events waited");
        Assert.True(announced > 5, $"{announced} announcements");
        Assert.Empty(((string[])["accepted", "noted", "bad-fields", "needs", "held-by", "hold"]).Except(outcomes));
        Assert.Empty(((string[])["late", "for-review", "clock-suspect", "clock-stepped", "gap", "unknown-member"]).Except(flags));

        static IEnumerable<string> FlagsOf(string column) => FlagList.Read(column);
    }
}
