using System.Text.Json;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Warranties;

public class ClaimEvidenceTests
{
    [Theory]
    [BothEngines]
    public async Task Both_sides_lie_side_by_side_and_a_decision_names_what_it_rests_on(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOverWithADeclinedOption(host);
        var claim = await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2026-06-08", "text": "It stops in the night." }""")).Json();
        host.SetTo(2026, 6, 10, 15);
        var back = await Back(host, label);
        await host.Say(back, "seal.seen", """{ "state": "intact", "number": "S-9", "person": "mara" }""");
        await host.Say(back, "finding.recorded", """{ "part": "reset", "condition": "came off", "severity": "must", "asReceived": true, "person": "mara" }""");

        var evidence = await host.Desk.Get($"/v1/jobs/{label}/claims/1/evidence");
        using var inGerman = new HttpRequestMessage(HttpMethod.Get, $"/v1/jobs/{label}/claims/1/evidence");
        inGerman.Headers.AcceptLanguage.ParseAdd("de");
        using var german = await host.Desk.SendAsync(inGerman);
        var row = Assert.Single(await Lines(host, "claim-undecided"));
        var words = evidence.GetProperty("theirs")[0].Text("id");
        var declinedId = Of(evidence, "ours", "declined-option").Single().Text("id");
        var unknown = await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "the reset came off", "because": ["nothing"] }""")).Problem();
        var decided = await (await host.Manager.PostJson(
            $"/v1/jobs/{label}/claims/1/decision", $$"""{ "covered": true, "reason": "the reset came off", "because": ["{{words}}", "{{declinedId}}"], "inDoubt": true, "system": "chronograph" }""")).Json();
        using var again = await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2026-06-10", "text": "Again." }""");
        var twice = await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/2/decision", """{ "covered": true, "reason": "again", "inDoubt": true }""")).Problem();
        var repeated = await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/2/decision", """{ "covered": true, "reason": "again", "system": "chronograph" }""")).Json();

        Assert.Equal("polish", Assert.Single(claim.GetProperty("declined").EnumerateArray()).Text("line"));
        Assert.Equal(1, claim.GetProperty("declined")[0].GetProperty("quote").GetInt32());
        Assert.Equal("2026-03-02", claim.GetProperty("declined")[0].Text("declinedOn"));
        Assert.Equal(back, evidence.Text("back"));
        Assert.Equal(["rate-set", "wear-check", "water-test", "seal", "final-control", "declined-option"], Kinds(evidence, "ours").OrderBy(kind => Array.IndexOf(Order, kind)));
        Assert.Equal(["customers-words", "seal", "finding"], Kinds(evidence, "theirs"));
        Assert.Equal("It stops in the night.", evidence.GetProperty("theirs")[0].Text("text"));
        Assert.Equal("reset: came off", Of(evidence, "theirs", "finding").Single().Text("text"));
        Assert.Contains("schliesst nichts aus", await german.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        // Forty-eight hours after the watch came, 15:00 on 10 June in Zurich; a few milliseconds are the clock's.
        Assert.StartsWith("2026-06-12T13:00:00", row.Text("due"), StringComparison.Ordinal);
        Assert.Equal(["/because/0"], unknown.Pointers);
        Assert.True(decided.GetProperty("inDoubt").GetBoolean());
        Assert.Equal("new", decided.Text("comeback"));
        Assert.Equal([words, declinedId], decided.Texts("because"));
        Assert.Equal(["/inDoubt"], twice.Pointers);
        Assert.Equal("repeat", repeated.Text("comeback"));
        Assert.Equal("not-for-this-role", (await (await host.Bench.GetAsync($"/v1/jobs/{label}/claims/1/evidence")).Problem()).Code);
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_disputed_claim_keeps_the_watch_here_until_it_is_settled_and_told(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOverWithADeclinedOption(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2026-06-08", "text": "It stops in the night." }""")).Json();
        host.SetTo(2026, 6, 10, 15);
        var back = await Back(host, label);
        await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": false, "reason": "a fall" }""")).Json();

        var opened = await (await host.Desk.PostJson($"/v1/jobs/{label}/disputes", """{ "claim": 1, "text": "It never fell." }""")).Json();
        var held = Holds(await host.Desk.Get($"/v1/jobs/{back}"));
        var heldOld = Holds(await host.Desk.Get($"/v1/jobs/{label}"));
        var rows = await Lines(host, "dispute");
        var byDesk = await (await host.Desk.PostJson($"/v1/jobs/{label}/disputes/1/close", """{ "outcome": "withdrawn", "reason": "x" }""")).Problem();
        var early = await (await host.Manager.PostJson($"/v1/jobs/{label}/disputes/1/close", """{ "outcome": "customer-was-right", "reason": "no mark of a fall", "toldOn": "2026-06-09" }""")).Problem();
        var closed = await (await host.Manager.PostJson($"/v1/jobs/{label}/disputes/1/close", """{ "outcome": "customer-was-right", "reason": "no mark of a fall" }""")).Json();
        var other = await (await host.Manager.PostJson($"/v1/jobs/{label}/disputes/1/close", """{ "outcome": "withdrawn", "reason": "x" }""")).Problem();

        Assert.Equal("It never fell.", opened.Text("text"));
        Assert.Contains("customers-words", Kinds(opened, "theirs"));
        Assert.Contains("final-control", Kinds(opened, "ours"));
        Assert.Equal(["dispute"], held);
        Assert.Empty(heldOld);
        Assert.Equal("1", Assert.Single(rows).Text("ref"));
        Assert.Equal("not-for-this-role", byDesk.Code);
        Assert.Equal(["/toldOn"], early.Pointers);
        Assert.Equal(("customer-was-right", "2026-06-10"), (closed.Text("outcome"), closed.Text("toldOn")));
        Assert.Equal("dispute-settled", other.Code);
        Assert.Empty(Holds(await host.Desk.Get($"/v1/jobs/{back}")));
        Assert.Empty(await Lines(host, "dispute"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_dispute_about_a_watch_that_is_here_holds_it(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandOverTests.Ready(host);

        await (await host.Desk.PostJson($"/v1/jobs/{label}/disputes", """{ "text": "There was no scratch when I brought it." }""")).Json();
        var held = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected" }""")).Problem();
        await (await host.Manager.PostJson($"/v1/jobs/{label}/disputes/1/close", """{ "outcome": "agreement", "reason": "we polish it" }""")).Json();
        using var free = await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected" }""");

        Assert.Equal("hold", held.Code);
        Assert.Equal(System.Net.HttpStatusCode.OK, free.StatusCode);
    }

    private static string[] Kinds(JsonElement evidence, string side) => [.. evidence.GetProperty(side).EnumerateArray().Select(one => one.Text("kind")).Distinct()];

    private static IEnumerable<JsonElement> Of(JsonElement evidence, string side, string kind) => evidence.GetProperty(side).EnumerateArray().Where(one => one.Text("kind") == kind);

    private static readonly string[] Order = ["rate-set", "wear-check", "water-test", "seal", "final-control", "part-fitted", "declined-option"];

    private static string[] Holds(JsonElement job) => [.. job.GetProperty("holds").EnumerateArray().Select(hold => hold.Text("reason"))];

    private static async Task<JsonElement[]> Lines(WorkshopHost host, string kind) =>
        [.. (await host.Manager.Get("/v1/agenda?due=all")).GetProperty("items").EnumerateArray().Where(line => line.Text("kind") == kind)];

    private static async Task<string> Back(WorkshopHost host, string label) => await host.TakeIn(
        $$"""{ "customer": { "telephone": "01632 960 117" }, "watch": { "maker": "Velling" }, "warrantyOf": "{{label}}", "declaredValueMinor": 1000, "currency": "GBP", "condition": "stands still", "terms": { "acceptedOn": "2025-01-02" } }""");

    private static async Task<string> HandedOverWithADeclinedOption(WorkshopHost host)
    {
        host.SetTo(2026, 3, 2, 10);
        var label = await host.TakeIn();
        await host.Say(label, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await (await host.Desk.PostJson(
            $"/v1/jobs/{label}/quotes",
            """{ "lines": [ { "text": "Full service", "amountMinor": 48000 }, { "id": "polish", "text": "Polish the case", "amountMinor": 9000, "optional": true, "recommended": true } ], "currency": "GBP" }""")).Json();
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true }""")).Json();
        await host.Service(label);
        await host.Settle(label);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected" }""")).Json();
        host.SetTo(2026, 6, 8, 10);
        return label;
    }
}
