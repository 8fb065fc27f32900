using System.Net;
using System.Text.Json;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Parts;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Parts;

/// <summary>Spare parts from the list to the watch: orders, deliveries, reservations, and two watches that want the same one.</summary>
public class PartTests
{
    private const string Stem = """{ "name": "Winding stem", "maker": "Tirvalle", "makersNumber": "41-0318", "forCalibres": ["tirvalle-41"], "counted": { "pieces": 1, "at": "2026-03-01T08:00:00Z" }, "usualWorkingDays": 6 }""";

    [Theory, BothEngines]
    public async Task A_part_is_written_down_read_and_counted_anew_and_old_versions_are_not_overwritten(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        using var made = await host.Desk.Put("/v1/parts/stem-41", Stem);
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);

        using var unseen = await host.Desk.Put("/v1/parts/stem-41", Stem);
        Assert.Equal((HttpStatusCode)428, unseen.StatusCode);
        using var wrong = await host.Desk.Put(
            "/v1/parts/stem-42", """{ "name": "Stem", "counted": { "pieces": 1, "at": "2027-01-01T00:00:00Z" }, "interchange": [ { "part": "stem-42", "direction": "both-ways" }, { "part": "stem-9", "direction": "this-for-that" } ] }""");
        Assert.Equal(["/counted/at", "/interchange/0/part", "/interchange/1/part"], (await wrong.Problem()).Pointers);
        await (await host.Desk.Put("/v1/parts/stem-42", """{ "name": "Stem", "interchange": [ { "part": "stem-41", "direction": "this-for-that" } ], "essential": true }""")).Json();
        await (await host.Desk.Put("/v1/parts/stem-41", Stem.Replace("\"pieces\": 1", "\"pieces\": 4"), made.Headers.ETag!.Tag)).Json();

        var read = await host.Bench.Get("/v1/parts/stem-41");
        Assert.Equal((2, 4, 0, 4), (Number(read, "version"), Number(read, "onShelf"), Number(read, "reserved"), Number(read, "free")));
        Assert.Equal(["stem-41", "stem-42"], (await host.Bench.Get("/v1/parts")).GetProperty("items").EnumerateArray().Select(one => one.Text("id")));
        using var forbidden = await host.Bench.Put("/v1/parts/stem-43", Stem);
        Assert.Equal(HttpStatusCode.Forbidden, forbidden.StatusCode);
        using var missing = await host.Bench.GetAsync("/v1/parts/no-such");
        Assert.Equal(HttpStatusCode.NotFound, missing.StatusCode);
    }

    [Theory, BothEngines]
    public async Task A_date_that_slips_moves_the_forecast_of_the_watch_that_waits_and_leaves_its_promise(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await (await host.Desk.Put("/v1/parts/stem-41", Stem.Replace("\"usualWorkingDays\"", "\"essential\": true, \"usualWorkingDays\""))).Json();
        var job = await host.TakeIn();
        await host.Approve(job);
        var promised = (await host.Desk.Get($"/v1/jobs/{job}")).GetProperty("promise").Text("on");

        using var made = await host.Desk.Put("/v1/part-orders/po-1", Order(job, 2, "2026-03-09"));
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        var first = (await host.Desk.Get($"/v1/jobs/{job}")).GetProperty("promise");
        Assert.False(first.TryGetProperty("atRisk", out _));
        host.Clock.Advance(Duration.FromHours(1));
        await (await host.Desk.Put("/v1/part-orders/po-1", Order(job, 2, "2026-04-20"), made.Headers.ETag!.Tag)).Json();

        var slipped = (await host.Desk.Get($"/v1/jobs/{job}")).GetProperty("promise");
        Assert.Equal((promised, "part"), (slipped.Text("on"), slipped.GetProperty("atRisk").Text("why")));
        Assert.True(string.CompareOrdinal(slipped.Text("forecast"), "2026-04-20") > 0, slipped.Text("forecast"));
        Assert.True(string.CompareOrdinal(first.Text("forecast"), slipped.Text("forecast")) < 0);
        var line = Assert.Single((await host.Bench.Get("/v1/part-orders/po-1")).GetProperty("lines").EnumerateArray());
        Assert.Equal(["2026-03-09", "2026-04-20"], line.GetProperty("days").EnumerateArray().Select(day => day.Text("on")));

        // It is essential: the movement stays shut, unless somebody means it.
        using var asked = await host.TrySay(job, "stage.started", """{ "stage": "takedown", "person": "mara" }""");
        Assert.Equal(("essential-parts", "stem-41"), await asked.Problem() is var problem ? (problem.Code, problem.Whole.Text("part")) : default);

        // A part of it comes, one of them wrong; the last one ends the wait.
        await host.Say(job, "part.received", """{ "part": "stem-41", "order": "po-1" }""");
        await host.Say(job, "part.received", """{ "part": "stem-41", "order": "po-1", "fits": false }""");
        line = Assert.Single((await host.Bench.Get("/v1/part-orders/po-1")).GetProperty("lines").EnumerateArray());
        Assert.Equal((1, 1), (Number(line, "come"), Number(line, "wrong")));
        var part = Assert.Single((await host.Bench.Get($"/v1/jobs/{job}")).GetProperty("parts").EnumerateArray());
        Assert.Equal((1, 1, true), (Number(part, "reserved"), Number(part, "awaited"), part.GetProperty("essential").GetBoolean()));
        await host.Say(job, "part.received", """{ "part": "stem-41", "order": "po-1" }""");
        Assert.False((await host.Desk.Get($"/v1/jobs/{job}")).GetProperty("promise").TryGetProperty("atRisk", out _));
        await host.Say(job, "stage.started", """{ "stage": "takedown", "person": "mara" }""");
        Assert.Equal((3, 2, 1), await Stock(host) is var stock ? stock : default);
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task Of_the_last_part_two_benches_at_once_are_not_both_told_yes(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        await (await host.Desk.Put("/v1/parts/stem-41", Stem)).Json();
        var watches = new List<HouseWatch>();
        for (var i = 0; i < 4; i++)
        {
            watches.Add(await HouseWatch.TakeIn(host));
        }

        var told = await Task.WhenAll(watches.Select(watch => watch.Tells("part.reserved", """{"part":"stem-41","person":"mara"}""")));

        Assert.Equal(["accepted", "refused", "refused", "refused"], told.Select(one => one.Outcome).Order());
        Assert.All(told.Where(one => one.Outcome == "refused"), one => Assert.Equal(("part-free", "stop"), (one.Code, one.Signal)));
        Assert.Equal((1, 1, 0), await Stock(host));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task Another_watchs_part_is_asked_about_and_when_it_is_fitted_all_the_same_that_watch_waits(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        await (await host.Desk.Put("/v1/parts/stem-41", Stem)).Json();
        var waiting = await (await HouseWatch.TakeIn(host)).Through(Workshop.Core.Route.Stage.Quote);
        var urgent = await HouseWatch.TakeIn(host);
        await waiting.Does("part.reserved", """{"part":"stem-41","person":"mara"}""");
        host.Clock.Advance(Duration.FromMinutes(1));

        var asked = await urgent.Tells("part.fitted", """{"part":"stem-41","person":"jon"}""");
        Assert.Equal((HttpStatusCode.Conflict, "reserved-for", "ask"), (asked.Status, asked.Code, asked.Signal));
        Assert.Equal(waiting.Label.ToString(), asked.Problem.Text("reservedFor"));
        Assert.Equal((1, 1, 0), await Stock(host));
        var named = asked.Problem.Text("forecastAfter");

        await urgent.Does("part.fitted", """{"part":"stem-41","lot":"L-7","replaces":"bent stem","despite":["reserved-for"],"person":"jon"}""");

        Assert.Equal((0, 0, 0), await Stock(host));
        var released = Assert.Single(await waiting.Entries(), entry => entry.Event is PartReleased);
        Assert.Contains(EntryFlag.PartTaken, released.Flags);
        Assert.Equal(urgent.Label.ToString(), ((PartReleased)released.Event).TakenBy);
        Assert.Equal(named, (await host.Bench.Get($"/v1/jobs/{waiting.Label}")).GetProperty("promise").Text("forecast"));

        // What another watch was told in the other's name nobody says through the door.
        var forged = await waiting.Tells("part.released", """{"part":"stem-41","takenBy":"J7K3MQ43"}""");
        Assert.Equal(["/data/takenBy"], forged.Pointers);
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task A_count_of_the_shelf_counts_what_happened_before_it_and_not_what_is_told_late_of_after_it(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        using var made = await host.Desk.Put("/v1/parts/stem-41", Stem.Replace("\"pieces\": 1", "\"pieces\": 5"));
        var watch = await HouseWatch.TakeIn(host);
        host.Clock.Advance(Duration.FromHours(3));
        var counted = host.Clock.GetCurrentInstant() - Duration.FromHours(1);
        await (await host.Desk.Put("/v1/parts/stem-41", Stem.Replace("\"pieces\": 1", "\"pieces\": 4").Replace("2026-03-01T08:00:00Z", $"{counted}"), made.Headers.ETag!.Tag)).Json();

        // Fitted before the count, and told after it: it was no longer on the shelf when that was counted.
        await watch.Does("part.fitted", """{"part":"stem-41","person":"mara"}""", at: counted - Duration.FromMinutes(30));
        Assert.Equal((4, 0, 4), await Stock(host));

        await watch.Does("part.fitted", """{"part":"stem-41","person":"mara"}""", at: counted + Duration.FromMinutes(30));
        Assert.Equal((3, 0, 3), await Stock(host));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task An_order_names_parts_and_watches_that_there_are(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);

        using var refused = await host.Desk.Put(
            "/v1/part-orders/po-1",
            """{ "orderedOn": "2026-03-03", "lines": [ { "part": "no-such", "count": 1, "job": "J2222225" }, { "part": "no-such", "count": 1, "job": "nonsense", "expectedOn": "2026-03-01" } ] }""");

        Assert.Equal(
            ["/orderedOn", "/lines/0/part", "/lines/0/job", "/lines/1/part", "/lines/1/expectedOn", "/lines/1/job"], (await refused.Problem()).Pointers);
    }

    private static string Order(string job, int count, string expectedOn) =>
        $$"""{ "firm": "bellmere", "orderedOn": "2026-03-02", "lines": [ { "part": "stem-41", "count": {{count}}, "job": "{{job}}", "expectedOn": "{{expectedOn}}" } ] }""";

    private static async Task<(int OnShelf, int Reserved, int Free)> Stock(WorkshopHost host) =>
        await host.Bench.Get("/v1/parts/stem-41") is var part ? (Number(part, "onShelf"), Number(part, "reserved"), Number(part, "free")) : default;

    private static int Number(JsonElement element, string member) => element.GetProperty(member).GetInt32();
}
