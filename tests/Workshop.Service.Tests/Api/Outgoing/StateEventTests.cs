using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Outgoing;

public class StateEventTests
{
    // What a customer, a colleague or an insurer told the house, none of which anybody outside is told.
    private static readonly string[] Private =
    [
        "Marlow", "7946", "ida@", "Tallow", "stops at night", "20-417", "77.1", "240000", "mother", "gorse", "heather", "scratch at four", "mara", "otto", "bench-1", "places/", "dispute", "mix-up",
    ];

    [Theory]
    [BothEngines]
    public async Task A_watchs_whole_life_is_told_outside_in_order_and_names_nobody(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        await host.Approve(label);
        await host.Service(label);
        await host.Settle(label);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected", "person": "mara" }""", ("Idempotency-Key", "gone"))).Json();
        await (await host.Desk.PostJson($"/v1/jobs/{label}/claims", """{ "reportedOn": "2026-03-03", "text": "it stops on the stairs" }""")).Json();
        await (await host.Manager.PostJson($"/v1/jobs/{label}/claims/1/decision", """{ "covered": true, "reason": "the click spring" }""")).Json();

        var told = await Told(host);

        Assert.Equal(Enumerable.Range(1, told.Length), told.Select(one => (int)one.Position));
        string[] types = [.. told.Select(one => one.Type)];
        Assert.Equal("job.received", types[0]);
        Assert.Equal(types.Where(type => type != "job.stage-changed"), ["job.received", "quote.issued", "promise.made", "payment.asked", "job.ready", "job.handed-over", "claim.decided"]);
        var stages = told.Where(one => one.Type == "job.stage-changed").Select(one => one.Data.Text("publicStage")).ToArray();
        Assert.Equal(["your-decision", "approved", "at-the-watchmaker", "being-tested", "final-control", "ready", "yours-again"], stages.Where(stage => stage is not ("being-examined" or "case-in-work")).Distinct());
        Assert.DoesNotContain(stages.Zip(told.Where(one => one.Type == "job.stage-changed").Select(one => one.Data.Text("waitingOn"))).Zip(stages.Zip(told.Where(one => one.Type == "job.stage-changed").Select(one => one.Data.Text("waitingOn"))).Skip(1)), pair => pair.First == pair.Second);
        foreach (var one in told)
        {
            Assert.Equal(label, one.Data.Text("job"));
            Assert.True(one.Data.GetProperty("version").GetInt64() > 0 && one.Data.GetProperty("at").GetString() is not null);
            Assert.Equal(label, one.Data.GetProperty("public").Text("reference"));
            Assert.False(one.Data.GetProperty("public").TryGetProperty("amounts", out _));
            Assert.All(Private, word => Assert.DoesNotContain(word, one.Text, StringComparison.OrdinalIgnoreCase));
            Assert.InRange(one.Text.Length, 10, 20_000);
        }

        Assert.Equal((1, "2026-04-01"), (Of(told, "quote.issued").GetProperty("quote").GetInt32(), Of(told, "quote.issued").Text("validThrough")));
        Assert.NotEmpty(Of(told, "job.handed-over").GetProperty("warranty").EnumerateArray());
        Assert.True(Of(told, "claim.decided").GetProperty("covered").GetBoolean());
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task What_stays_the_same_outside_is_not_told_and_what_a_hold_changes_is_told_once()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();
        await host.Approve(label);
        await host.Say(label, "stage.started", """{ "stage": "takedown", "person": "mara" }""");
        var before = (await Told(host)).Length;

        await host.Finish(label, "takedown");
        await host.Say(label, "note.written", """{ "text": "the mainspring is set", "audience": "house" }""");
        await host.Say(label, "hold.placed", """{ "hold": "query" }""");
        Assert.Equal(before, (await Told(host)).Length);

        await host.Say(label, "hold.placed", """{ "hold": "parts" }""");
        await host.Say(label, "hold.lifted", """{ "hold": "query" }""");
        await host.Say(label, "hold.lifted", """{ "hold": "parts" }""");

        var told = (await Told(host))[before..].Where(one => one.Type == "job.stage-changed").Select(one => (one.Data.Text("publicStage"), one.Data.Text("waitingOn"))).ToArray();
        Assert.Equal([("waiting-for-part", "part"), ("at-the-watchmaker", "us")], told);
    }

    [Theory]
    [BothEngines]
    public async Task A_quote_runs_out_with_its_last_day_and_is_told_so_once(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        await host.Say(label, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(label, """, "validThrough": "2026-03-10" """);

        host.SetTo(2026, 3, 10, 23, 59);
        await host.Advance(Duration.FromSeconds(30));
        Assert.DoesNotContain(await Told(host), one => one.Type == "quote.expired");
        await host.Advance(Duration.FromSeconds(60));
        await host.Advance(Duration.FromHours(30));

        var told = await Told(host);
        Assert.Equal(1, Assert.Single(told, one => one.Type == "quote.expired").Data.GetProperty("quote").GetInt32());
        Assert.Equal(("being-examined", "us"), told[^1] is { Type: "job.stage-changed" } last ? (last.Data.Text("publicStage"), last.Data.Text("waitingOn")) : default);
    }

    [Fact]
    public async Task A_newer_quote_supersedes_one_that_nobody_answered_and_a_deposit_is_asked_for_with_the_answer()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();
        await host.Say(label, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(label);
        await host.SendQuote(label, """, "depositMinor": 10000""");
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/2/answer", """{ "accepted": true }""")).Json();

        var told = await Told(host);
        var superseded = Of(told, "quote.superseded");
        Assert.Equal((1, 2), (superseded.GetProperty("quote").GetInt32(), superseded.GetProperty("by").GetInt32()));
        var asked = Of(told, "payment.asked");
        Assert.Equal(("deposit", 10000, "GBP"), (asked.Text("kind"), asked.GetProperty("amountMinor").GetInt32(), asked.Text("currency")));
    }

    [Fact]
    public async Task A_watch_that_goes_back_unrepaired_by_parcel_is_told_as_that_and_one_that_was_sent_arrives_when_somebody_says_so()
    {
        await using var host = await Counter.Open();
        var back = await host.TakeIn();
        await host.Say(back, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(back);
        await (await host.Desk.PostJson($"/v1/jobs/{back}/quotes/1/answer", """{ "accepted": false }""")).Json();
        await host.Finish(back, "return-unrepaired");
        await (await host.Desk.PostJson($"/v1/jobs/{back}/hand-over", """{ "how": "dispatched" }""")).Json();
        Assert.Equal(["job.returned-unrepaired"], (await Told(host)).Select(one => one.Type).Where(type => type is "job.ready" or "job.dispatched" or "job.handed-over" or "job.returned-unrepaired"));
        Assert.Equal("quote-refused", Of(await Told(host), "job.returned-unrepaired").Text("reason"));
    }

    [Fact]
    public async Task A_watch_that_was_sent_is_on_its_way_until_it_is_presumed_to_have_come()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn();
        await host.Approve(label);
        await host.Service(label);
        await host.Settle(label);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "dispatched", "person": "mara" }""")).Json();
        Assert.Equal(["job.dispatched"], (await Told(host)).Select(one => one.Type).Where(type => type is "job.dispatched" or "job.handed-over"));
        Assert.Equal("on-its-way", (await Told(host)).Last(one => one.Type == "job.stage-changed").Data.Text("publicStage"));

        await host.Advance(Duration.FromDays(30));
        Assert.Equal("yours-again", (await Told(host)).Last(one => one.Type == "job.stage-changed").Data.Text("publicStage"));
    }

    [Fact]
    public async Task Days_on_which_the_shop_will_be_shut_are_told_once_without_the_houses_own_words()
    {
        await using var host = await Counter.Open();
        const string Week = """ "week": { "monday": [ { "opens": "09:00", "closes": "18:00" } ] } """;
        using var first = await host.Manager.Put("/v1/calendar", $$"""{ {{Week}}, "closures": [ { "from": "2025-01-01", "through": "2025-01-05" }, { "from": "2026-08-03", "through": "2026-08-14", "reason": "moving house" } ] }""", "*");
        await first.Json();
        using var second = await host.Manager.Put("/v1/calendar", $$"""{ {{Week}}, "closures": [ { "from": "2026-08-03", "through": "2026-08-14", "reason": "moving" } ] }""", first.Headers.ETag!.Tag);
        await second.Json();

        var closed = Assert.Single(await Told(host));
        Assert.Equal(("shop.closed", "2026-08-03", "2026-08-14"), (closed.Type, closed.Data.Text("from"), closed.Data.Text("through")));
        Assert.DoesNotContain("moving", closed.Text, StringComparison.Ordinal);
    }

    private static JsonElement Of(IEnumerable<Message> told, string type) => Assert.Single(told, one => one.Type == type).Data;

    private static async Task<Message[]> Told(WorkshopHost host) =>
        [.. await host.Services.GetRequiredService<Reader>().Query<Message>("select position, type, body as text from outbox order by position")];

    private sealed record Message
    {
        public required long Position { get; init; }

        public required string Type { get; init; }

        public required string Text { get; init; }

        public JsonElement Data => JsonElement.Parse(Text);
    }
}
