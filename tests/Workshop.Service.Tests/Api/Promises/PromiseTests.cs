using System.Net;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Promises;

// The promise of a job that is approved on Monday, 15 December 2025 with twenty open days, without public holidays: 12 January 2026.
public class PromiseTests
{
    private const string Weekdays =
        """
        "week": { "monday": [{ "opens": "09:00", "closes": "18:00" }], "tuesday": [{ "opens": "09:00", "closes": "18:00" }], "wednesday": [{ "opens": "09:00", "closes": "18:00" }],
                  "thursday": [{ "opens": "09:00", "closes": "18:00" }], "friday": [{ "opens": "09:00", "closes": "18:00" }] }
        """;

    [Theory]
    [BothEngines]
    public async Task A_person_moves_a_promise_and_its_history_says_who_and_why(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Promised(host);
        host.SetTo(2026, 1, 6, 10);

        var moved = Assert.Single(await Move(host, $$"""{ "job": "{{label}}", "to": "2026-01-20", "reason": "part", "note": "the crown is on its way" }"""));
        var promise = await host.Bench.Get($"/v1/jobs/{label}/promise");
        var last = promise.GetProperty("promised")[1];

        Assert.Equal(("accepted", "2026-01-12", "2026-01-20", "2026-01-14"), (moved.Text("outcome"), moved.Text("was"), moved.Text("by"), moved.Text("target")));
        Assert.True(moved.GetProperty("worthAMessage").GetBoolean());
        Assert.Equal(("2026-01-20", "2026-01-12", "person", "mara", "part"), (last.Text("on"), last.Text("was"), last.Text("by"), last.Text("person"), last.Text("reason")));
        Assert.Equal("rule", promise.GetProperty("promised")[0].Text("by"));
        Assert.Equal(["2026-01-06", "2026-01-14"], promise.GetProperty("target").EnumerateArray().Select(one => one.Text("on")));
        Assert.StartsWith("by Tuesday 20 January 2026", promise.Text("words"), StringComparison.Ordinal);
        Assert.Equal(3, promise.GetProperty("forecast").GetProperty("doesNotKnow").GetArrayLength());
        Assert.Equal("2026-01-20", (await host.Desk.Get("/v1/jobs")).GetProperty("items")[0].Text("promisedOn"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task Each_move_is_judged_for_itself_and_one_that_is_refused_refuses_no_other(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Promised(host);
        var without = await host.TakeIn();
        host.SetTo(2026, 1, 6, 10);

        var moves = await Move(
            host,
            $$"""{ "job": "{{label}}", "to": "2026-01-17", "reason": "part" }""",
            $$"""{ "job": "{{label}}", "to": "2026-01-05", "reason": "part" }""",
            $$"""{ "job": "{{label}}", "to": "2026-01-12", "reason": "part" }""",
            $$"""{ "job": "{{without}}", "to": "2026-01-20", "reason": "part" }""",
            """{ "job": "nothing", "to": "2026-01-20", "reason": "part" }""",
            $$"""{ "job": "{{label}}", "to": "2026-01-09", "reason": "other" }""",
            $$"""{ "job": "{{label}}", "to": "2026-01-13", "reason": "absence" }""",
            $$"""{ "job": "{{label}}", "to": "2026-01-14", "reason": "urgent-work" }""",
            $$"""{ "job": "{{label}}", "to": "2026-01-14", "reason": "urgent-work", "despite": ["promise-moved-often"] }""");

        Assert.Equal(
            ["/moves/0/to", "/moves/1/to", "/moves/2/to", null, "/moves/4/job", null, null, null, null],
            moves.Select(one => one.TryGetProperty("problem", out var problem) && problem.TryGetProperty("errors", out var errors) ? errors[0].Text("pointer") : null));
        Assert.Equal("no-promise-yet", moves[3].GetProperty("problem").Text("code"));
        Assert.Equal("promise-moved-often", moves[7].GetProperty("problem").Text("code"));
        Assert.Equal(
            ["refused", "refused", "refused", "refused", "refused", "accepted", "accepted", "refused", "accepted"], moves.Select(one => one.Text("outcome")));
        Assert.Equal("2026-01-14", (await host.Desk.Get($"/v1/jobs/{label}")).GetProperty("promise").Text("on"));
    }

    [Fact]
    public async Task A_move_sent_twice_is_one_and_a_bench_moves_none()
    {
        await using var host = await Counter.Open();
        var label = await Promised(host);
        host.SetTo(2026, 1, 6, 10);
        var body = Body($$"""{ "job": "{{label}}", "to": "2026-01-20", "reason": "part" }""");

        using var first = await host.Desk.Send(HttpMethod.Post, "/v1/promises/moves", body, "application/json", ("Idempotency-Key", "move-1"));
        using var again = await host.Desk.Send(HttpMethod.Post, "/v1/promises/moves", body, "application/json", ("Idempotency-Key", "move-1"));

        Assert.Equal((await first.Json()).ToString(), (await again.Json()).ToString());
        Assert.Equal(2, (await host.Desk.Get($"/v1/jobs/{label}/promise")).GetProperty("promised").GetArrayLength());
        using var bench = await host.Bench.PostJson("/v1/promises/moves", body);
        Assert.Equal(HttpStatusCode.Forbidden, bench.StatusCode);
    }

    [Theory]
    [BothEngines]
    public async Task Every_date_that_is_said_leaves_a_message_in_the_same_turn_and_none_names_anybody(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Promised(host);
        host.SetTo(2025, 12, 16, 10);
        await host.Say(label, "hold.placed", """{ "hold": "customer" }""");
        host.SetTo(2025, 12, 17, 10);
        await host.Say(label, "hold.lifted", """{ "hold": "customer" }""");
        host.SetTo(2026, 1, 6, 10);
        await Move(host, $$"""{ "job": "{{label}}", "to": "2026-01-20", "reason": "part" }""");

        var bodies = (await host.Services.GetRequiredService<Reader>().Query<string>("select body from outbox where type in ('promise.made', 'promise.moved') order by created, id"))
            .Select(body => JsonDocument.Parse(body).RootElement).ToArray();

        Assert.Equal([("2026-01-12", null, null), ("2026-01-13", "2026-01-12", "waited-for-you"), ("2026-01-20", "2026-01-13", "part")], bodies.Select(one => (
            one.Text("by"), one.TryGetProperty("was", out var was) ? was.GetString() : null, one.TryGetProperty("reason", out var reason) ? reason.GetString() : null)));
        Assert.Equal([false, true], bodies.Skip(1).Select(one => one.GetProperty("worthAMessage").GetBoolean()));
        Assert.Equal("2026-01-06", bodies[0].Text("mostLikely"));
        Assert.All(bodies, one =>
        {
            Assert.Equal(label, one.Text("job"));
            Assert.DoesNotContain("Marlow", one.ToString(), StringComparison.Ordinal);
            Assert.Empty(one.EnumerateObject().Select(member => member.Name).Except(["job", "version", "at", "by", "was", "reason", "mostLikely", "worthAMessage", "public"]));
        });
    }

    [Theory]
    [BothEngines]
    public async Task A_closure_added_later_moves_the_forecast_and_puts_the_job_at_risk_while_the_promise_stands(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Promised(host);
        var other = await Approved(host);
        host.SetTo(2025, 12, 16, 10);
        var before = (await host.Desk.Get($"/v1/jobs/{label}")).GetProperty("promise");
        Assert.False(before.TryGetProperty("atRisk", out _));
        Assert.Equal(0, (await host.Desk.Get("/v1/jobs?atRisk=true")).GetProperty("items").GetArrayLength());
        await Move(host, $$"""{ "job": "{{other}}", "to": "2026-03-31", "reason": "other" }""");

        using var calendar = await host.Manager.GetAsync("/v1/calendar");
        using var put = await host.Manager.Put(
            "/v1/calendar", $$"""{ {{Weekdays}}, "closures": [ { "from": "2025-12-18", "through": "2026-01-09", "reason": "the roof" } ] }""", calendar.Headers.ETag!.ToString());
        Assert.True(put.IsSuccessStatusCode, await put.Content.ReadAsStringAsync());

        var after = (await host.Desk.Get($"/v1/jobs/{label}")).GetProperty("promise");
        var german = await (await host.Desk.Send(HttpMethod.Get, $"/v1/jobs/{label}/promise", null, "application/json", ("Accept-Language", "de"))).Json();

        Assert.Equal("2026-01-12", after.Text("on"));
        Assert.True(string.CompareOrdinal(after.Text("forecast"), "2026-01-12") > 0);
        Assert.Equal("work-left", after.GetProperty("atRisk").Text("why"));
        Assert.Contains("die restliche Arbeit", german.GetProperty("atRisk").Text("words"), StringComparison.Ordinal);
        Assert.Equal("bis Montag, 12. Januar 2026", german.Text("words"));
        Assert.Equal([label], (await host.Desk.Get("/v1/jobs?atRisk=true")).GetProperty("items").EnumerateArray().Select(one => one.Text("label")));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_list_of_jobs_at_risk_is_asked_for_with_true()
    {
        await using var host = await Counter.Open();

        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await host.Desk.GetAsync("/v1/jobs?atRisk=false")).StatusCode);
    }

    [Fact]
    public async Task Stops_say_how_many_days_they_took()
    {
        await using var host = await Counter.Open();
        var label = await Promised(host);
        host.SetTo(2025, 12, 16, 10);
        await host.Say(label, "hold.placed", """{ "hold": "customer" }""");
        host.SetTo(2025, 12, 19, 10);
        await host.Say(label, "hold.lifted", """{ "hold": "customer" }""");
        await host.Say(label, "hold.placed", """{ "hold": "payment" }""");

        var stops = (await host.Desk.Get($"/v1/jobs/{label}/promise")).GetProperty("stops").EnumerateArray().ToArray();

        Assert.Equal([("customer", 3, true), ("payment", 0, false)], stops.Select(one => (one.Text("reason"), one.GetProperty("countedDays").GetInt32(), one.TryGetProperty("lifted", out _))));
    }

    private static string Body(params string[] moves) => $$"""{ "moves": [ {{string.Join(", ", moves)}} ], "person": "mara" }""";

    private static async Task<JsonElement[]> Move(WorkshopHost host, params string[] moves)
    {
        using var answer = await host.Desk.PostJson("/v1/promises/moves", Body(moves));
        return [.. (await answer.Json()).GetProperty("moves").EnumerateArray()];
    }

    private static async Task<string> Promised(WorkshopHost host)
    {
        host.SetTo(2025, 12, 11, 10);
        await host.Save("calendar", "main", $$"""{ {{Weekdays}} }""");
        return await Approved(host);
    }

    private static async Task<string> Approved(WorkshopHost host)
    {
        host.SetTo(2025, 12, 15, 11);
        var label = await host.TakeIn();
        await host.Approve(label);
        return label;
    }
}
