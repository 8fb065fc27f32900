using System.Net;
using System.Text.Json;
using NodaTime;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

public class ReadJobTests
{
    /// <summary>Every private member of the watch's whole life holds one of these.</summary>
    private static readonly string[] Canaries =
        ["Canary-Name", "01632960555", "canary@mail.example", "Canary-Address", "7654321", "Canary-Remark", "Canary-Accessory", "Canary-Line", "9876543", "Canary-Claim", "Canary-Reason"];

    [Theory]
    [BothEngines]
    public async Task Bench_and_wall_read_everything_about_the_work_and_nothing_by_which_a_burglar_would_choose(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2025, 3, 12, 10);
        var label = await host.TakeIn(
            """
            { "customer": { "name": "Canary-Name", "telephone": "01632960555", "email": "canary@mail.example", "address": "Canary-Address" },
              "watch": { "maker": "Orrery & Finch", "caseSerial": "20-417", "movementNumber": "M 77.1", "calibre": { "kind": "automatic" } },
              "declaredValueMinor": 7654321, "currency": "GBP", "wishes": { "polish": "no" }, "condition": "scratched", "remarks": "Canary-Remark",
              "terms": { "acceptedOn": "2025-03-12" }, "accessories": [ { "kind": "bracelet", "note": "Canary-Accessory" } ] }
            """);
        await host.Say(label, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes", """{ "lines": [ { "text": "Canary-Line", "amountMinor": 9876543 } ], "currency": "GBP" }""")).Json();
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true }""")).Json();
        await host.Service(label);
        await host.Settle(label);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected" }""")).Json();
        host.Clock.Advance(Duration.FromDays(3));
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2025-03-15", "text": "Canary-Claim" }""")).Json();
        await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "Canary-Reason" }""")).Json();
        string[] addresses =
        [
            $"/v1/jobs/{label}", "/v1/jobs", $"/v1/jobs/{label}/history", $"/v1/jobs/{label}/rate-sets", $"/v1/jobs/{label}/next-checks", $"/v1/jobs/{label}/warranty",
            $"/v1/jobs/{label}/claims", $"/v1/jobs/{label}/claims/1", $"/v1/jobs/{label}/quotes", $"/v1/jobs/{label}/quotes/1", $"/v1/jobs/{label}/intake", "/v1/agenda?due=all", "/v1/changes?after=0",
        ];

        var seenByDesk = "";
        foreach (var address in addresses)
        {
            seenByDesk += await host.Desk.GetStringAsync(address);
            foreach (var role in new[] { Role.Bench, Role.Wall, Role.Storefront })
            {
                using var answer = await host.As(role).GetAsync(address);
                var text = await answer.Content.ReadAsStringAsync();
                Assert.All(Canaries, canary => Assert.False(text.Contains(canary, StringComparison.Ordinal), $"{role} reads {canary} at {address}"));
            }
        }

        // The canaries sing: whoever may see them does.
        Assert.All(Canaries, canary => Assert.Contains(canary, seenByDesk));
    }

    [Fact]
    public async Task A_storefront_finds_no_job()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();

        var problem = await (await host.As(Role.Storefront).GetAsync($"/v1/jobs/{label}")).Problem();

        Assert.Equal("no-such-thing", problem.Code);
    }

    [Theory]
    [BothEngines]
    public async Task A_job_tells_where_it_stands_and_what_may_come_next(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        await host.Approve(label);
        await host.Say(label, "stage.started", """{ "stage": "takedown", "person": "mara", "bench": "bench-1" }""");
        await host.Say(label, "piece.taken", """{ "person": "mara", "kind": "movement" }""");

        var job = await host.Bench.Get($"/v1/jobs/{label}");

        Assert.Equal("takedown", job.Text("stage"));
        Assert.Equal("running", job.Stage("takedown").Text("state"));
        Assert.Equal(["mara"], job.Stage("takedown").Texts("by"));
        Assert.Equal("done", job.Stage("queue").Text("state"));
        var movement = job.GetProperty("branches").EnumerateArray().Single(one => one.Text("branch") == "movement");
        Assert.Equal("takedown", movement.Text("stage"));
        Assert.Equal("people/mara", movement.Text("holder"));
        Assert.Equal("case-strip", job.GetProperty("branches").EnumerateArray().Single(one => one.Text("branch") == "case").Text("stage"));
        Assert.Empty(job.Next("takedown").GetProperty("against").EnumerateArray());
        Assert.Equal("stage.finished", job.Next("takedown").Text("finishes"));
        Assert.Equal(["needs/takedown"], job.Next("cleaning").GetProperty("against").EnumerateArray().Select(one => one.Text("gate")));
        Assert.Equal("stop", job.Next("handed-over").GetProperty("against")[0].Text("strength"));
        Assert.True(job.GetProperty("quote").GetProperty("accepted").GetBoolean());
        Assert.False(job.GetProperty("quote").TryGetProperty("totalMinor", out _));
    }

    [Theory]
    [BothEngines]
    public async Task A_job_that_is_ready_shows_what_was_measured(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        await host.Approve(label);
        await host.Service(label);
        await host.Settle(label);

        var job = await host.Desk.Get($"/v1/jobs/{label}");
        var sets = await host.Bench.Get($"/v1/jobs/{label}/rate-sets");

        Assert.Equal("handed-over", job.Text("stage"));
        Assert.Equal("done", job.Stage("ready").Text("state"));
        Assert.Equal(2.8m, job.GetProperty("rateSet").GetProperty("meanPerDaySeconds").GetDecimal());
        Assert.Equal(2.5m, sets.GetProperty("items")[0].GetProperty("spreadPerDaySeconds").GetDecimal());
        Assert.Equal("dial-up", sets.GetProperty("items")[0].GetProperty("readings")[0].Text("position"));
        Assert.True(job.GetProperty("waterTest").GetProperty("passed").GetBoolean());
        Assert.False(job.GetProperty("wearCheck").GetProperty("running").GetBoolean());
        Assert.Equal("pass", job.GetProperty("wearCheck").GetProperty("checks")[0].Text("verdict"));

        // 4 s over 25 h, by the definition of the rate.
        Assert.Equal(3.8m, job.GetProperty("wearCheck").GetProperty("checks")[0].GetProperty("readings")[0].GetProperty("ratePerDaySeconds").GetDecimal());
        Assert.True(job.GetProperty("case").GetProperty("closed").GetBoolean());
    }

    [Theory]
    [BothEngines]
    public async Task Promise_target_and_forecast_are_three_dates(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        var before = (await host.Desk.Get($"/v1/jobs/{label}")).GetProperty("promise");
        await host.Approve(label);

        var promise = (await host.Desk.Get($"/v1/jobs/{label}")).GetProperty("promise");

        // Mon 2 Mar 2026 + 20 open days, the target 4 of them earlier; no closures, no holidays.
        Assert.False(before.TryGetProperty("on", out _));
        Assert.Equal("2026-03-30", promise.Text("on"));
        Assert.Equal("2026-03-24", promise.Text("target"));
        Assert.Equal("2026-03-02", promise.Text("approvedOn"));
        Assert.Equal(["2026-03-30"], promise.GetProperty("history").EnumerateArray().Select(one => one.Text("on")));

        // 515 bench minutes are left in the route after the diagnosis; at 150 a working day they need four. A day of wear and two of reserve end on open days.
        Assert.Equal("2026-03-11", promise.Text("forecast"));
    }

    [Fact]
    public async Task The_forecast_moves_with_the_work_and_the_promise_does_not()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();
        await host.Approve(label);
        await host.Say(label, "stage.finished", """{ "stage": "takedown", "person": "mara" }""");
        await host.Say(label, "stage.finished", """{ "stage": "cleaning", "person": "mara" }""");
        await host.Say(label, "stage.finished", """{ "stage": "inspection", "person": "mara" }""");
        await host.Say(label, "stage.finished", """{ "stage": "rebuild", "person": "mara" }""");

        var promise = (await host.Desk.Get($"/v1/jobs/{label}")).GetProperty("promise");

        Assert.Equal("2026-03-30", promise.Text("on"));
        Assert.Equal("2026-03-09", promise.Text("forecast"));
    }

    [Theory]
    [BothEngines]
    public async Task Whoever_has_seen_just_that_is_told_so(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        using var seen = await host.Desk.GetAsync($"/v1/jobs/{label}");
        var tag = seen.Headers.ETag!.Tag;

        using var same = await host.Desk.Send(HttpMethod.Get, $"/v1/jobs/{label}", null, "", ("If-None-Match", tag));
        await host.Say(label, "note.written", """{ "text": "rang", "audience": "house", "person": "mara" }""");
        using var moved = await host.Desk.Send(HttpMethod.Get, $"/v1/jobs/{label}", null, "", ("If-None-Match", tag));

        Assert.Equal(HttpStatusCode.NotModified, same.StatusCode);
        Assert.Equal(HttpStatusCode.OK, moved.StatusCode);
    }

    [Theory]
    [InlineData("J2222222", HttpStatusCode.BadRequest, "label-unreadable")]
    [InlineData("22222222", HttpStatusCode.BadRequest, "label-unreadable")]
    [InlineData("'; drop table job; --", HttpStatusCode.BadRequest, "label-unreadable")]
    [InlineData("%20", HttpStatusCode.BadRequest, "label-unreadable")]
    public async Task What_is_no_label_is_never_another_job(string typed, HttpStatusCode status, string code)
    {
        await using var host = await Counter.Open();

        foreach (var part in new[] { "", "/history", "/rate-sets", "/next-checks", "/warranty", "/claims", "/claims/1", "/quotes", "/quotes/1", "/intake" })
        {
            var problem = await (await host.Desk.GetAsync($"/v1/jobs/{Uri.EscapeDataString(Uri.UnescapeDataString(typed))}{part}")).Problem();
            Assert.Equal(code, problem.Code);
            Assert.Equal((int)status, problem.Status);
        }
    }

    [Fact]
    public async Task A_right_label_of_no_job_is_not_found_anywhere()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();
        var other = Workshop.Core.Labels.Label.Complete(Workshop.Core.Labels.LabelKind.Job, [1, 1, 1, 1, 1, 1]).ToString();
        var bench = Workshop.Core.Labels.Label.Complete(Workshop.Core.Labels.LabelKind.Bench, [1, 1, 1, 1, 1, 1]).ToString();

        foreach (var part in new[] { "", "/history", "/rate-sets", "/next-checks", "/warranty", "/claims", "/claims/1", "/quotes", "/quotes/1", "/intake" })
        {
            Assert.Equal("no-such-thing", (await (await host.Desk.GetAsync($"/v1/jobs/{other}{part}")).Problem()).Code);
            Assert.Equal("no-such-thing", (await (await host.Desk.GetAsync($"/v1/jobs/{bench}{part}")).Problem()).Code);
        }

        (string Path, string Body)[] commands =
        [
            ("quotes", """{ "lines": [ { "text": "a", "amountMinor": 1 } ], "currency": "GBP" }"""), ("quotes/1/answer", """{ "accepted": true }"""), ("hand-over", """{ "how": "collected" }"""),
            ("claims", """{ "reportedOn": "2026-03-01", "text": "a" }"""), ("claims/1/decision", """{ "covered": true, "reason": "a" }"""),
        ];
        foreach (var (path, body) in commands)
        {
            Assert.Equal("no-such-thing", (await (await host.Manager.PostJson($"/v1/jobs/{other}/{path}", body)).Problem()).Code);
        }

        Assert.Equal("no-such-thing", (await (await host.Desk.Patch($"/v1/jobs/{other}/intake", "{}", "*")).Problem()).Code);
        Assert.Equal("no-such-thing", (await (await host.Desk.Put($"/v1/jobs/{other}/claims/1/stay", """{ "receivedOn": "2026-03-01" }""")).Problem()).Code);

        // As people type it.
        Assert.Equal(label, (await host.Desk.Get($"/v1/jobs/{label[..4].ToLowerInvariant()}-{label[4..]}")).Text("label"));
    }

    [Theory]
    [BothEngines]
    public async Task A_legal_hold_is_the_managers_alone(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        await host.Say(label, "hold.placed", """{ "hold": "legal", "reason": "Canary: register hit", "until": "2026-03-20", "person": "otto" }""");
        string[] addresses = [$"/v1/jobs/{label}", $"/v1/jobs/{label}/history", $"/v1/jobs/{label}/next-checks"];

        foreach (var address in addresses)
        {
            // What falls due is everybody's, the managers' too: it speaks of a query.
            Assert.Contains(address.EndsWith("/next-checks", StringComparison.Ordinal) ? "query" : "legal", await host.Manager.GetStringAsync(address));
            var shown = await host.Desk.GetStringAsync(address);
            Assert.DoesNotContain("legal", shown);
            Assert.DoesNotContain("Canary", shown);
            Assert.Contains("query", shown);
        }
    }

    [Theory]
    [BothEngines]
    public async Task A_running_check_shows_when_it_is_due_and_when_somebody_is_there(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2025, 10, 20, 10);
        var label = await host.TakeIn();
        await host.Approve(label);
        foreach (var stage in new[] { "takedown", "cleaning", "inspection", "rebuild", "case-strip", "case-work", "gaskets" })
        {
            await host.Say(label, "stage.finished", $$"""{ "stage": "{{stage}}", "person": "mara" }""");
        }

        await host.Say(label, "stage.finished", """{ "stage": "regulation", "person": "mara", "despite": ["rate-set-since-touch"] }""");
        await host.Say(label, "stage.finished", """{ "stage": "dial-and-hands", "person": "mara" }""");
        await host.Say(label, "case.closed", $$"""{ "jobLabel": "{{label}}", "caseSerial": "20-417", "movementNumber": "M 77.1", "person": "mara" }""");
        await host.Say(label, "water-test.recorded", """{ "method": "dry", "passed": true, "person": "mara" }""");
        host.SetTo(2025, 10, 25, 16);
        await host.Say(label, "wear-check.started", """{ "kind": "worn", "offsetSeconds": 0, "fullyWound": true, "person": "mara" }""");

        var check = (await host.Bench.Get($"/v1/jobs/{label}")).GetProperty("wearCheck");
        var next = await host.Bench.Get($"/v1/jobs/{label}/next-checks");

        // Sat 25 Oct 2025 16:00 in Zurich and 24 h: Sun 15:00 since the clocks go back; the shop opens Mon 09:00.
        Assert.StartsWith("2025-10-26T14:00:00", check.Text("due"));
        Assert.Equal("2025-10-27T08:00:00Z", check.Text("task"));
        Assert.Equal("wear-check", next.GetProperty("items")[0].Text("kind"));
        Assert.Equal(check.Text("due"), next.GetProperty("items")[0].Text("due"));
        Assert.Equal(check.Text("task"), next.GetProperty("items")[0].Text("task"));
    }

    [Theory]
    [BothEngines]
    public async Task The_history_stands_in_the_order_in_which_things_happened_page_by_page(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        host.Clock.Advance(Duration.FromHours(5));
        await host.Approve(label);
        var late = Instant.FromUtc(2026, 3, 2, 10, 30);
        using var told = await host.Manager.Send(
            HttpMethod.Post, "/v1/bench-events",
            $$"""{ "specversion": "1.0", "id": "late-1", "source": "/desk/office", "time": "{{late}}", "type": "note.written", "subject": "{{label}}", "data": { "text": "came by", "person": "mara", "colour": "blue" } }""",
            "application/cloudevents+json");
        await told.Json();

        var whole = (await host.Bench.Get($"/v1/jobs/{label}/history")).GetProperty("items").EnumerateArray().ToArray();
        var paged = new List<string>();
        for (var address = $"/v1/jobs/{label}/history?limit=2"; address is not null;)
        {
            using var answer = await host.Bench.GetAsync(address);
            paged.AddRange((await answer.Json()).GetProperty("items").EnumerateArray().Select(one => one.Text("id")));
            address = answer.Headers.TryGetValues("Link", out var link) ? link.Single().Split('<', '>')[1] : null;
        }

        Assert.Equal(["job.taken-in", "note.written", "stage.finished", "quote.sent", "quote.answered", "promise.given"], whole.Select(one => one.Text("type")));
        Assert.Equal(whole.Select(one => one.Text("id")), paged);
        Assert.Equal(["unknown-member", "late"], whole[1].Texts("flags"));
        Assert.Equal("blue", whole[1].GetProperty("data").Text("colour"));
        Assert.Equal("mara", whole[1].Text("person"));
        Assert.Equal(whole[4].Text("id"), whole[5].GetProperty("causedBy").Text("id"));
        Assert.Equal("full-automatic", whole[0].GetProperty("judged").Text("route"));
    }
}

internal static class JobReadingExtensions
{
    public static JsonElement Stage(this JsonElement job, string stage) => job.GetProperty("stages").EnumerateArray().Single(one => one.Text("stage") == stage);

    public static JsonElement Next(this JsonElement job, string stage) =>
        job.GetProperty("allowedNext").EnumerateArray().Single(one => one.TryGetProperty("stage", out var named) && named.GetString() == stage);
}
