using System.Net;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Takedown;

/// <summary>A movement comes apart at the bench and is read backwards for the rebuild.</summary>
public class ReverseListTests
{
    private const string Calibre =
        """
        { "id": "of-9", "maker": "Orrery & Finch", "name": "OF 9", "kind": "automatic", "vibrationsPerHour": 28800,
          "plan": { "systems": [], "steps": [], "orders": [ { "first": ["cannon-pinion"], "then": ["centre-wheel"], "strength": "stop" } ],
                    "oilPlan": [ { "system": "escapement", "part": "pallets", "place": "pallet stones", "lubricant": "thick oil" } ],
                    "wearPoints": [ { "system": "power-and-train", "part": "barrel", "look": "bore ovalised?" } ],
                    "interchange": [ { "part": "stem", "with": "OF 8", "direction": "theirs-fits-ours" } ] } }
        """;

    [Theory]
    [BothEngines]
    public async Task The_reverse_list_is_exactly_reversed_with_late_photos_in_place(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Save("calibre", "of-9", Calibre);
        var job = await host.TakeIn();
        await host.Approve(job);
        var photo = Pictures.TwoHalves();
        await host.Say(job, "takedown.step", """{ "step": 1, "system": "dial-side", "part": "hands", "text": "hands off, film under the lever", "holder": "4", "tray": "12", "person": "mara" }""");
        await host.Say(job, "takedown.step", """{ "step": 2, "system": "automatic", "part": "automatic-bridge", "text": "winding works off", "person": "mara" }""");

        // The pallets are reached for before the spring is let down.
        var early = await (await host.TrySay(job, "takedown.step", """{ "step": 4, "system": "escapement", "part": "pallets", "text": "pallets out", "person": "mara" }""")).Problem();
        var wheel = await (await host.TrySay(job, "takedown.step", """{ "step": 4, "system": "power-and-train", "part": "centre-wheel", "text": "centre wheel", "person": "mara" }""")).Problem();
        await host.Say(job, "takedown.let-down", """{ "step": 3, "system": "power-and-train", "person": "mara" }""");
        await host.Say(
            job, "takedown.step",
            $$"""
            { "step": 4, "system": "escapement", "part": "pallets", "text": "pallets out", "caution": "spring-tension", "photos": ["{{Pictures.HashOf(photo)}}"],
              "screws": [ { "place": "pallet bridge", "count": 2, "head": "flush", "finish": "polished", "lengthMillimetres": 1.4 } ], "person": "mara" }
            """);
        await host.Say(job, "takedown.step", """{ "step": 1.5, "system": "dial-side", "part": "dial", "text": "dial <off>", "person": "mara" }""");
        var finding = await host.Say(job, "finding.recorded", """{ "system": "escapement", "part": "pallets", "condition": "stone loose", "severity": "must", "asReceived": true, "person": "mara" }""");

        var before = await host.Bench.Get($"/v1/jobs/{job}/reverse-list");
        await (await host.Bench.PutPhoto(job, photo)).Json();
        var after = await host.Bench.Get($"/v1/jobs/{job}/reverse-list");
        var steps = after.GetProperty("sections").EnumerateArray().SelectMany(section => section.GetProperty("steps").EnumerateArray()).ToArray();
        var pallets = steps[0];

        Assert.Equal((409, "takedown-order", "let-down"), (early.Status, early.Code, early.Whole.Text("missing")));
        Assert.Equal("cannon-pinion", wheel.Whole.Text("missing"));
        Assert.Contains("another", finding.GetProperty("say").Text("more"));
        Assert.Equal(["escapement", "power-and-train", "automatic", "dial-side"], after.GetProperty("sections").EnumerateArray().Select(section => section.Text("system")));
        Assert.Equal([4m, 3m, 2m, 1.5m, 1m], steps.Select(step => step.GetProperty("step").GetDecimal()));
        Assert.Equal(("Goes in last, under tension", 1, 0), (pallets.Text("caution"), before.GetProperty("awaited").GetInt32(), after.GetProperty("awaited").GetInt32()));
        Assert.Equal((Pictures.HashOf(photo), false), (pallets.GetProperty("photos")[0].Text("sha256"), pallets.GetProperty("photos")[0].GetProperty("awaited").GetBoolean()));
        Assert.Equal(HttpStatusCode.OK, (await host.Bench.GetAsync(pallets.GetProperty("photos")[0].Text("thumb"))).StatusCode);
        Assert.Equal("thick oil", pallets.GetProperty("oil")[0].Text("lubricant"));
        Assert.Equal((1.4m, "flush"), (pallets.GetProperty("screws")[0].GetProperty("lengthMillimetres").GetDecimal(), pallets.GetProperty("screws")[0].Text("head")));
        Assert.Equal("stone loose", after.GetProperty("sections")[0].GetProperty("findings")[0].Text("condition"));
        Assert.Equal("Dial first, then hands", steps[3].Text("order"));
        Assert.Equal(("4", "12"), (after.Text("holder"), after.Text("tray")));

        // The same on paper, in German, with the photo inside and nothing to be loaded or run.
        using var asked = new HttpRequestMessage(HttpMethod.Get, $"/v1/jobs/{job}/reverse-list");
        asked.Headers.Accept.ParseAdd("text/html");
        asked.Headers.AcceptLanguage.ParseAdd("de");
        using var page = await host.Bench.SendAsync(asked);
        var html = await page.Content.ReadAsStringAsync();
        Assert.Equal("text/html", page.Content.Headers.ContentType!.MediaType);
        Assert.Contains("Zuletzt einsetzen", html);
        Assert.Contains("data:image/jpeg;base64,", html);
        Assert.Contains("dial &lt;off&gt;", html);
        Assert.DoesNotContain("<script", html);
        Assert.DoesNotContain("http", html);
        Assert.True(html.IndexOf("Anker", StringComparison.Ordinal) < html.IndexOf("Automatikbr", StringComparison.Ordinal));

        // What is left out of it: who brought the watch.
        Assert.DoesNotContain("Marlow", html);
        Assert.DoesNotContain("Marlow", after.GetRawText());
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_takedown_is_saved_as_the_plan_of_its_calibre_and_the_next_one_is_compared_with_it(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var first = await host.TakeIn();
        await host.Approve(first);
        await TakeDown(host, first, "hands", "dial", "automatic-bridge");
        var nowhere = await (await host.Manager.PostJson($"/v1/jobs/{first}/takedown/plan", "{}")).Problem();
        await host.Save("calibre", "of-9", Calibre);

        var unseen = await (await host.Manager.PostJson($"/v1/jobs/{first}/takedown/plan", "{}")).Problem();
        using var document = await host.Manager.GetAsync("/v1/calibres/of-9");
        var saved = await (await host.Manager.PostJson($"/v1/jobs/{first}/takedown/plan", "{}", [("If-Match", document.Headers.ETag!.Tag)])).Json();
        var stale = await (await host.Manager.PostJson($"/v1/jobs/{first}/takedown/plan", "{}", [("If-Match", document.Headers.ETag!.Tag)])).Problem();
        var bench = await (await host.Bench.PostJson($"/v1/jobs/{first}/takedown/plan", "{}")).Problem();
        var agrees = await host.Bench.Get($"/v1/jobs/{first}/takedown");

        var next = await host.TakeIn(Counter.WholeIntake.Replace("20-417", "20-418").Replace("M 77.1", "M 77.2"));
        await host.Approve(next);
        await TakeDown(host, next, "hands", "automatic-bridge", "stem");
        var differs = await host.Bench.Get($"/v1/jobs/{next}/takedown");

        Assert.Equal(["no-calibre", "if-match-needed", "changed-meanwhile", "not-for-this-role"], new[] { nowhere, unseen, stale, bench }.Select(one => one.Code));
        var plan = saved.GetProperty("document").GetProperty("plan");
        Assert.Equal(["hands", "dial", "automatic-bridge"], plan.GetProperty("steps").EnumerateArray().Select(step => step.Text("part")));
        Assert.Equal(1, plan.GetProperty("oilPlan").GetArrayLength());
        Assert.Empty(agrees.GetProperty("differences").EnumerateArray());
        Assert.Equal(
            [("missing-step", "dial"), ("extra-step", "stem")],
            differs.GetProperty("differences").EnumerateArray().Select(one => (one.Text("kind"), one.Text("what"))));
        Assert.Equal(("of-9", "automatic", 4m), (differs.Text("calibre"), differs.Text("kind"), differs.GetProperty("nextStep").GetDecimal()));
        Assert.Equal("bore ovalised?", differs.GetProperty("wearPoints")[0].Text("look"));
    }

    [Fact]
    public async Task A_calibre_whose_plan_cannot_be_is_refused_with_every_place_named()
    {
        await using var host = await Counter.Open();

        var problem = await (await host.Manager.Put(
            "/v1/calibres/of-9",
            """
            { "maker": "Orrery & Finch", "kind": "automatic", "plan": { "steps": [ { "text": "wheel", "part": "centre-wheel", "needs": ["cannon-pinion"] } ],
              "groups": [ { "group": "train", "count": 9 }, { "group": "train", "count": 8 } ], "screws": [ { "place": "train bridge", "count": 60 } ] } }
            """)).Problem();

        Assert.Equal(["/plan/steps/0/needs/0", "/plan/groups/1/group", "/plan/screws/0/count"], problem.Pointers);
    }

    [Fact]
    public async Task Takedown_and_inspection_end_only_when_what_was_begun_is_complete()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        await host.Approve(job);
        await TakeDown(host, job, "hands", "automatic-bridge");

        var notLetDown = await (await host.TrySay(job, "stage.finished", """{ "stage": "takedown", "person": "mara" }""")).Problem();
        await host.Say(job, "takedown.let-down", """{ "step": 9, "person": "mara" }""");
        await host.Say(job, "stage.finished", """{ "stage": "takedown", "person": "mara" }""");
        await host.Say(job, "finding.recorded", """{ "system": "keyless", "part": "setting-lever", "condition": "nib worn", "severity": "must", "person": "mara" }""");
        await host.Say(job, "stage.finished", """{ "stage": "cleaning", "person": "mara" }""");
        var open = await (await host.TrySay(job, "stage.finished", """{ "stage": "inspection", "person": "mara" }""")).Problem();
        await host.Say(job, "inspection.recorded", """{ "system": "keyless", "part": "setting-lever", "result": "ok", "person": "mara" }""");
        await host.Say(job, "stage.finished", """{ "stage": "inspection", "person": "mara" }""");

        Assert.Equal(["let-down", "must-findings"], new[] { notLetDown, open }.Select(one => one.Code));
        Assert.Equal("setting-lever: nib worn", open.Whole.Text("findings"));
    }

    private static async Task TakeDown(WorkshopHost host, string job, params string[] parts)
    {
        foreach (var (i, part) in parts.Index())
        {
            await host.Say(job, "takedown.step", $$"""{ "step": {{i + 1}}, "part": "{{part}}", "text": "{{part}} off", "person": "mara" }""");
        }
    }
}
