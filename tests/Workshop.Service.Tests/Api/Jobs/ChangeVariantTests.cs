using System.Net;
using Workshop.Core.Labels;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

public class ChangeVariantTests
{
    private const string ToAService = """{ "variant": "full-automatic", "reason": "216 degrees dial up: the oil is dry", "person": "otto" }""";

    [Theory]
    [BothEngines]
    public async Task A_regulation_becomes_a_service_in_the_middle_of_the_work(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Regulation(host);

        using var answer = await host.Manager.PostJson($"/v1/jobs/{label}/variant", ToAService, ("Idempotency-Key", "more"));
        using var again = await host.Manager.PostJson($"/v1/jobs/{label}/variant", ToAService, ("Idempotency-Key", "more"));
        var changed = await answer.Json();
        var job = await host.Desk.Get($"/v1/jobs/{label}");
        var held = await (await host.TrySay(label, "stage.started", """{ "stage": "takedown", "person": "mara" }""")).Problem();

        Assert.Equal(("full-automatic", "regulation", "quote"), (changed.Text("variant"), changed.Text("was"), changed.Text("stage")));
        Assert.Equal(["intake", "diagnosis"], changed.Texts("kept"));
        Assert.Equal(["takedown", "cleaning", "inspection", "rebuild", "case-strip", "case-work", "gaskets", "dial-and-hands", "water-test", "reserve-and-functions"], changed.Texts("added"));
        Assert.Equal(["quote", "regulation"], changed.Texts("again"));
        Assert.Contains("polish case-work", changed.GetProperty("missing").EnumerateArray().Select(one => $"{one.Text("member")} {one.Text("neededFor")}"));
        Assert.True(changed.GetProperty("awaitsApproval").GetBoolean());
        Assert.Equal(["approval"], job.GetProperty("holds").EnumerateArray().Select(one => one.Text("reason")));
        Assert.Equal("full-automatic", job.Text("variant"));
        Assert.Equal([label], (await host.Desk.Get("/v1/jobs?variant=full-automatic")).GetProperty("items").EnumerateArray().Select(one => one.Text("label")));
        Assert.Equal("hold", held.Code);
        Assert.Equal(await answer.Content.ReadAsStringAsync(), await again.Content.ReadAsStringAsync());
        Assert.Equal("true", again.Headers.GetValues("Idempotency-Replayed").Single());
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task The_answer_to_the_new_quote_moves_the_date_and_lets_the_work_go_on()
    {
        await using var host = await Counter.Open();
        var label = await Regulation(host);
        var before = (await host.Desk.Get($"/v1/jobs/{label}")).GetProperty("promise").Text("on");
        await (await host.Manager.PostJson($"/v1/jobs/{label}/variant", ToAService)).Json();
        host.SetTo(2026, 3, 5, 10);

        await host.SendQuote(label);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/2/answer", """{ "accepted": true }""")).Json();
        var job = await host.Desk.Get($"/v1/jobs/{label}");
        await host.Say(label, "stage.started", """{ "stage": "takedown", "person": "mara" }""");

        // Monday and four open days; then Thursday and twenty.
        Assert.Equal("2026-03-06", before);
        Assert.Equal("2026-04-02", job.GetProperty("promise").Text("on"));
        Assert.Equal("2026-03-05", job.GetProperty("promise").Text("approvedOn"));
        Assert.Equal(["2026-03-06", "2026-04-02"], job.GetProperty("promise").GetProperty("history").EnumerateArray().Select(said => said.Text("on")));
        Assert.Equal("supplementary-work", job.GetProperty("promise").GetProperty("history")[1].Text("reason"));
        Assert.Empty(job.GetProperty("holds").EnumerateArray());
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [InlineData("""{ "variant": "regulation", "reason": "again" }""", "/variant")]
    [InlineData("""{ "variant": "tea", "reason": "a break" }""", "/variant")]
    [InlineData("""{ "variant": "warranty-return", "reason": "it came back" }""", "/variant")]
    [InlineData("""{ "variant": "full-automatic", "reason": " " }""", "/reason")]
    [InlineData("""{ "variant": "full-automatic" }""", "/reason")]
    [InlineData("""{ "variant": "full-automatic", "reason": "more", "colour": "red" }""", "/colour")]
    public async Task What_is_wrong_with_a_change_is_named(string body, string pointer)
    {
        await using var host = await Counter.Open();
        var label = await Regulation(host);

        var problem = await (await host.Manager.PostJson($"/v1/jobs/{label}/variant", body)).Problem();

        Assert.Equal((422, pointer), (problem.Status, Assert.Single(problem.Pointers)));
    }

    [Fact]
    public async Task A_manager_alone_makes_it_another_kind_of_work()
    {
        await using var host = await Counter.Open();
        var label = await Regulation(host);

        foreach (var client in (HttpClient[])[host.Desk, host.Bench])
        {
            using var refused = await client.PostJson($"/v1/jobs/{label}/variant", ToAService);
            Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        }

        using var nobody = await host.Manager.PostJson($"/v1/jobs/{Label.Complete(LabelKind.Job, [1, 2, 3, 4, 5, 6])}/variant", ToAService);
        Assert.Equal(HttpStatusCode.NotFound, nobody.StatusCode);
    }

    [Fact]
    public async Task A_movement_in_parts_asks_before_it_is_left_so()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();
        await host.Approve(label);
        await host.Say(label, "stage.finished", """{ "stage": "takedown", "person": "mara" }""");

        var asked = await (await host.Manager.PostJson($"/v1/jobs/{label}/variant", """{ "variant": "case-or-crystal", "reason": "only the glass" }""")).Problem();
        using var despite = await host.Manager.PostJson($"/v1/jobs/{label}/variant", """{ "variant": "case-or-crystal", "reason": "only the glass", "despite": [ "movement-together" ] }""");

        Assert.Equal(("movement-together", "ask"), (asked.Code, asked.Whole.Text("strength")));
        Assert.Equal(HttpStatusCode.OK, despite.StatusCode);
    }

    [Fact]
    public async Task A_claim_that_is_not_covered_becomes_work_with_a_quote()
    {
        await using var host = await Counter.Open();
        host.SetTo(2025, 3, 10, 10);
        var old = await host.TakeIn();
        await host.Approve(old);
        await host.Service(old);
        await host.Settle(old);
        await (await host.Desk.PostJson($"/v1/jobs/{old}/hand-over", """{ "how": "collected" }""")).Json();
        await (await host.Desk.PostJson($"/v1/jobs/{old}/claims", """{ "reportedOn": "2025-03-11", "text": "it fell" }""")).Json();
        var back = await host.TakeIn(Counter.WholeIntake.Replace("\"variant\": \"full-automatic\"", $"\"warrantyOf\": \"{old}\"", StringComparison.Ordinal));
        await (await host.Manager.PostJson($"/v1/jobs/{old}/claims/1/decision", """{ "covered": false, "reason": "a blow" }""")).Json();

        var changed = await (await host.Manager.PostJson($"/v1/jobs/{back}/variant", """{ "variant": "full-automatic", "reason": "not covered" }""")).Json();

        Assert.True(changed.GetProperty("awaitsApproval").GetBoolean());
        Assert.Contains("quote", (await host.Desk.Get($"/v1/jobs/{back}")).GetProperty("stages").EnumerateArray().Select(one => one.Text("stage")));
    }

    [Fact]
    public async Task A_bench_is_told_in_its_language_what_kind_of_work_it_is()
    {
        await using var host = await Counter.Open();
        var label = await Regulation(host);
        host.Bench.DefaultRequestHeaders.AcceptLanguage.ParseAdd("de");

        using var answer = await host.TrySay(label, "stage.started", """{ "stage": "rebuild", "person": "mara" }""", host.Bench, "/devices/bench-1/1");
        var problem = await answer.Problem();

        Assert.Equal(("in-route", "Nur Regulieren schließt aus: Zusammenbau", "regulation"), (problem.Code, problem.Whole.GetProperty("say").Text("line"), problem.Whole.Text("variant")));
        Assert.Equal("die Leitung, mit der Arbeitsart Vollrevision Automatik", problem.Whole.Text("helps"));
    }

    /// <summary>Taken in on Monday, 2 March 2026 for a regulation that is done; nobody asked about polish.</summary>
    private static async Task<string> Regulation(WorkshopHost host)
    {
        var label = await host.TakeIn(Counter.WholeIntake
            .Replace("\"variant\": \"full-automatic\"", "\"variant\": \"regulation\"", StringComparison.Ordinal)
            .Replace("\"polish\": \"no\", ", "", StringComparison.Ordinal));
        await host.Approve(label);
        await host.Say(label, "rate-set.recorded", """{ "windState": "full", "readings": [ { "position": "dial-up", "ratePerDaySeconds": 4, "amplitudeDegrees": 262 } ], "person": "mara" }""");
        await host.Say(label, "stage.finished", """{ "stage": "regulation", "person": "mara" }""");
        return label;
    }
}
