using System.Net;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Changes;

public class ChangesTests
{
    [Theory, BothEngines]
    public async Task Whoever_remembers_the_last_position_misses_nothing_while_others_write(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watches = new List<HouseWatch>();
        for (var i = 0; i < 4; i++)
        {
            watches.Add(await HouseWatch.TakeIn(host, Device.Pair(host, source: $"/devices/writer-{i}/1")));
        }

        var writing = Task.WhenAll(watches.Select(async watch =>
        {
            for (var i = 0; i < 25; i++)
            {
                await watch.Does("note.written", $$"""{"text":"note {{i}}"}""");
            }
        }));
        var seen = new List<long>();
        var ended = false;
        while (true)
        {
            ended = ended || writing.IsCompleted;
            var news = await After(host, seen.Count == 0 ? 0 : seen[^1]);
            seen.AddRange(news);
            if (ended && news.Length == 0)
            {
                break;
            }
        }

        await writing;
        Assert.True(seen.Count > 100, $"only {seen.Count} entries were seen");
        Assert.Equal(Enumerable.Range(1, seen.Count).Select(position => (long)position), seen);
        Assert.Empty(await After(host, seen[^1] + 1000));
    }

    [Fact]
    public async Task A_position_that_is_none_is_422()
    {
        await using var host = await WorkshopHost.Start(StorageEngine.Sqlite);

        using var answer = await host.Manager.GetAsync("/v1/changes?after=-1");

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
    }

    private static async Task<long[]> After(WorkshopHost host, long position)
    {
        using var answer = await host.Manager.GetAsync($"/v1/changes?after={position}&limit=20");
        return [.. (await answer.Json()).GetProperty("items").EnumerateArray().Select(change => change.GetProperty("position").GetInt64())];
    }
}
