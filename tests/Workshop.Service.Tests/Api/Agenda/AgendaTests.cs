using System.Net;
using System.Text.Json;
using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Route;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Agenda;

public class AgendaTests
{
    [Theory, BothEngines]
    public async Task It_lists_what_is_overdue_first_then_today_and_a_paused_check_last_of_all(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var overdue = await (await HouseWatch.TakeIn(host)).Through(Stage.WaterTest);
        var today = await (await HouseWatch.TakeIn(host)).Through(Stage.WaterTest);
        var paused = await (await HouseWatch.TakeIn(host)).Through(Stage.WaterTest);
        await overdue.StartWear();
        await paused.StartWear();
        await paused.Does("wear-check.paused", """{"kind":"worn"}""");
        host.Clock.Advance(Duration.FromHours(23));
        await today.StartWear();
        host.Clock.Advance(Duration.FromHours(2));

        var all = await Lines(host, "all");
        var checks = all.Where(line => line.GetProperty("kind").GetString() == "wear-check").Select(line => (line.GetProperty("job").GetString(), line.GetProperty("overdue").GetBoolean())).ToList();

        Assert.Equal([(overdue.Label.ToString(), true), (today.Label.ToString(), false), (paused.Label.ToString(), false)], checks);
        Assert.Equal("wear-check", all[^1].GetProperty("kind").GetString());
        Assert.False(all[^1].TryGetProperty("due", out _));
        Assert.Contains("paused since", all[^1].GetProperty("line").GetString());
        Assert.Equal([overdue.Label.ToString()], (await Lines(host, "overdue")).Select(line => line.GetProperty("job").GetString()));
        Assert.DoesNotContain(await Lines(host, "today"), line => line.GetProperty("job").GetString() == paused.Label.ToString());
    }

    [Theory, BothEngines]
    public async Task Page_by_page_it_is_the_same_list(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        for (var i = 0; i < 3; i++)
        {
            await (await (await HouseWatch.TakeIn(host)).Through(Stage.WaterTest)).StartWear();
        }

        var whole = (await Lines(host, "all")).Select(line => line.GetRawText()).ToList();
        var pages = new List<string>();
        for (string? address = "/v1/agenda?due=all&limit=1"; address is not null;)
        {
            using var answer = await host.Manager.GetAsync(address);
            pages.AddRange((await answer.Json()).GetProperty("items").EnumerateArray().Select(line => line.GetRawText()));
            address = answer.Headers.TryGetValues("Link", out var link) ? link.Single().Split('<', '>')[1] : null;
        }

        Assert.True(whole.Count >= 6, $"{whole.Count} lines: a promise and a check for each watch");
        Assert.Equal(whole, pages);
    }

    [Fact]
    public async Task What_is_not_asked_for_rightly_is_422()
    {
        await using var host = await WorkshopHost.Start(StorageEngine.Sqlite);

        using var answer = await host.Bench.GetAsync("/v1/agenda?due=tomorrow");

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
    }

    [Fact]
    public async Task A_legal_hold_is_a_query_to_whoever_reads_the_agenda()
    {
        await using var host = await WorkshopHost.Start(StorageEngine.Sqlite);
        var watch = await HouseWatch.TakeIn(host);
        await watch.Hold(HoldReason.Legal, role: "manager", until: new LocalDate(2026, 3, 3));

        var line = Assert.Single(await Lines(host, "all"), one => one.GetProperty("kind").GetString() == "hold-until");

        Assert.Equal("Look again: held for query", line.GetProperty("line").GetString());
    }

    private static async Task<List<JsonElement>> Lines(WorkshopHost host, string due)
    {
        using var answer = await host.Manager.GetAsync($"/v1/agenda?due={due}&limit=500");
        return [.. (await answer.Json()).GetProperty("items").EnumerateArray()];
    }
}
