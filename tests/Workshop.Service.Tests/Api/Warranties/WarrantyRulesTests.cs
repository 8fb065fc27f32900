using System.Net;
using System.Text.Json;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Shop;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Warranties;

/// <summary>Days of warranty over HTTP: the last minute of a last day, parcels, reports whose watch comes late, rule sets by the line.</summary>
public class WarrantyRulesTests
{
    private const string German = "de";

    [Theory]
    [BothEngines]
    public async Task A_fault_told_at_half_past_eleven_at_night_of_the_last_day_is_covered_and_an_hour_later_it_is_not(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOver(host);

        host.SetTo(2027, 3, 14, 23, 30);
        var still = await host.Desk.Get($"/v1/jobs/{label}/warranty");
        var inTime = await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "text": "stopped tonight" }""")).Json();
        using var covered = await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "the last day counts" }""");
        host.SetTo(2027, 3, 15, 0, 30);
        var over = await host.Desk.Get($"/v1/jobs/{label}/warranty");
        var late = await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "text": "stopped just now" }""")).Json();
        var refused = await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/2/decision", """{ "covered": true, "reason": "so near" }""")).Problem();

        Assert.Equal(("2027-03-14", true), (still.Text("on"), Movement(still).GetProperty("covered").GetBoolean()));
        Assert.Equal(("2027-03-14", "2027-04-13", "2027-03-14"), (inTime.Text("reportedOn"), inTime.Text("arrivesBy"), inTime.Text("countsOn")));
        Assert.Equal(HttpStatusCode.OK, covered.StatusCode);
        Assert.Equal(("2027-03-15", false), (over.Text("on"), Movement(over).GetProperty("covered").GetBoolean()));
        Assert.Equal("2027-03-15", late.Text("reportedOn"));
        Assert.Equal(["/covered"], refused.Pointers);
    }

    [Theory]
    [BothEngines]
    public async Task A_report_covers_nothing_when_the_watch_does_not_arrive_within_thirty_days(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOver(host);
        host.SetTo(2027, 3, 12, 10);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2027-03-12", "text": "it loses" }""")).Json();

        host.SetTo(2027, 4, 12, 10);
        var awaited = await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "ours" }""")).Problem();
        var came = await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", """{ "receivedOn": "2027-04-12" }""")).Json();
        var tooLate = await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "ours" }""")).Problem();
        await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", """{ "receivedOn": "2027-04-11" }""")).Json();
        using var inTime = await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "ours" }""");

        Assert.Contains("has not arrived by 2027-04-11", awaited.Whole.GetProperty("errors")[0].Text("detail"));
        Assert.Equal("2027-04-12", came.Text("countsOn"));
        Assert.StartsWith("Not under warranty on 12 April 2027", Line(came.GetProperty("warranty"), "movement").Text("words"));
        Assert.Contains("that report covers nothing", Line(came.GetProperty("warranty"), "movement").Text("why"));
        Assert.Contains("the day it came counts", tooLate.Whole.GetProperty("errors")[0].Text("detail"));
        Assert.Equal(HttpStatusCode.OK, inTime.StatusCode);
    }

    [Fact]
    public async Task What_is_put_right_as_goodwill_is_said_and_adds_nothing()
    {
        await using var host = await Counter.Open();
        var label = await HandedOver(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2026-01-08", "receivedOn": "2026-01-10", "text": "it gains ten minutes" }""")).Json();
        await (await host.Desk.Put($"/v1/jobs/{label}/claims/1/stay", """{ "receivedOn": "2026-01-10", "returnedOn": "2026-02-02" }""")).Json();

        var decided = await (await host.Manager.PostJson(
            $"/v1/jobs/{label}/claims/1/decision", """{ "covered": false, "reason": "stood on a loudspeaker", "goodwill": "magnetism-removed" }""")).Json();

        Assert.Equal("magnetism-removed", decided.Text("goodwill"));
        Assert.Equal("Claim 1 was not covered; done free of charge all the same: magnetism removed, which adds nothing.", Line(decided.GetProperty("warranty"), "movement").Texts("steps")[^1]);
        Assert.Equal("2027-03-14", Line(decided.GetProperty("warranty"), "movement").Text("lastDay"));
    }

    [Theory]
    [BothEngines]
    public async Task What_was_sent_is_under_warranty_from_a_later_delivery_and_never_from_an_earlier_one(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOver(host, """{ "how": "dispatched" }""");
        host.SetTo(2025, 4, 3, 10);

        var early = await Delivered(host, label, """{ "on": "2025-03-18" }""");
        using var first = await host.Desk.PostJson($"/v1/jobs/{label}/delivery", """{ "at": "2025-03-27T23:30:00Z", "how": "carrier" }""", ("Idempotency-Key", "in-1"));
        using var replayed = await host.Desk.PostJson($"/v1/jobs/{label}/delivery", """{ "at": "2025-03-27T23:30:00Z", "how": "carrier" }""", ("Idempotency-Key", "in-1"));
        var later = await first.Json();
        var again = await Delivered(host, label, """{ "on": "2025-03-28", "how": "carrier" }""");
        var between = await Delivered(host, label, """{ "on": "2025-03-25", "how": "customer" }""");
        var warranty = await host.Bench.Get($"/v1/jobs/{label}/warranty?on=2027-03-28");

        Assert.Equal((false, "A later day is known already: the warranty starts on 21 March 2025."), (early.GetProperty("counts").GetBoolean(), early.Text("words")));
        Assert.Equal(("2025-03-28", true), (later.Text("on"), later.GetProperty("counts").GetBoolean()));
        Assert.Equal("2027-03-28", Line(later.GetProperty("warranty"), "movement").Text("lastDay"));
        Assert.Equal(await first.Content.ReadAsStringAsync(), await replayed.Content.ReadAsStringAsync());
        Assert.Equal(later.GetProperty("version").GetInt64(), again.GetProperty("version").GetInt64());
        Assert.Equal("A later day is known already: the warranty starts on 28 March 2025.", between.Text("words"));
        Assert.Equal(("2025-03-28", "presumed-delivered", true), (Movement(warranty).Text("startsOn"), Movement(warranty).Text("start"), Movement(warranty).GetProperty("covered").GetBoolean()));
        Assert.Equal("2025-03-28", warranty.Text("deliveredOn"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [InlineData("{}", "/on")]
    [InlineData("""{ "on": "2025-03-18", "at": "2025-03-18T10:00:00Z" }""", "/on")]
    [InlineData("""{ "on": "2025-04-04" }""", "/on")]
    [InlineData("""{ "at": "2025-04-03T23:00:00Z" }""", "/at")]
    [InlineData("""{ "on": "2025-03-13" }""", "/on")]
    [InlineData("""{ "on": "2025-03-18", "how": "pigeon" }""", "/how")]
    public async Task A_delivery_that_cannot_be_is_refused_with_the_field_named(string body, string pointer)
    {
        await using var host = await Counter.Open();
        var label = await HandedOver(host, """{ "how": "dispatched" }""");
        host.SetTo(2025, 4, 3, 10);

        var problem = await (await host.Desk.PostJson($"/v1/jobs/{label}/delivery", body)).Problem();

        Assert.Equal((422, pointer), (problem.Status, Assert.Single(problem.Pointers)));
    }

    [Fact]
    public async Task Only_what_was_sent_is_delivered()
    {
        await using var host = await Counter.Open();
        var inTheHouse = await host.TakeIn();
        var collected = await HandedOver(host);

        Assert.Equal("not-dispatched", (await (await host.Desk.PostJson($"/v1/jobs/{inTheHouse}/delivery", """{ "on": "2026-02-02" }""")).Problem()).Code);
        Assert.Equal("not-dispatched", (await (await host.Desk.PostJson($"/v1/jobs/{collected}/delivery", """{ "on": "2026-02-02" }""")).Problem()).Code);
        Assert.Equal("not-for-this-role", (await (await host.Bench.PostJson($"/v1/jobs/{collected}/delivery", """{ "on": "2026-02-02" }""")).Problem()).Code);
    }

    [Theory]
    [BothEngines]
    public async Task Each_line_is_counted_by_the_rule_set_it_names_and_what_is_decided_later_does_not_reach_it(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Save("rules", "main", """
            {"warranties":{"default":"ours","ruleSets":[
              {"id":"ours","roll":{"when":"weekend-or-holiday"},"followsTheWatch":"never","sentence":"Our promise; the law may give more."},
              {"id":"first","firstDay":"counted"}, {"id":"germany","roll":{"when":"weekend-or-holiday","calendar":"DE"}}]}}
            """);
        var variant = JsonElement.Parse(EventCodecTests.Default("variant/full-automatic.json"));
        await host.Save("variant", "full-automatic", variant.GetRawText().Replace(variant.GetProperty("warranty").GetRawText(), """
            [ {"line":"movement","term":"P24M"}, {"line":"parts-fitted","term":"P24M","rules":"first"}, {"line":"rate","term":"P3M","text":"one re-adjustment"}, {"line":"glued","term":"P12M3W","rules":"germany"}, {"line":"polish","none":true} ]
            """, StringComparison.Ordinal));
        var label = await HandedOver(host);
        await host.Save("rules", "main", """{"warranties":{"default":"first","ruleSets":[{"id":"first"},{"id":"germany"}]}}""");

        var english = await host.Desk.Get($"/v1/jobs/{label}/warranty");
        using var answer = await host.Desk.Send(HttpMethod.Get, $"/v1/jobs/{label}/warranty", null, "application/json", ("Accept-Language", German));
        var german = await answer.Json();

        // Two years after 14 Mar 2025 is a Sunday; Easter Monday of 2026 is 6 April.
        Assert.Equal(
            ["movement 2027-03-15 ours", "parts-fitted 2027-03-13 first", "rate 2025-06-16 ours", "glued 2026-04-07 germany"],
            english.GetProperty("lines").EnumerateArray().Select(line => $"{line.Text("line")} {line.Text("lastDay")} {line.Text("rules")}"));
        Assert.Equal("one re-adjustment", Line(english.GetProperty("lines"), "rate").Text("text"));
        Assert.Equal("never", Movement(english).Text("followsTheWatch"));
        Assert.Equal("Our promise; the law may give more.", english.Text("statutoryRights"));
        Assert.Equal("polish", Assert.Single(english.GetProperty("without").EnumerateArray()).Text("line"));
        Assert.Equal(
            [
                "24 Monate ab der Abgabe am 14. März 2025: letzter Tag ist der 14. März 2027.",
                "Sonntag, 14. März 2027 ist Wochenende; damit ist Montag, 15. März 2027 der letzte Tag.",
                "Feiertage waren bei der Abgabe nicht bekannt; es zählen nur Wochenenden.",
            ],
            Movement(german).Texts("steps"));
        Assert.Equal(string.Join(' ', Movement(german).Texts("steps")), Movement(german).Text("why"));
        Assert.Equal(German, Assert.Single(answer.Content.Headers.ContentLanguage));
        var left = await Assert.ThrowsAsync<ArgumentException>(() => host.Save("rules", "main", "{}"));
        Assert.Contains("/warranties/ruleSets", left.Message);
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task Rule_sets_to_begin_with_say_where_they_come_from_and_that_they_are_no_advice()
    {
        await using var host = await WorkshopHost.Start();

        var english = await host.Bench.Get("/v1/rules/presets");
        using var answer = await host.Manager.Send(HttpMethod.Get, "/v1/rules/presets", null, "application/json", ("Accept-Language", German));
        var german = await answer.Json();

        var presets = english.GetProperty("warranties").EnumerateArray().ToArray();
        Assert.Equal(6, presets.Length);
        Assert.All(presets, preset => Assert.Equal(("No advice; check before use.", "Statutory rights may give more than this; local law decides."), (preset.Text("advice"), preset.Text("statutoryRights"))));
        Assert.All(presets, preset => Assert.Equal(preset.Text("id"), preset.GetProperty("ruleSet").Text("id")));
        Assert.Equal("from-memory", presets[1].GetProperty("sources")[0].Text("howSure"));
        Assert.Equal("Keine Beratung; vor Gebrauch prüfen.", german.GetProperty("warranties")[0].Text("advice"));

        // Each can be put into the shop's rules as it stands.
        foreach (var preset in presets)
        {
            await host.Change("/v1/rules", $$$"""{"warranties":{"default":"{{{preset.Text("id")}}}","ruleSets":[{{{preset.GetProperty("ruleSet").GetRawText()}}}]}}""");
        }

        Assert.Equal("adds-twelve-months-once", (await host.Manager.Get("/v1/rules")).GetProperty("warranties").Text("default"));
    }

    // Common practice, no source; with quartz movements the shop's own guess.
    [Theory]
    [InlineData("full-automatic", "movement P24M", "parts-fitted P24M", "water-resistance P12M if water-test")]
    [InlineData("full-chronograph", "movement P24M", "parts-fitted P24M", "water-resistance P12M if water-test")]
    [InlineData("full-hand-wound", "movement P24M", "parts-fitted P24M", "water-resistance P12M if water-test")]
    [InlineData("vintage", "movement P12M", "parts-fitted P12M", "water-resistance none", "looks none")]
    [InlineData("regulation", "rate P3M: one re-adjustment")]
    [InlineData("cell-and-seals", "cell P12M", "water-resistance P12M if water-test")]
    [InlineData("quartz-exchange", "movement P24M")]
    [InlineData("quartz-train", "movement P12M")]
    [InlineData("case-or-crystal", "glued-or-screwed P3M", "water-resistance P12M if water-test", "polish none")]
    [InlineData("warranty-return", "new-work P6M")]
    public async Task The_kinds_of_work_that_are_shipped_give_these_lines(string variant, params string[] lines)
    {
        await using var host = await WorkshopHost.Start();
        var given = (await host.Manager.Get($"/v1/variants/{variant}")).GetProperty("warranty").EnumerateArray().Select(line =>
            line.Text("line")
            + (line.TryGetProperty("term", out var term) ? $" {term}" : " none")
            + (line.TryGetProperty("onlyIf", out var stage) ? $" if {stage}" : "")
            + (line.TryGetProperty("text", out var text) ? $": {text}" : ""));

        Assert.Equal(lines, given);
    }

    /// <summary>Handed over on 14 Mar 2025; now it is Tue 3 Feb 2026.</summary>
    private static async Task<string> HandedOver(WorkshopHost host, string body = """{ "how": "collected" }""")
    {
        var label = await HandOverTests.Ready(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", body)).Json();
        host.SetTo(2026, 2, 3, 10);
        return label;
    }

    private static async Task<JsonElement> Delivered(WorkshopHost host, string label, string body) => await (await host.Desk.PostJson($"/v1/jobs/{label}/delivery", body)).Json();

    private static JsonElement Movement(JsonElement warranty) => Line(warranty.GetProperty("lines"), "movement");

    private static JsonElement Line(JsonElement lines, string line) => lines.EnumerateArray().Single(one => one.Text("line") == line);
}
