using System.Net;
using System.Text.Json;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Warranties;

public class ClaimTests
{
    private const string Reported = """{ "reportedOn": "2026-01-08", "receivedOn": "2026-01-10", "text": "It stops in the night." }""";

    // The trade's worked example: handed over 14 Mar 2025, 24 months; a covered claim from 10 Jan to 2 Feb 2026 adds its 23 days.
    [Theory]
    [BothEngines]
    public async Task A_covered_claim_adds_the_days_in_the_house_and_one_not_covered_adds_none(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOver(host);
        using var reported = await host.Desk.PostJson($"/v1/jobs/{label}/claims", Reported);
        var claim = await reported.Json();
        await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", """{ "receivedOn": "2026-01-10", "returnedOn": "2026-02-02" }""")).Json();
        Assert.Equal("2027-03-14", await LastDay(host, label, "movement"));

        await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "the reset came off" }""")).Json();
        var covered = await host.Desk.Get($"/v1/jobs/{label}/warranty?on=2027-04-06");
        var over = await host.Desk.Get($"/v1/jobs/{label}/warranty?on=2027-04-07");

        Assert.Equal(HttpStatusCode.Created, reported.StatusCode);
        Assert.Equal($"/v1/jobs/{label}/claims/1", reported.Headers.Location?.ToString());
        Assert.Equal(1, claim.GetProperty("claim").GetInt32());
        Assert.True(claim.GetProperty("warranty")[0].GetProperty("covered").GetBoolean());
        Assert.Equal("2027-04-06", Line(covered, "movement").Text("lastDay"));
        Assert.Equal(23, Line(covered, "movement").GetProperty("extensionDays").GetInt32());
        Assert.True(Line(covered, "movement").GetProperty("covered").GetBoolean());
        Assert.False(Line(over, "movement").GetProperty("covered").GetBoolean());
        Assert.Contains("6 April 2027", Line(over, "movement").Text("words"));
        Assert.Contains("23 days in the house", Line(over, "movement").Text("why"));

        await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": false, "reason": "a fall, seen again" }""")).Json();
        Assert.Equal("2027-03-14", await LastDay(host, label, "movement"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task Only_the_lines_of_the_decision_are_extended(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOver(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", Reported)).Json();
        await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "lines": ["movement", "movement"], "reason": "the reset came off" }""")).Json();

        var stay = await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", """{ "receivedOn": "2026-01-10", "returnedOn": "2026-02-02" }""")).Json();

        Assert.Equal(["movement"], stay.Texts("lines"));
        Assert.Equal("2027-04-06", await LastDay(host, label, "movement"));
        Assert.Equal("2026-03-14", await LastDay(host, label, "water-resistance"));
    }

    [Theory]
    [BothEngines]
    public async Task A_line_that_had_run_out_is_not_brought_back_by_a_claim_about_another(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOver(host);
        host.SetTo(2026, 8, 3, 10);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2026-06-01", "receivedOn": "2026-06-02", "text": "loses a minute" }""")).Json();

        var named = await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "lines": ["water-resistance"], "reason": "leaks" }""")).Problem();
        var decided = await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "dry escapement" }""")).Json();
        await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", """{ "receivedOn": "2026-06-02", "returnedOn": "2026-06-12" }""")).Json();

        Assert.Equal(["/lines/0"], named.Pointers);
        Assert.Equal(["movement", "parts-fitted"], decided.Texts("lines"));
        Assert.Equal("2027-03-24", await LastDay(host, label, "movement"));
        Assert.Equal("2026-03-14", await LastDay(host, label, "water-resistance"));
    }

    [Fact]
    public async Task A_fault_reported_after_the_last_day_is_written_down_and_cannot_be_covered()
    {
        await using var host = await Counter.Open();
        var label = await HandedOver(host);
        host.SetTo(2027, 5, 3, 10);

        var reported = await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2027-03-15", "text": "stopped" }""")).Json();
        var covered = await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "kindness" }""")).Problem();
        using var refused = await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": false, "reason": "a day late" }""");

        Assert.All(reported.GetProperty("warranty").EnumerateArray(), line => Assert.False(line.GetProperty("covered").GetBoolean()));
        Assert.Equal(["/covered"], covered.Pointers);
        Assert.Equal(HttpStatusCode.OK, refused.StatusCode);
    }

    [Theory]
    [BothEngines]
    public async Task Two_claims_at_once_count_each_day_once(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOver(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", Reported)).Json();
        var second = await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2026-01-20", "receivedOn": "2026-01-10", "text": "the date too" }""")).Json();
        foreach (var claim in new[] { 1, 2 })
        {
            await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/{claim}/decision", """{ "covered": true, "reason": "ours" }""")).Json();
        }

        await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", """{ "receivedOn": "2026-01-10", "returnedOn": "2026-01-25" }""")).Json();
        await (await host.Desk.Put($"/v1/jobs/{label}/claims/2/stay", """{ "receivedOn": "2026-01-20", "returnedOn": "2026-02-02" }""")).Json();

        Assert.Equal(2, second.GetProperty("claim").GetInt32());
        Assert.Equal("2027-04-06", await LastDay(host, label, "movement"));
    }

    [Theory]
    [BothEngines]
    public async Task A_stay_told_again_changes_nothing_and_told_anew_the_newest_counts(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOver(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", Reported)).Json();
        await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "ours" }""")).Json();
        await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", """{ "receivedOn": "2026-01-10", "returnedOn": "2026-02-01" }""")).Json();
        var entries = await Entries(host, label);

        await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", """{ "receivedOn": "2026-01-10", "returnedOn": "2026-02-01" }""")).Json();
        Assert.Equal(entries, await Entries(host, label));
        await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "ours" }""")).Json();
        Assert.Equal(entries, await Entries(host, label));
        await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", """{ "receivedOn": "2026-01-10", "returnedOn": "2026-02-02" }""")).Json();

        Assert.Equal("2027-04-06", await LastDay(host, label, "movement"));
        Assert.Equal("2026-02-02", (await host.Desk.Get($"/v1/jobs/{label}/claims")).GetProperty("items")[0].Text("returnedOn"));
    }

    [Theory]
    [BothEngines]
    public async Task Only_a_manager_decides_and_only_the_desk_reads_the_customers_words(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOver(host);
        using var first = await host.Desk.PostJson($"/v1/jobs/{label}/claims", Reported, ("Idempotency-Key", "claim-1"));
        using var again = await host.Desk.PostJson($"/v1/jobs/{label}/claims", Reported, ("Idempotency-Key", "claim-1"));

        var desk = await (await host.Desk.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "ours" }""")).Problem();
        var atBench = await host.Bench.Get($"/v1/jobs/{label}/claims");

        Assert.Equal("not-for-this-role", desk.Code);
        Assert.Equal(await first.Content.ReadAsStringAsync(), await again.Content.ReadAsStringAsync());
        Assert.False(Assert.Single(atBench.GetProperty("items").EnumerateArray()).TryGetProperty("text", out _));
        Assert.Equal("It stops in the night.", (await host.Desk.Get($"/v1/jobs/{label}/claims/1")).Text("text"));
    }

    [Fact]
    public async Task Without_a_hand_over_there_is_nothing_to_claim()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();

        Assert.Equal("not-handed-over", (await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2026-03-01", "text": "stops" }""")).Problem()).Code);
        Assert.Equal("no-such-thing", (await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", """{ "receivedOn": "2026-03-01" }""")).Problem()).Code);
        Assert.Empty((await host.Desk.Get($"/v1/jobs/{label}/warranty")).GetProperty("lines").EnumerateArray());
    }

    [Theory]
    [InlineData("claims", """{ "reportedOn": "2026-02-04", "text": "stops" }""", "/reportedOn")]
    [InlineData("claims", """{ "reportedOn": "2025-03-13", "text": "stops" }""", "/reportedOn")]
    [InlineData("claims", """{ "reportedOn": "2026-01-08", "receivedOn": "2026-02-04", "text": "stops" }""", "/receivedOn")]
    [InlineData("claims", """{ "reportedOn": "2026-01-08", "receivedOn": "2025-03-01", "text": "stops" }""", "/receivedOn")]
    [InlineData("claims", """{ "reportedOn": "2026-13-08", "text": "stops" }""", "/reportedOn")]
    [InlineData("claims", """{ "reportedOn": "2026-01-08", "text": "" }""", "/text")]
    [InlineData("claims", """{ "reportedOn": "2026-01-08" }""", "/text")]
    [InlineData("claims/1/decision", """{ "covered": true }""", "/reason")]
    [InlineData("claims/1/decision", """{ "covered": true, "reason": "  " }""", "/reason")]
    [InlineData("claims/1/decision", """{ "covered": true, "lines": ["strap"], "reason": "a" }""", "/lines/0")]
    [InlineData("claims/1/decision", """{ "covered": false, "lines": ["strap"], "reason": "a" }""", "/lines/0")]
    [InlineData("claims/1/decision", """{ "covered": true, "lines": [], "reason": "a" }""", "/lines")]
    [InlineData("claims/1/decision", """{ "covered": "yes", "reason": "a" }""", "/covered")]
    [InlineData("claims/1/decision", """{ "covered": true, "reason": "a", "goodwill": "magnetism-removed" }""", "/goodwill")]
    [InlineData("claims/1/decision", """{ "covered": false, "reason": "a", "goodwill": "polished" }""", "/goodwill")]
    public async Task A_claim_that_cannot_be_is_refused_with_the_field_named(string path, string body, string pointer)
    {
        await using var host = await Counter.Open();
        var label = await HandedOver(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", Reported)).Json();

        var problem = await (await host.Manager.PostJson($"/v1/jobs/{label}/{path}", body)).Problem();

        Assert.Equal(422, problem.Status);
        Assert.Equal([pointer], problem.Pointers);
    }

    [Theory]
    [InlineData("""{ "receivedOn": "2026-02-04" }""", "/receivedOn")]
    [InlineData("""{ "receivedOn": "2026-01-10", "returnedOn": "2026-02-04" }""", "/returnedOn")]
    [InlineData("""{ "receivedOn": "2026-01-10", "returnedOn": "2026-01-09" }""", "/returnedOn")]
    [InlineData("""{ "receivedOn": "2025-01-10" }""", "/receivedOn")]
    [InlineData("""{ "returnedOn": "2026-01-10" }""", "/receivedOn")]
    public async Task A_stay_that_cannot_be_is_refused_with_the_field_named(string body, string pointer)
    {
        await using var host = await Counter.Open();
        var label = await HandedOver(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", Reported)).Json();

        var problem = await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", body)).Problem();

        Assert.Equal(422, problem.Status);
        Assert.Equal([pointer], problem.Pointers);
        Assert.Equal("no-such-thing", (await (await host.Desk.Put($"/v1/jobs/{label}/claims/7/stay", """{ "receivedOn": "2026-01-10" }""")).Problem()).Code);
        Assert.Equal("no-such-thing", (await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/7/decision", """{ "covered": true, "reason": "a" }""")).Problem()).Code);
    }

    [Theory]
    [InlineData("tomorrow")]
    [InlineData("2026-02-30")]
    [InlineData("")]
    public async Task A_day_that_is_none_is_named(string day)
    {
        await using var host = await Counter.Open();
        var label = await HandedOver(host);

        var problem = await (await host.Desk.GetAsync($"/v1/jobs/{label}/warranty?on={day}")).Problem();

        Assert.Equal(422, problem.Status);
        Assert.Equal("on", problem.Whole.GetProperty("errors")[0].Text("parameter"));
    }

    [Theory]
    [InlineData("0001-01-01", false)]
    [InlineData("2025-03-13", false)]
    [InlineData("2025-03-14", true)]
    [InlineData("2027-03-14", true)]
    [InlineData("2027-03-15", false)]
    [InlineData("9999-12-31", false)]
    public async Task The_last_day_is_included_and_so_is_the_day_of_hand_over(string on, bool covered)
    {
        await using var host = await Counter.Open();
        var label = await HandedOver(host);

        var warranty = await host.Bench.Get($"/v1/jobs/{label}/warranty?on={on}");

        Assert.Equal(covered, Line(warranty, "movement").GetProperty("covered").GetBoolean());
        Assert.Equal(on, warranty.Text("on"));
        Assert.NotEmpty(warranty.Text("statutoryRights"));
    }

    /// <summary>Handed over on 14 Mar 2025; now it is Tue 3 Feb 2026.</summary>
    private static async Task<string> HandedOver(WorkshopHost host)
    {
        var label = await HandOverTests.Ready(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected" }""")).Json();
        host.SetTo(2026, 2, 3, 10);
        return label;
    }

    private static async Task<string> LastDay(WorkshopHost host, string label, string line) =>
        Line(await host.Desk.Get($"/v1/jobs/{label}/warranty"), line).Text("lastDay");

    private static JsonElement Line(JsonElement warranty, string line) => warranty.GetProperty("lines").EnumerateArray().Single(one => one.Text("line") == line);

    private static async Task<int> Entries(WorkshopHost host, string label) => (await host.Desk.Get($"/v1/jobs/{label}/history")).GetProperty("items").GetArrayLength();
}
