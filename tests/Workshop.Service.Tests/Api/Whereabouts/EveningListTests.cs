using System.Text.Json;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Shop;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Whereabouts;

/// <summary>What is where at the end of the day, what the safe held when it was counted, and what lies with somebody who is away.</summary>
public class EveningListTests
{
    [Theory, BothEngines]
    public async Task It_lists_by_place_for_the_bench_and_sums_declared_values_for_the_desk_alone(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Change("/v1/rules", """{ "insurance": { "limits": [ { "where": "outside-safe", "currency": "GBP", "amountMinor": 200000 }, { "where": "house", "currency": "GBP", "amountMinor": 900000 } ] } }""");
        var (safe, parts, none) = (await host.TakeIn(), await host.TakeIn(), await host.TakeIn(Counter.LeastIntake));
        await host.Say(safe, "piece.put", """{ "to": "places/safe", "person": "mara" }""");
        await host.Say(parts, "piece.given", """{ "kind": "dial-and-hands", "to": "firms/bellmere-dials", "note": "LS-204", "expectedBack": "2026-03-20", "insuredMinor": 100000, "currency": "GBP", "person": "mara" }""");

        var bench = await host.Bench.Get("/v1/evening-list");
        Assert.False(bench.TryGetProperty("values", out _));
        Assert.DoesNotContain("240000", bench.GetRawText());
        Assert.Equal(("2026-03-02", "places/safe"), (bench.Text("day"), bench.GetProperty("places")[0].Text("holder")));
        var firm = Assert.Single(Places(bench), place => place.Text("holder") == "firms/bellmere-dials").GetProperty("pieces")[0];
        Assert.Equal((parts, "LS-204", "2026-03-20", true), (firm.Text("job"), firm.Text("note"), firm.Text("expectedBack"), firm.GetProperty("inTransit").GetBoolean()));
        Assert.False(bench.TryGetProperty("safe", out _));

        var values = (await host.Desk.Get("/v1/evening-list")).GetProperty("values");
        Assert.Equal(
            [("house", 480000, 2, false), ("safe", 240000, 1, false), ("outside-safe", 240000, 1, true), ("firms", 0, 0, false), ("in-transit", 240000, 1, false), ("one-watch", 240000, 1, false)],
            values.GetProperty("sums").EnumerateArray().Select(sum => (sum.Text("where"), sum.GetProperty("amountMinor").GetInt32(), sum.GetProperty("watches").GetInt32(), sum.GetProperty("over").GetBoolean())));
        Assert.Equal(["Outside the safe: 2400.00 GBP declared, the policy covers 2000.00"], values.Texts("warnings"));
        Assert.Equal([none], values.Texts("withoutValue"));
        Assert.Equal(("LS-204", 100000), Assert.Single(values.GetProperty("underInsured").EnumerateArray()) is var under ? (under.Text("note"), under.GetProperty("insuredMinor").GetInt32()) : default);

        // A bench reads the note in the history, and no sum.
        var given = (await host.Bench.Get($"/v1/jobs/{parts}/history")).GetProperty("items").EnumerateArray().Single(one => one.Text("type") == "piece.given").GetProperty("data");
        Assert.True(given.TryGetProperty("note", out _));
        Assert.False(given.TryGetProperty("insuredMinor", out _));
    }

    [Theory, BothEngines]
    public async Task What_is_missing_when_the_safe_is_counted_is_the_managers_before_the_shop_is_locked(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var (one, two) = (await host.TakeIn(), await host.TakeIn());
        await host.Say(one, "piece.put", """{ "to": "places/safe", "person": "mara" }""");
        await host.Say(two, "piece.put", """{ "kind": "case", "to": "places/safe", "person": "mara" }""");
        Assert.Empty(await Lines(host, "evening-list"));
        host.SetTo(2026, 3, 2, 17, 10);
        var device = Device.Pair(host, Role.Bench);

        var unknown = await Count(device, $$"""{"pieces":["{{one}}","J2222225"],"person":"mara"}""");
        var first = await Count(device, $$"""{"pieces":["{{one}}","{{two}}/movement"],"person":"mara"}""");
        await host.Sweep();

        Assert.Equal(["/data/pieces/1"], unknown.Pointers);
        Assert.Equal(("stop", $"{two}/case"), (first.Signal, first.Say.GetProperty("more").GetString()));
        var safe = (await host.Bench.Get("/v1/evening-list")).GetProperty("safe");
        Assert.Equal([$"{two}/case"], safe.Texts("missing"));
        Assert.Equal([$"{two}/movement"], safe.Texts("elsewhere"));
        Assert.Equal((true, "mara"), (safe.GetProperty("countedToday").GetBoolean(), safe.Text("by")));
        Assert.Equal($"{two}/case", Assert.Single(await Lines(host, "safe-missing")).Text("ref"));
        Assert.Equal(1, await Announced(host, "safe-missing"));

        // Found and counted again, nothing is left to look for; the next count is due tomorrow, half an hour before closing.
        var second = await Count(device, $$"""{"pieces":["{{one}}","{{two}}/case"],"person":"mara"}""");
        Assert.Equal("ok", second.Signal);
        Assert.Empty(await Lines(host, "safe-missing"));
        var due = Assert.Single(await Lines(host, "evening-list"));
        Assert.Equal(("2026-03-03", (await host.Bench.Get("/v1/evening-list")).Text("dueAt").Replace("03-02", "03-03")), (due.Text("ref"), due.Text("due")));
        Assert.Empty(host.Check().Differences);
    }

    [Theory, BothEngines]
    public async Task Of_somebody_who_is_away_an_open_rebuild_is_not_touched_and_a_tray_for_the_machine_is(StorageEngine engine)
    {
        await using var host = await WorkshopHost.Start(engine);
        await (await host.Manager.Put("/v1/benches/bench-2", """{ "name": "By the stove" }""")).Json();
        await (await host.Manager.Put("/v1/people/mara", """{ "name": "Mara", "bench": "bench-2" }""")).Json();
        var open = await (await HouseWatch.TakeIn(host)).Through(Workshop.Core.Route.Stage.Inspection);
        await open.Does("piece.taken", """{"person":"mara"}""");
        await open.Does("stage.started", """{"stage":"rebuild","person":"mara"}""");
        var tray = await (await HouseWatch.TakeIn(host)).Through(Workshop.Core.Route.Stage.Takedown);
        await tray.Does("piece.put", """{"kind":"movement","to":"benches/bench-2","person":"mara"}""");
        await (await HouseWatch.TakeIn(host)).Does("piece.taken", """{"person":"vera"}""");

        var lies = (await host.Bench.Get("/v1/people/mara/bench")).GetProperty("pieces").EnumerateArray().ToArray();

        Assert.Equal(4, lies.Length);
        Assert.Equal((false, "rebuild"), Movement(lies, open) is var half ? (half.GetProperty("mayBeTouched").GetBoolean(), half.Text("stage")) : default);
        Assert.Equal((true, "it waits for cleaning"), Movement(lies, tray) is var washed ? (washed.GetProperty("mayBeTouched").GetBoolean(), washed.Text("why")) : default);

        await open.Does("piece.put", """{"kind":"movement","to":"benches/bench-2","handsOff":false,"person":"mara"}""");
        Assert.True(Movement([.. (await host.Bench.Get("/v1/people/mara/bench")).GetProperty("pieces").EnumerateArray()], open).GetProperty("mayBeTouched").GetBoolean());
        using var nobody = await host.Bench.GetAsync("/v1/people/nobody/bench");
        Assert.Equal(System.Net.HttpStatusCode.NotFound, nobody.StatusCode);
    }

    private static Task<Told> Count(Device device, string data) => device.Post(device.Write("safe.counted", null, data));

    private static JsonElement Movement(JsonElement[] pieces, HouseWatch of) => pieces.Single(one => one.Text("job") == of.Label.ToString() && one.Text("piece") == "movement");

    private static IEnumerable<JsonElement> Places(JsonElement list) => list.GetProperty("places").EnumerateArray();

    private static async Task<JsonElement[]> Lines(WorkshopHost host, string kind) =>
        [.. (await host.Bench.Get("/v1/agenda?due=all&limit=500")).GetProperty("items").EnumerateArray().Where(line => line.Text("kind") == kind)];

    private static Task<long> Announced(WorkshopHost host, string kind) =>
        host.QueryFirst<long>("select count(*) from journal where site = 'main' and stream = 'house' and type = 'due.announced' and data like @like", new { like = $"%{kind}%" });
}
