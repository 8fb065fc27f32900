using System.Net;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Warranties;

public class HandOverTests
{
    private const string Collected = """{ "how": "collected", "identitySeen": true }""";

    [Theory]
    [BothEngines]
    public async Task The_watch_goes_home_and_its_warranty_begins(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Ready(host);

        using var answer = await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", Collected, ("Idempotency-Key", "out-1"));
        var given = await answer.Json();
        using var replayed = await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", Collected, ("Idempotency-Key", "out-1"));
        var twice = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", Collected)).Problem();
        var job = await host.Desk.Get($"/v1/jobs/{label}");

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal("2025-03-14", given.Text("on"));
        Assert.True(given.GetProperty("handedOver").GetBoolean());
        Assert.Equal(["movement", "case", "dial-and-hands", "bracelet", "links"], given.Texts("pieces"));
        Assert.Empty(given.Texts("stillHere"));

        // Handed over 14 Mar 2025: 24 months for the movement, 12 for water resistance, the like-numbered day included.
        Assert.Equal(["movement 2027-03-14", "parts-fitted 2027-03-14", "water-resistance 2026-03-14"], given.GetProperty("warranty").EnumerateArray().Select(line => $"{line.Text("line")} {line.Text("lastDay")}"));
        Assert.Equal("Statutory rights may give more than this; local law decides.", given.Text("statutoryRights"));
        Assert.Equal(await answer.Content.ReadAsStringAsync(), await replayed.Content.ReadAsStringAsync());
        Assert.Equal("handed-over", twice.Code);
        Assert.Empty(job.GetProperty("allowedNext").EnumerateArray());
        Assert.All(job.GetProperty("pieces").EnumerateArray(), piece => Assert.Equal("customer", piece.Text("holder")));
        Assert.Equal([label], (await host.Desk.Get("/v1/jobs?inHouse=false&open=true")).GetProperty("items").EnumerateArray().Select(one => one.Text("label")));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task Nothing_leaves_before_it_is_controlled_and_settled(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2025, 3, 10, 10);
        var label = await host.TakeIn();
        await host.Approve(label);

        var early = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected", "despite": ["needs/final-control", "needs/settlement"] }""")).Problem();
        await host.Service(label);
        var unpaid = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", Collected)).Problem();
        await host.Settle(label);
        await host.Say(label, "hold.placed", """{ "hold": "payment" }""");
        var held = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", Collected)).Problem();

        Assert.Equal(["needs/final-control", "needs/settlement"], early.Whole.GetProperty("against").EnumerateArray().Select(one => one.Text("gate")));
        Assert.All(early.Whole.GetProperty("against").EnumerateArray(), one => Assert.Equal("stop", one.Text("strength")));
        Assert.Equal(["needs/settlement"], unpaid.Whole.GetProperty("against").EnumerateArray().Select(one => one.Text("gate")));
        Assert.Equal("hold/payment", held.Whole.Text("gate"));
    }

    [Theory]
    [BothEngines]
    public async Task The_warranty_begins_with_the_last_piece(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Ready(host);

        var part = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected", "pieces": ["links"] }""")).Json();
        var again = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected", "pieces": ["links"] }""")).Problem();
        host.SetTo(2025, 3, 17, 10);
        var rest = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "dispatched" }""")).Json();

        Assert.Equal(["links"], part.Texts("pieces"));
        Assert.False(part.GetProperty("handedOver").GetBoolean());
        Assert.Empty(part.GetProperty("warranty").EnumerateArray());
        Assert.Equal(["/pieces/0"], again.Pointers);
        Assert.True(rest.GetProperty("handedOver").GetBoolean());

        // The last piece was sent: presumed delivered on 24 Mar 2025.
        Assert.Equal("2027-03-24", rest.GetProperty("warranty")[0].Text("lastDay"));
    }

    [Theory]
    [BothEngines]
    public async Task A_hand_over_told_later_counts_on_its_own_day(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Ready(host);
        host.SetTo(2025, 3, 17, 9);

        // 23:30 of the 14th in Zurich is 22:30Z: the day is the workshop's own.
        var given = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected", "at": "2025-03-14T22:30:00Z" }""")).Json();

        Assert.Equal("2025-03-14", given.Text("on"));
        Assert.Equal("accepted", given.Text("outcome"));
        Assert.Equal(["late"], given.Texts("flags"));
    }

    [Theory]
    [BothEngines]
    public async Task What_has_left_already_is_kept_and_waits_for_a_manager_when_a_gate_was_against_it(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2025, 3, 12, 10);
        var label = await host.TakeIn();
        await host.Approve(label);
        await host.Service(label);
        host.Clock.Advance(Duration.FromHours(3));
        var at = host.Clock.GetCurrentInstant() - Duration.FromHours(1);

        var told = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", $$"""{ "how": "collected", "at": "{{at}}" }""")).Json();
        var job = await host.Manager.Get($"/v1/jobs/{label}");

        Assert.Equal("noted", told.Text("outcome"));
        Assert.Contains("for-review", told.Texts("flags"));
        Assert.Equal(["needs/settlement"], told.GetProperty("against").EnumerateArray().Select(one => one.Text("gate")));
        Assert.False(told.GetProperty("handedOver").GetBoolean());
        Assert.Equal("job.handed-over", Assert.Single(job.GetProperty("reviews").EnumerateArray()).Text("type"));
        Assert.Equal("query", Assert.Single(job.GetProperty("holds").EnumerateArray()).Text("reason"));
    }

    [Theory]
    [InlineData("""{ }""", "/how")]
    [InlineData("""{ "how": "thrown" }""", "/how")]
    [InlineData("""{ "how": "collected", "at": "2025-03-14T19:00:00+01:00" }""", "/at")]
    [InlineData("""{ "how": "collected", "at": "2025-03-13T10:30:00+01:00" }""", "/at")]
    [InlineData("""{ "how": "collected", "at": "2024-03-13T10:30:00+01:00" }""", "/at")]
    [InlineData("""{ "how": "collected", "pieces": [] }""", "/pieces")]
    [InlineData("""{ "how": "collected", "pieces": ["crown"] }""", "/pieces/0")]
    [InlineData("""{ "how": "collected", "to": "Canary-Name" }""", "/to")]
    [InlineData("""{ "how": "collected", "to": "customers/nobody" }""", "/to")]
    [InlineData("""{ "how": "collected", "identitySeen": "yes" }""", "/identitySeen")]
    public async Task A_hand_over_that_cannot_be_is_refused_with_the_field_named(string body, string pointer)
    {
        await using var host = await Counter.Open();
        var label = await Ready(host);

        var problem = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", body)).Problem();

        Assert.Equal(422, problem.Status);
        Assert.Equal([pointer], problem.Pointers);
    }

    [Theory]
    [BothEngines]
    public async Task A_watch_returned_unrepaired_goes_without_a_warranty(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        await host.Say(label, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(label);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": false }""")).Json();

        var early = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", Collected)).Problem();
        await host.Say(label, "stage.finished", """{ "stage": "return-unrepaired", "person": "mara" }""");
        var given = await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", Collected)).Json();
        var warranty = await host.Desk.Get($"/v1/jobs/{label}/warranty");

        Assert.Equal("needs/return-unrepaired", early.Whole.Text("gate"));
        Assert.True(given.GetProperty("handedOver").GetBoolean());
        Assert.Empty(given.GetProperty("warranty").EnumerateArray());
        Assert.Empty(warranty.GetProperty("lines").EnumerateArray());
    }

    [Theory]
    [BothEngines]
    public async Task Nobody_approves_work_on_a_watch_that_is_gone(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Ready(host);
        await host.SendQuote(label);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", Collected)).Json();

        var answered = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/2/answer", """{ "accepted": true }""")).Problem();
        var quoted = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes", """{ "lines": [ { "text": "a", "amountMinor": 1 } ], "currency": "GBP" }""")).Problem();

        Assert.Equal("handed-over", answered.Code);
        Assert.Equal("handed-over", quoted.Code);
    }

    [Fact]
    public async Task Somebody_else_who_is_known_may_fetch_it()
    {
        await using var host = await Counter.Open();
        var label = await Ready(host);
        var other = await (await host.Desk.PostJson("/v1/jobs", """{ "customer": { "name": "Sister", "telephone": "01632 960 200" }, "watch": { "words": "clock" } }""")).Json();

        using var given = await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", $$"""{ "how": "collected", "to": "customers/{{other.Text("customer")}}" }""");

        Assert.Equal(HttpStatusCode.OK, given.StatusCode);
    }

    [Fact]
    public async Task Two_people_at_the_counter_give_it_out_once()
    {
        await using var host = await Counter.Open();
        var label = await Ready(host);

        var answers = await Task.WhenAll(Enumerable.Range(0, 8).Select(i => (i % 2 == 0 ? host.Desk : host.Manager).PostJson($"/v1/jobs/{label}/hand-over", Collected)));

        Assert.Single(answers, answer => answer.StatusCode == HttpStatusCode.OK);
        Assert.Equal(7, answers.Count(answer => answer.StatusCode == HttpStatusCode.Conflict));
    }

    /// <summary>Controlled on Fri 14 Mar 2025 about 11:00; now it is 16:00 of that day.</summary>
    internal static async Task<string> Ready(WorkshopHost host)
    {
        host.SetTo(2025, 3, 13, 10);
        var label = await host.TakeIn();
        await host.Approve(label);
        await host.Service(label);
        await host.Settle(label);
        host.SetTo(2025, 3, 14, 16);
        return label;
    }
}
