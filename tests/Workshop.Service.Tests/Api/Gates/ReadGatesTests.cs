using System.Net;
using System.Text.Json;
using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Gates;

public class ReadGatesTests
{
    [Theory, BothEngines]
    public async Task A_gate_was_right_where_what_it_asked_for_was_done_before_the_event_went_through(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.Quote);

        await watch.Tells("stage.started", """{"stage":"cleaning","person":"mara"}""");
        var waiting = await Counted(host, "needs");
        await watch.Through(Stage.Takedown);
        await watch.Does("stage.started", """{"stage":"inspection","person":"mara","despite":["needs/cleaning"]}""");
        var another = await Counted(host, "needs");
        await watch.Does("stage.started", """{"stage":"cleaning","person":"mara"}""");
        var done = await Counted(host, "needs");

        Assert.Equal(new Count(Spoke: 1, Open: 1), waiting);
        Assert.Equal(new Count(Spoke: 1, Open: 1, ByTap: 1), another);
        Assert.Equal(new Count(Spoke: 1, Right: 1, ByTap: 1), done);
        Assert.Equal(new Count(), await Counted(host, "hold"));
    }

    [Theory, BothEngines]
    public async Task A_gate_that_is_tapped_through_or_waived_is_counted_as_overruled_by_how(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var manager = Device.Pair(host, Role.Manager, bench: null);
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.Takedown);

        await watch.Tells("stage.started", """{"stage":"inspection","person":"mara"}""");
        await watch.Does("stage.started", """{"stage":"inspection","person":"mara","despite":["needs/cleaning"]}""");
        await watch.Tells("stage.started", """{"stage":"rebuild","person":"mara"}""");
        await watch.Does("waiver.given", """{"gate":"needs/inspection","reason":"seen it","person":"ines"}""", device: manager);
        host.Clock.Advance(Duration.FromSeconds(1));
        var shown = await Waivers(host, watch);
        await watch.Does("stage.started", """{"stage":"rebuild","person":"mara"}""");

        Assert.Equal(new Count(Spoke: 2, Overruled: 2, ByTap: 1, ByWaiver: 1), await Counted(host, "needs"));
        var waiver = Assert.Single(shown);
        Assert.Equal(("needs/inspection", "ines", "seen it"), (Text(waiver, "gate"), Text(waiver, "by"), Text(waiver, "reason")));
        Assert.Equal("2026-03-02T23:00:00Z", Text(waiver, "until"));
        Assert.Empty(await Waivers(host, watch));
    }

    [Theory, BothEngines]
    public async Task A_report_that_a_gate_stood_against_counts_for_it_when_the_missing_thing_is_told_and_not_when_a_manager_settles_it(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var one = await (await HouseWatch.TakeIn(host)).Through(Stage.Quote);
        var other = await (await HouseWatch.TakeIn(host)).Through(Stage.Quote);
        host.Clock.Advance(Duration.FromHours(2));

        // Finished in the cellar in this order, told the other way round.
        var early = host.Clock.GetCurrentInstant() - Duration.FromHours(1);
        await one.Tells("stage.finished", """{"stage":"cleaning","person":"mara"}""", at: early + Duration.FromMinutes(30));
        await other.Tells("stage.finished", """{"stage":"cleaning","person":"mara"}""", at: early + Duration.FromMinutes(30));
        var noted = (await other.Entries()).Single(entry => entry.Disposition == Disposition.Noted);
        await one.Finish(Stage.Takedown, at: early);
        await other.Does(
            "report.settled", $$"""{"of":{"source":"{{noted.Id.Source}}","id":"{{noted.Id.Id}}"},"as":"happened","reason":"seen on the bench","person":"ines"}""",
            device: Device.Pair(host, Role.Manager, bench: null));

        Assert.Equal(new Count(Spoke: 2, Right: 1, Overruled: 1, BySettlement: 1), await Counted(host, "needs"));
    }

    [Theory, BothEngines]
    public async Task Asking_what_would_be_said_leaves_no_trace(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        var watch = await HouseWatch.TakeIn(host);

        var asked = await watch.Bench.Post(watch.Bench.Write("stage.started", watch.Label.ToString(), """{"stage":"cleaning"}"""), "?ask=true");
        await watch.Bench.Post(watch.Bench.Write("stage.finished", watch.Label.ToString(), """{"stage":"diagnosis"}""", number: 1));
        var nothing = await host.QueryFirst<long>("select count(*) from gate_word");
        await watch.Tells("stage.started", """{"stage":"cleaning"}""");

        Assert.Equal("needs", asked.Code);
        Assert.Equal(0, nothing);
        Assert.True(await host.QueryFirst<long>("select count(*) from gate_word") > 0);
    }

    [Fact]
    public async Task Each_family_says_in_the_callers_language_when_it_passes_and_how_much_it_insists()
    {
        await using var host = await WorkshopHost.Start();

        using var english = await host.Bench.GetAsync("/v1/gates");
        using var german = await host.Bench.Send(HttpMethod.Get, "/v1/gates", null, "application/json", ("Accept-Language", "de"));

        var gates = (await english.Json()).GetProperty("gates").EnumerateArray().ToArray();
        Assert.Equal(GateTable.All.Select(gate => gate.Family), gates.Select(gate => Text(gate, "gate")));
        Assert.Equal(GateTable.All.Select(gate => gate.PassesWhen), gates.Select(gate => Text(gate, "passesWhen")));
        Assert.Equal(["finished-by-result", "one-holder"], gates.Where(gate => gate.GetProperty("fixed").GetBoolean()).Select(gate => Text(gate, "gate")).Intersect(["finished-by-result", "one-holder", "needs"]));
        Assert.Equal("die nötige Stufe steht", Text((await german.Json()).GetProperty("gates")[0], "passesWhen"));
        Assert.Equal("de", Assert.Single(german.Content.Headers.ContentLanguage));
    }

    [Theory]
    [InlineData("since=yesterday", HttpStatusCode.UnprocessableEntity)]
    [InlineData("since=2026-03-03", HttpStatusCode.UnprocessableEntity)]
    [InlineData("since=2020-01-01", HttpStatusCode.UnprocessableEntity)]
    [InlineData("since=2026-03-02", HttpStatusCode.OK)]
    [InlineData("", HttpStatusCode.OK)]
    public async Task The_days_counted_can_be_told_within_a_year(string query, HttpStatusCode status)
    {
        await using var host = await WorkshopHost.Start();

        using var answer = await host.Manager.GetAsync($"/v1/gates?{query}");

        Assert.Equal(status, answer.StatusCode);
    }

    [Fact]
    public async Task What_was_said_before_the_first_day_counted_is_not_counted_and_many_words_are_read_in_pages()
    {
        await using var host = await WorkshopHost.Start();
        var watch = await (await HouseWatch.TakeIn(host)).Through(Stage.Quote);
        await watch.Desk(new HoldPlaced { Hold = HoldReason.Other }, "manager");
        await watch.Tells("stage.started", """{"stage":"takedown","person":"mara"}""");
        host.Clock.Advance(Duration.FromDays(100));
        for (var batch = 0; batch < 2; batch++)
        {
            await watch.Bench.PostBatch([.. Enumerable.Range(0, 300).Select(_ => watch.Bench.Write("stage.started", watch.Label.ToString(), """{"stage":"takedown","person":"mara"}"""))]);
        }

        Assert.Equal(new Count(Spoke: 600, Open: 600), await Counted(host, "hold"));
        Assert.Equal(new Count(Spoke: 601, Open: 601), await Counted(host, "hold", "?since=2026-03-01"));
    }

    private static async Task<Count> Counted(WorkshopHost host, string gate, string query = "")
    {
        using var answer = await host.Manager.GetAsync($"/v1/gates{query}");
        var counted = (await answer.Json()).GetProperty("gates").EnumerateArray().Single(one => Text(one, "gate") == gate).GetProperty("counted");
        var passed = counted.GetProperty("passed");
        return new Count(
            Of(counted, "spoke"), Of(counted, "right"), Of(counted, "overruled"), Of(counted, "open"), Of(passed, "byTap"), Of(passed, "byWaiver"), Of(passed, "bySettlement"));

        static int Of(JsonElement of, string name) => of.GetProperty(name).GetInt32();
    }

    private static async Task<JsonElement[]> Waivers(WorkshopHost host, HouseWatch watch)
    {
        using var answer = await host.Bench.GetAsync($"/v1/jobs/{watch.Label}");
        return [.. (await answer.Json()).GetProperty("waivers").EnumerateArray()];
    }

    private static string? Text(JsonElement of, string name) => of.GetProperty(name).GetString();

    private sealed record Count(int Spoke = 0, int Right = 0, int Overruled = 0, int Open = 0, int ByTap = 0, int ByWaiver = 0, int BySettlement = 0);
}
