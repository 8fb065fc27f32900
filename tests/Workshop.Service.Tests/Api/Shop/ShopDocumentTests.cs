using System.Net;
using System.Text.Json;
using Workshop.Core.Labels;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Shop;

/// <summary>What an owner changes of the shop's own data, without a programmer.</summary>
public class ShopDocumentTests
{
    private const string Bench = """{ "name": "Movements, by the stove", "skills": [ "chronographs" ] }""";

    private static readonly string Badge = Label.Complete(LabelKind.Badge, [3, 1, 4, 1, 5, 9]).ToString();

    [Theory]
    [BothEngines]
    public async Task A_document_is_made_without_if_match_and_changed_only_by_whoever_has_seen_it(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);

        using var made = await host.Manager.Put("/v1/benches/bench-7", Bench);
        using var again = await host.Manager.Put("/v1/benches/bench-7", Bench);
        using var read = await host.Bench.GetAsync("/v1/benches/bench-7");
        using var changed = await host.Manager.Put("/v1/benches/bench-7", """{ "name": "By the window" }""", read.Headers.ETag!.Tag);
        using var late = await host.Manager.Put("/v1/benches/bench-7", Bench, read.Headers.ETag!.Tag);
        using var nothingThere = await host.Manager.Put("/v1/benches/bench-8", Bench, "*");

        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        Assert.Equal("/v1/benches/bench-7", made.Headers.Location!.ToString());
        Assert.Equal("if-match-needed", (await again.Problem()).Code);
        Assert.Equal(2, (await changed.Json()).GetProperty("version").GetInt64());
        Assert.Equal("changed-meanwhile", (await late.Problem()).Code);
        Assert.Equal("changed-meanwhile", (await nothingThere.Problem()).Code);
        Assert.Equal("By the window", (await host.Bench.Get("/v1/benches/bench-7")).Text("name"));
    }

    [Fact]
    public async Task What_was_read_can_be_sent_back_as_it_stands()
    {
        await using var host = await Counter.Open();
        await (await host.Manager.Put("/v1/winder-places/winder-1-3", """{ "name": "Third place", "turnsPerDay": 800, "turns": "both" }""")).Json();
        foreach (var address in new[] { "/v1/rules", "/v1/settings", "/v1/winder-places/winder-1-3" })
        {
            using var read = await host.Manager.GetAsync(address);
            using var saved = await host.Manager.Put(address, await read.Content.ReadAsStringAsync(), read.Headers.ETag!.Tag);
            using var after = await host.Manager.GetAsync(address);

            Assert.Equal(HttpStatusCode.OK, saved.StatusCode);
            Assert.Equal(await read.Content.ReadAsStringAsync(), await after.Content.ReadAsStringAsync());
        }
    }

    [Theory]
    [BothEngines]
    public async Task Which_rule_applied_in_march_can_be_read_in_june(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2026, 3, 2, 10);
        var march = await host.Change("/v1/rules", """{ "handOffTakenWithin": "PT1H" }""");
        host.SetTo(2026, 6, 1, 10);
        await host.Change("/v1/rules", """{ "handOffTakenWithin": "PT4H" }""");

        var then = await host.Manager.Get("/v1/rules?on=2026-03-31");
        var onTheDay = await host.Manager.Get("/v1/rules?on=2026-03-02");
        var now = await host.Manager.Get("/v1/rules");
        var versions = (await host.Manager.Get("/v1/rules/versions")).GetProperty("items").EnumerateArray().ToArray();
        using var before = await host.Manager.GetAsync("/v1/rules?on=1999-12-31");

        Assert.Equal("PT1H", then.Text("handOffTakenWithin"));
        Assert.Equal("PT1H", onTheDay.Text("handOffTakenWithin"));
        Assert.Equal("PT4H", now.Text("handOffTakenWithin"));
        Assert.Equal([3, 2, 1], versions.Select(one => one.GetProperty("version").GetInt64()));
        Assert.Equal("/desk/office", versions[0].Text("source"));
        Assert.Equal(march.GetProperty("rulesVersion").GetInt64(), versions[1].GetProperty("rulesVersion").GetInt64());
        Assert.Equal("PT1H", (await host.Manager.Get("/v1/rules/versions/2")).Text("handOffTakenWithin"));
        Assert.Equal("no-such-thing", (await before.Problem()).Code);
        Assert.Equal("no-such-thing", (await (await host.Manager.GetAsync("/v1/rules/versions/99")).Problem()).Code);
        Assert.Equal("bad-fields", (await (await host.Manager.GetAsync("/v1/rules?on=March")).Problem()).Code);
    }

    [Theory]
    [InlineData("/v1/benches/bench-7", """{ "name": "", "skills": 5, "outOfUse": "no", "colour": "blue" }""", new[] { "/name", "/skills", "/outOfUse", "/colour" })]
    [InlineData("/v1/benches/bench-7", """{ "id": "bench-8", "label": "B2" }""", new[] { "/id", "/label" })]
    [InlineData("/v1/calibres/one", """{ "maker": "Tirvalle", "kind": "quartz", "vibrationsPerHour": 28800, "liftAngleDegrees": 52 }""", new[] { "/vibrationsPerHour", "/liftAngleDegrees" })]
    [InlineData("/v1/calibres/one", """{ "kind": "solar", "liftAngleDegrees": 152 }""", new[] { "/kind", "/liftAngleDegrees", "/maker" })]
    [InlineData("/v1/people/ilka", """{ "name": "Ilka", "bench": "nowhere", "handTo": "firms/x", "badge": "J2222225" }""", new[] { "/badge", "/bench", "/handTo", "/handTo" })]
    [InlineData("/v1/rules", """{ "gates": { "nonsense": "ask", "needs/casing": "loud" }, "agenda": { "withFirmWorkingDays": 0 } }""", new[] { "/gates/needs~1casing", "/agenda/withFirmWorkingDays" })]
    [InlineData("/v1/rules", """{ "gates": { "nonsense": "ask" }, "agenda": { "backUpOlderThan": "PT0S", "fluidLife": { "clean": { "warnDays": 30, "lastDays": 28 } } } }""", new[] { "/gates/nonsense", "/agenda/backUpOlderThan", "/agenda/fluidLife/clean/warnDays" })]
    [InlineData("/v1/settings", """{ "shopName": "", "email": "x", "colour": "blue" }""", new[] { "/shopName", "/email", "/colour" })]
    [InlineData("/v1/fluid-batches/one", """{ "fluid": "ammoniated", "jar": "clean", "filledOn": "2027-01-01", "discardedOn": "2026-01-01" }""", new[] { "/filledOn", "/discardedOn" })]
    [InlineData("/v1/devices/bench-1", """{ "bench": "nowhere", "silentAfter": "-PT1H" }""", new[] { "/bench", "/silentAfter" })]
    public async Task Every_fault_is_named_at_once_and_nothing_is_saved(string address, string body, string[] pointers)
    {
        await using var host = await Counter.Open();
        using var before = await host.Manager.GetAsync(address);

        var problem = await (await host.Manager.Put(address, body, "*")).Problem();
        var alone = problem.Code == "bad-fields" ? problem : await (await host.Manager.Put(address, body)).Problem();

        using var after = await host.Manager.GetAsync(address);
        Assert.Equal("bad-fields", alone.Code);
        Assert.Equal(pointers, alone.Pointers);
        Assert.Equal(await before.Content.ReadAsStringAsync(), await after.Content.ReadAsStringAsync());
    }

    [Fact]
    public async Task A_fixed_gate_is_nobodys_to_change()
    {
        await using var host = await Counter.Open();

        var problem = await (await host.Manager.Put("/v1/rules", """{ "gates": { "one-holder": "note", "needs": "note" } }""", "*")).Problem();

        Assert.Equal("gate-is-fixed", problem.Code);
        Assert.Equal(["one-holder"], problem.Whole.Texts("gates"));
        Assert.Equal(["/gates/one-holder"], problem.Pointers);
    }

    [Fact]
    public async Task A_changed_rule_is_in_force_at_once_and_what_was_accepted_stays()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        using var refused = await host.TrySay(job, "stage.started", """{ "stage": "takedown", "person": "mara" }""");
        await host.Change("/v1/rules", """{ "gates": { "needs/quote": "note" } }""");
        using var accepted = await host.TrySay(job, "stage.started", """{ "stage": "takedown", "person": "mara" }""");

        Assert.Equal("needs", (await refused.Problem()).Code);
        Assert.Equal(HttpStatusCode.OK, accepted.StatusCode);
    }

    [Theory]
    [BothEngines]
    public async Task Whoever_leaves_keeps_nothing(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await (await host.Manager.Put("/v1/people/ilka", $$"""{ "name": "Ilka", "badge": "{{Badge}}" }""")).Json();
        await (await host.Manager.Put("/v1/people/jon", """{ "name": "Jon" }""")).Json();
        var job = await host.TakeIn();
        await host.Say(job, "piece.taken", """{ "kind": "movement", "person": "ilka" }""");
        const string Leaves = """{ "name": "Ilka", "leftOn": "2026-03-31" """;

        var still = await (await host.Manager.Put("/v1/people/ilka", $"{Leaves}}}", "*")).Problem();
        var nobody = await (await host.Manager.Put("/v1/people/ilka", $$"""{{Leaves}}, "handTo": "people/ilka" }""", "*")).Problem();
        await (await host.Manager.Put("/v1/people/ilka", $$"""{{Leaves}}, "handTo": "places/safe" }""", "*")).Json();

        Assert.Equal("still-holds", still.Code);
        var piece = Assert.Single(still.Whole.GetProperty("pieces").EnumerateArray());
        Assert.Equal((job, "movement"), (piece.Text("job"), piece.Text("piece")));
        Assert.Equal(["/handTo"], nobody.Pointers);
        var pieces = (await host.Desk.Get($"/v1/jobs/{job}")).GetProperty("pieces").EnumerateArray();
        Assert.Equal("places/safe", pieces.Single(one => one.Text("piece") == "movement").Text("holder"));
    }

    [Fact]
    public async Task What_somebody_says_after_they_left_is_kept_and_flagged()
    {
        await using var host = await Counter.Open();
        await (await host.Manager.Put("/v1/people/ilka", """{ "name": "Ilka" }""")).Json();
        var job = await host.TakeIn();
        await host.Change("/v1/people/ilka", """{ "name": "Ilka", "leftOn": "2026-03-02" }""");

        var onTheLastDay = await host.Say(job, "note.written", """{ "text": "pivots are dry", "person": "ilka" }""");
        host.SetTo(2026, 3, 3, 10);
        var later = await host.Say(job, "note.written", """{ "text": "pivots are dry", "person": "ilka" }""");

        Assert.DoesNotContain("person-left", onTheLastDay.Texts("flags"));
        Assert.Contains("person-left", later.Texts("flags"));
    }

    [Fact]
    public async Task A_label_on_a_bench_names_it_and_no_other()
    {
        await using var host = await Counter.Open();
        var label = Label.Complete(LabelKind.Bench, [3, 1, 4, 1, 5, 9]).ToString();

        await (await host.Manager.Put("/v1/benches/bench-7", $$"""{ "name": "By the stove", "label": "{{label}}" }""")).Json();
        var taken = await (await host.Manager.Put("/v1/benches/bench-8", $$"""{ "label": "{{label}}" }""")).Problem();

        Assert.Equal("benches/bench-7", (await host.Bench.Get($"/v1/labels/{label}")).Text("names"));
        Assert.Equal(["/label"], taken.Pointers);
    }

    [Fact]
    public async Task Lists_go_on_by_their_link()
    {
        await using var host = await Counter.Open();
        for (var i = 0; i < 5; i++)
        {
            await (await host.Manager.Put($"/v1/firms/firm-{i}", $$"""{ "name": "Firm {{i}}" }""")).Json();
        }

        using var first = await host.Manager.GetAsync("/v1/firms?limit=3");
        var next = first.Headers.GetValues("Link").Single().Split('>')[0].TrimStart('<');
        var ids = new[] { await first.Json(), await host.Manager.Get(next) }.SelectMany(page => page.GetProperty("items").EnumerateArray()).Select(one => one.Text("id"));

        Assert.Equal(["firm-0", "firm-1", "firm-2", "firm-3", "firm-4"], ids);
    }

    [Fact]
    public async Task Benches_read_the_shops_data_and_change_nothing()
    {
        await using var host = await Counter.Open();

        foreach (var role in new[] { Role.Bench, Role.Desk })
        {
            Assert.Equal(HttpStatusCode.OK, (await host.As(role).GetAsync("/v1/rules")).StatusCode);
            Assert.Equal(HttpStatusCode.Forbidden, (await host.As(role).Put("/v1/rules", "{}", "*")).StatusCode);
        }

        Assert.Equal(HttpStatusCode.Forbidden, (await host.As(Role.Storefront).GetAsync("/v1/rules")).StatusCode);
    }

    [Fact]
    public async Task What_the_shop_says_of_a_device_stands_beside_its_pairing()
    {
        await using var host = await Counter.Open();
        _ = host.Bench;

        using var none = await host.Manager.GetAsync("/v1/devices/bench-1");
        await (await host.Manager.Put("/v1/devices/bench-1", """{ "name": "The old tablet", "silentAfter": "PT4H" }""")).Json();
        using var read = await host.Manager.GetAsync("/v1/devices/bench-1");
        await (await host.Manager.Put("/v1/devices/bench-1", """{ "name": "The new tablet" }""", read.Headers.ETag!.Tag)).Json();

        Assert.False((await none.Json()).TryGetProperty("document", out _));
        Assert.Equal("The old tablet", (await read.Json()).GetProperty("document").Text("name"));
        Assert.Equal("/devices/bench-1/1", (await read.Json()).Text("source"));
        Assert.Equal(2, (await host.Manager.Get("/v1/devices/bench-1/versions")).GetProperty("items").GetArrayLength());
    }
}

internal static class Owner
{
    /// <summary>Saves a document of the shop as whoever has just read it.</summary>
    public static async Task<JsonElement> Change(this WorkshopHost host, string address, string document) =>
        await (await host.Manager.Put(address, document, "*")).Json();
}
