using System.Net;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Service.Features.PersonalData;
using Workshop.Service.Storage;
using Workshop.Service.Tasks;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Shop;
using Workshop.Service.Tests.Api.Warranties;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.PersonalData;

public class ErasureTests
{
    // Whatever of these is found anywhere in the database names the customer.
    private static readonly string[] Named = ["Marlow", "marlow", "Tallow", "7946", "was her mother", "cousin Edwin", "gorgeous but fast"];

    [Theory]
    [BothEngines]
    public async Task Nobody_is_named_any_more_and_chain_folds_and_warranty_stand(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var (label, customer) = await Gone(host);
        Assert.NotEmpty(await Found(host));
        var page = (await (await host.Desk.PostJson($"/v1/jobs/{label}/public-links", """{ "view": "status" }""")).Json()).Text("address");
        Assert.Equal(HttpStatusCode.OK, (await host.Stranger.GetAsync(page)).StatusCode);

        var erased = await (await host.Manager.PostJson($"/v1/customers/{customer}/erasure", "{}")).Json();
        var again = await (await host.Manager.PostJson($"/v1/customers/{customer}/erasure", "{}")).Json();

        Assert.Equal([label], erased.Texts("jobs"));
        Assert.Equal(3, erased.GetProperty("entries").GetInt32());
        Assert.Equal(erased.Text("erasedAt"), again.Text("erasedAt"));
        Assert.Empty(await Found(host));
        Assert.Empty(host.Check().Differences);

        // Whoever has an address from before sees nothing more by it.
        Assert.Equal(HttpStatusCode.NotFound, (await host.Stranger.GetAsync(page)).StatusCode);

        // The watch keeps its warranty and its history; nobody is found by name or number.
        Assert.Equal("2027-03-14", (await host.Desk.Get($"/v1/jobs/{label}/warranty")).GetProperty("lines")[0].Text("lastDay"));
        Assert.Contains((await host.Desk.Get($"/v1/jobs/{label}/history?limit=500")).GetProperty("items").EnumerateArray(), entry => entry.Text("type") == "customer.erased");
        Assert.Empty((await (await host.Desk.PostJson("/v1/jobs/search", """{ "text": "Marlow" }""")).Json()).GetProperty("items").EnumerateArray());
        Assert.Empty((await (await host.Desk.PostJson("/v1/jobs/search", """{ "text": "020 7946 0018" }""")).Json()).GetProperty("items").EnumerateArray());
        Assert.False((await host.Desk.Get($"/v1/customers/{customer}")).TryGetProperty("name", out _));
        Assert.NotEqual(HttpStatusCode.InternalServerError, (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2025-03-20", "text": "stops" }""")).StatusCode);
    }

    [Fact]
    public async Task A_watch_here_an_open_claim_and_a_hold_stand_against_it_by_name()
    {
        await using var host = await Counter.Open();
        var (label, customer) = await Gone(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2025-03-14", "text": "stops" }""")).Json();
        await host.Say(label, "hold.placed", """{ "hold": "legal", "reason": "asked by a court" }""");

        var refused = await (await host.Manager.PostJson($"/v1/customers/{customer}/erasure", "{}")).Problem();
        Assert.Equal("still-needed", refused.Code);
        Assert.Equal(["claim-open", "legal"], refused.Whole.GetProperty("because").EnumerateArray().Select(one => one.Text("why")));

        var here = await host.TakeIn(Counter.LeastIntake);
        var owner = (await host.Desk.Get($"/v1/jobs/{here}")).GetProperty("customer").Text("id");
        Assert.Equal(["watch-here"], (await (await host.Manager.PostJson($"/v1/customers/{owner}/erasure", "{}")).Problem()).Whole.GetProperty("because").EnumerateArray().Select(one => one.Text("why")));
        Assert.Equal(HttpStatusCode.Forbidden, (await host.Desk.PostJson($"/v1/customers/{owner}/erasure", "{}")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await host.Manager.PostJson("/v1/customers/nobody/erasure", "{}")).StatusCode);
    }

    [Fact]
    public async Task After_its_time_a_customer_is_forgotten_by_night_where_the_owner_says_so()
    {
        await using var host = await Counter.Open();
        var (_, customer) = await Gone(host);
        var task = host.Services.GetRequiredService<ForgetPeople>();
        host.SetTo(2030, 3, 15, 3);

        await task.Run(default);
        Assert.True((await host.Desk.Get($"/v1/customers/{customer}")).TryGetProperty("name", out _));

        await host.Change("/v1/rules", """{ "personalData": { "erasedAfterMonths": 61 } }""");
        await task.Run(default);
        Assert.True((await host.Desk.Get($"/v1/customers/{customer}")).TryGetProperty("name", out _));

        await host.Change("/v1/rules", """{ "personalData": { "erasedAfterMonths": 60 } }""");
        await task.Run(default);
        Assert.False((await host.Desk.Get($"/v1/customers/{customer}")).TryGetProperty("name", out _));
        Assert.Empty(await Found(host));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task An_export_holds_what_was_said_to_and_by_the_customer_and_nothing_of_the_house()
    {
        await using var host = await Counter.Open();
        var (label, customer) = await Gone(host);

        var export = await host.Manager.Get($"/v1/customers/{customer}/export");
        var job = export.GetProperty("jobs")[0];
        var types = job.GetProperty("entries").EnumerateArray().Select(entry => entry.Text("type")).ToHashSet();

        Assert.Equal(("Ida Marlow", label), (export.GetProperty("customer").Text("name"), job.Text("job")));
        Assert.Superset(new HashSet<string> { "job.taken-in", "quote.sent", "quote.answered", "promise.given", "job.handed-over", "wear.reported", "note.written" }, types);
        Assert.DoesNotContain(types, type => type.StartsWith("stage.", StringComparison.Ordinal) || type.StartsWith("rate-set.", StringComparison.Ordinal));
        Assert.Contains("was her mother", job.GetProperty("intake").GetRawText(), StringComparison.Ordinal);
        Assert.DoesNotContain("between ourselves", export.GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_type_with_text_to_erase_is_read_the_same_without_it()
    {
        Assert.Superset(new HashSet<string> { "note.written", "hold.placed", "claim.reported", "wear.reported" }, ErasableText.Types.ToHashSet());
        Assert.Equal("""{"text":"","audience":"customer"}""", ErasableText.Without("note.written", """{"text":"Ida rang","audience":"customer"}"""));
        Assert.Null(ErasableText.Without("note.written", """{"text":""}"""));
        Assert.Null(ErasableText.Without("stage.started", """{"stage":"cleaning"}"""));
    }

    /// <summary>Handed over on 14 Mar 2025, with notes for both audiences, a lifted hold and what the customer told since.</summary>
    private static async Task<(string Label, string Customer)> Gone(WorkshopHost host)
    {
        var label = await HandOverTests.Ready(host);
        await host.Say(label, "note.written", """{ "text": "cousin Edwin collects it", "audience": "customer" }""");
        await host.Say(label, "note.written", """{ "text": "between ourselves: cousin Edwin haggles" }""");
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected" }""")).Json();
        await (await host.Desk.PostJson($"/v1/jobs/{label}/wear-reports", """{ "amount": 4, "direction": "gains", "overDays": 7, "text": "gorgeous but fast" }""")).Json();
        await host.Services.GetRequiredService<Writer>().Turn(WorkshopHost.Site, turn => turn.Put(new OutboxMessage
        {
            Id = $"message.due/job/{label}",
            Type = "message.due",
            Stream = $"job/{label}",
            Body = """{"to":{"name":"Ida Marlow","email":"ida@marlow.example"}}""",
        }));
        return (label, (await host.Desk.Get($"/v1/jobs/{label}")).GetProperty("customer").Text("id"));
    }

    /// <summary>Every place of the database, table and column, in which the customer is named.</summary>
    private static Task<List<string>> Found(WorkshopHost host) => host.Services.GetRequiredService<Reader>().Read(connection =>
    {
        var found = new List<string>();
        foreach (var (table, column) in EveryText.Columns(connection, host.Services.GetRequiredService<Database>().Engine))
        {
            foreach (var name in Named)
            {
                if (EveryText.Holds(connection, table, column, name))
                {
                    found.Add($"{table}.{column}: {name}");
                }
            }
        }

        return found;
    });
}
