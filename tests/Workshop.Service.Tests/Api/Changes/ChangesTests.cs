using System.Buffers.Text;
using System.Net;
using NodaTime;
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

    [Theory, BothEngines]
    public async Task A_change_says_who_said_what_when_and_what_became_of_it(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await HouseWatch.TakeIn(host);
        var takenIn = host.Clock.GetCurrentInstant();
        host.Clock.Advance(Duration.FromHours(2));
        await watch.Tells("stage.finished", """{"stage":"rebuild","person":"mara"}""", at: takenIn + Duration.FromHours(1), device: watch.Bench);

        var changes = (await (await host.Bench.GetAsync("/v1/changes?limit=500")).Json()).GetProperty("items").EnumerateArray()
            .Where(change => change.GetProperty("stream").GetString() == watch.Stream).ToList();

        Assert.Equal(["job.taken-in", "stage.finished", "hold.placed"], changes.Select(change => change.GetProperty("type").GetString()));
        var noted = changes[1];
        Assert.Equal((watch.Bench.Source, "e-1"), (noted.GetProperty("source").GetString(), noted.GetProperty("id").GetString()));
        Assert.Equal(("noted", 2), (noted.GetProperty("disposition").GetString(), noted.GetProperty("version").GetInt64()));
        Assert.Equal(["late", "for-review"], noted.GetProperty("flags").EnumerateArray().Select(flag => flag.GetString()));
        Assert.Equal(("2026-03-02T10:00:00Z", "2026-03-02T11:00:00Z"), (noted.GetProperty("effective").GetString(), noted.GetProperty("received").GetString()));
        Assert.False(noted.TryGetProperty("data", out _));
        Assert.Equal(("/service", "hold.placed/" + watch.Stream + "/" + watch.Bench.Source + "#e-1"), (changes[2].GetProperty("source").GetString(), changes[2].GetProperty("id").GetString()));
    }

    [Fact]
    public async Task Its_pages_lead_from_one_to_the_next()
    {
        await using var host = await WorkshopHost.Start(StorageEngine.Sqlite);
        var watch = await HouseWatch.TakeIn(host);
        await watch.Does("note.written", """{"text":"a note"}""");
        var positions = new List<long>();

        for (string? address = "/v1/changes?after=1&limit=2"; address is not null;)
        {
            using var answer = await host.Manager.GetAsync(address);
            positions.AddRange((await answer.Json()).GetProperty("items").EnumerateArray().Select(change => change.GetProperty("position").GetInt64()));
            address = answer.Headers.TryGetValues("Link", out var link) ? link.Single().Split('<', '>')[1] : null;
        }

        Assert.Equal(Enumerable.Range(2, positions.Count).Select(position => (long)position), positions);
        Assert.Equal((await watch.Entries())[^1].Position, positions[^1]);
        using var foreign = await host.Manager.GetAsync($"/v1/changes?cursor={Base64Url.EncodeToString("""["a","b"]"""u8)}");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, foreign.StatusCode);
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
