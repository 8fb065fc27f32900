using System.Net;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Parties;

public class PartiesTests
{
    [Theory]
    [BothEngines]
    public async Task A_gift_has_a_giver_and_somebody_who_is_not_told_before_the_day(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        var address = $"/v1/jobs/{job}/parties";
        var ida = (await host.Desk.Get(address)).GetProperty("owner").Text("customer");
        var tom = await Add(host, """{ "name": "Tom Marlow", "email": "tom@marlow.example" }""");
        using var seen = await host.Desk.GetAsync(address);

        using var blind = await host.Desk.Put(address, $$"""{ "recipient": "{{tom}}" }""");
        using var nobody = await host.Desk.Put(address, """{ "recipient": "nobody", "told": ["nobody"] }""", "*");
        using var ownGift = await host.Desk.Put(address, """{ "notBefore": "2026-05-10" }""", "*");
        using var saved = await host.Desk.Put(address, $$"""{ "recipient": "{{tom}}", "told": ["{{ida}}", "{{tom}}"], "notBefore": "2026-05-10" }""", seen.Headers.ETag!.Tag);
        using var late = await host.Desk.Put(address, "{}", seen.Headers.ETag!.Tag);
        var after = await host.Desk.Get(address);

        Assert.Equal("if-match-needed", (await blind.Problem()).Code);
        Assert.Equal(["/recipient", "/told/0"], (await nobody.Problem()).Pointers);
        Assert.Equal(["/notBefore"], (await ownGift.Problem()).Pointers);
        Assert.Equal(HttpStatusCode.OK, saved.StatusCode);
        Assert.Equal("changed-meanwhile", (await late.Problem()).Code);
        Assert.Equal((tom, ida, "2026-05-10"), (after.GetProperty("recipient").Text("customer"), after.GetProperty("payer").Text("customer"), after.Text("notBefore")));
        Assert.Equal("Tom Marlow", after.GetProperty("told")[1].Text("name"));

        // Names and ids of customers are the desk's alone, also in the history.
        using var bench = await host.As(Role.Bench).GetAsync(address);
        Assert.Equal(HttpStatusCode.Forbidden, bench.StatusCode);
        Assert.DoesNotContain(tom, await host.As(Role.Bench).GetStringAsync($"/v1/jobs/{job}/history"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task When_whoever_decides_has_died_the_open_jobs_ask_for_somebody_else(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        var ida = (await host.Desk.Get($"/v1/jobs/{job}/parties")).GetProperty("decides").Text("customer");
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job);
        await Change(host, ida, """{ "name": "Ida Marlow", "telephone": "+44 20 7946 0018", "deceasedOn": "2025-01-03" }""");

        var refused = await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes/1/answer", """{ "accepted": true }""")).Problem();
        Assert.Equal("decider-gone", refused.Code);
        Assert.Contains("decider-gone", (await host.Desk.Get("/v1/agenda")).GetProperty("items").EnumerateArray().Select(row => row.Text("kind")));

        var daughter = await Add(host, """{ "name": "Una Marlow", "telephone": "01632 960 119" }""");
        using var named = await host.Desk.Put($"/v1/jobs/{job}/parties", $$"""{ "decides": "{{daughter}}", "told": ["{{daughter}}"] }""", "*");
        Assert.Equal(HttpStatusCode.OK, named.StatusCode);
        await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes/1/answer", """{ "accepted": true }""")).Json();

        // Whoever is named besides the customer of the intake is found by their id too.
        await Change(host, daughter, """{ "name": "Una Marlow", "telephone": "01632 960 119", "unreachable": ["telephone"] }""");
        Assert.Equal(["telephone"], (await host.Desk.Get($"/v1/jobs/{job}/parties")).GetProperty("decides").Texts("unreachable"));

        // Another number is worth another try.
        await Change(host, daughter, """{ "name": "Una Marlow", "telephone": "01632 960 120" }""");
        Assert.Empty((await host.Desk.Get($"/v1/jobs/{job}/parties")).GetProperty("decides").Texts("unreachable"));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task Somebody_who_moves_house_has_an_address_for_each_day()
    {
        await using var host = await Counter.Open();
        var id = await Add(host, """{ "name": "Tom Marlow", "address": "3 Tallow Lane", "addresses": [ { "address": "9 Quay Steps", "validFrom": "2026-07-01" } ] }""");

        var stored = await host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn => Features.Customers.CustomerStore.Find(turn, id)!);
        Assert.Equal("3 Tallow Lane", stored.AddressOn(new(2026, 6, 30)));
        Assert.Equal("9 Quay Steps", stored.AddressOn(new(2026, 7, 1)));

        using var twice = await host.Desk.Put($"/v1/customers/{id}", """{ "addresses": [ { "address": "1", "validFrom": "2026-07-01" }, { "address": "2", "validFrom": "2026-07-01" } ] }""", "*");
        Assert.Equal(["/addresses/1/validFrom"], (await twice.Problem()).Pointers);
    }

    private static async Task<string> Add(WorkshopHost host, string body) => (await (await host.Desk.PostJson("/v1/customers", body)).Json()).Text("id");

    private static async Task Change(WorkshopHost host, string customer, string body)
    {
        using var changed = await host.Desk.Put($"/v1/customers/{customer}", body, "*");
        Assert.Equal(HttpStatusCode.OK, changed.StatusCode);
    }
}
