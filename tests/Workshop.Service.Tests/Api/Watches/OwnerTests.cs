using System.Text.Json;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Watches;

public class OwnerTests
{
    [Theory]
    [BothEngines]
    public async Task A_watch_has_owners_over_time(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2026, 3, 2, 10);
        var (_, watch, first) = await TakenIn(host);
        var (_, _, second) = await TakenIn(host);

        await (await host.Desk.PostJson($"/v1/watches/{watch}/owners", $$"""{ "customer": "{{first}}", "from": "2020-05-01", "how": "inherited" }""")).Json();
        var sold = await (await host.Desk.PostJson($"/v1/watches/{watch}/owners", $$"""{ "customer": "{{second}}", "from": "2026-02-01", "how": "bought" }""")).Json();
        var again = await (await host.Desk.PostJson($"/v1/watches/{watch}/owners", $$"""{ "customer": "{{second}}", "from": "2026-02-01", "how": "bought" }""")).Json();
        var early = await (await host.Desk.PostJson($"/v1/watches/{watch}/owners", $$"""{ "customer": "{{first}}", "from": "2025-02-01" }""")).Problem();
        var nobody = await (await host.Desk.PostJson($"/v1/watches/{watch}/owners", """{ "customer": "nobody", "from": "2027-02-01" }""")).Problem();
        var read = await host.Desk.Get($"/v1/watches/{watch}");

        Assert.Equal(second, sold.Text("customer"));
        Assert.Equal(sold.GetProperty("owners").ToString(), again.GetProperty("owners").ToString());
        Assert.Equal(["/from"], early.Pointers);
        Assert.Equal(["/customer", "/from"], nobody.Pointers);
        Assert.Equal([(first, "2020-05-01", "inherited"), (second, "2026-02-01", "bought")], read.GetProperty("owners").EnumerateArray().Select(one => (one.Text("customer"), one.Text("from"), one.Text("how"))));
        Assert.Equal("2026-02-01", read.GetProperty("owners")[0].Text("until"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_register_hit_holds_the_watch_without_a_word_and_is_lifted_when_it_is_cleared(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var (label, watch, _) = await TakenIn(host);

        var byDesk = await (await host.Desk.Put($"/v1/watches/{watch}/register-hit", """{ "hit": true, "register": "the canton's list" }""")).Problem();
        var unnamed = await (await host.Manager.Put($"/v1/watches/{watch}/register-hit", """{ "hit": true }""")).Problem();
        await (await host.Manager.Put($"/v1/watches/{watch}/register-hit", """{ "hit": true, "register": "the canton's list", "text": "reported in 2024" }""")).Json();
        await (await host.Manager.Put($"/v1/watches/{watch}/register-hit", """{ "hit": true, "register": "the canton's list", "text": "reported in 2024" }""")).Json();
        var (seenByManager, seenByDesk) = (Holds(await host.Manager.Get($"/v1/jobs/{label}")), Holds(await host.Desk.Get($"/v1/jobs/{label}")));
        var desk = await (await host.Desk.GetAsync($"/v1/jobs/{label}")).Content.ReadAsStringAsync() + await (await host.Desk.GetAsync($"/v1/jobs/{label}/history")).Content.ReadAsStringAsync()
            + await (await host.Desk.GetAsync($"/v1/watches/{watch}")).Content.ReadAsStringAsync() + await (await host.Desk.GetAsync("/v1/agenda")).Content.ReadAsStringAsync();
        var manager = await host.Manager.Get($"/v1/watches/{watch}");

        // The same watch once more, while the first job is still open.
        var second = await (await host.Desk.PostJson("/v1/jobs", $$"""{ "customer": { "telephone": "01632 960 118" }, "watch": "{{watch}}", "variant": "full-automatic" }""")).Json();
        var heldAtIntake = Holds(await host.Manager.Get($"/v1/jobs/{second.Text("label")}"));
        await (await host.Manager.Put($"/v1/watches/{watch}/register-hit", """{ "hit": false, "reason": "the owner has it back" }""")).Json();

        Assert.Equal("not-for-this-role", byDesk.Code);
        Assert.Equal(["/register"], unnamed.Pointers);
        Assert.Equal(["legal"], seenByManager);
        Assert.Equal(["query"], seenByDesk);
        Assert.DoesNotContain("register", desk.Replace("registerHit", "register", StringComparison.Ordinal), StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("legal", desk, StringComparison.Ordinal);
        Assert.Equal("the canton's list", manager.GetProperty("registerHit").Text("register"));
        Assert.Equal(["legal"], heldAtIntake);
        Assert.Empty(Holds(await host.Manager.Get($"/v1/jobs/{label}")));
        Assert.Empty(Holds(await host.Manager.Get($"/v1/jobs/{second.Text("label")}")));
        Assert.Empty(host.Check().Differences);
    }

    private static string[] Holds(JsonElement job) => [.. job.GetProperty("holds").EnumerateArray().Select(hold => hold.Text("reason"))];

    private static async Task<(string Label, string Watch, string Customer)> TakenIn(WorkshopHost host)
    {
        var taken = await (await host.Desk.PostJson(
            "/v1/jobs", """{ "customer": { "telephone": "01632 960 117" }, "watch": { "maker": "Velling", "madeInYear": 2010 }, "variant": "full-automatic", "condition": "runs", "terms": { "acceptedOn": "2025-01-02" } }""")).Json();
        return (taken.Text("label"), taken.Text("watch"), taken.Text("customer"));
    }
}
