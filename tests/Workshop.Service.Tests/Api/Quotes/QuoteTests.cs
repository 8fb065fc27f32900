using System.Net;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Quotes;

public class QuoteTests
{
    private const string Answered = """{ "accepted": true }""";

    /// <summary>Closed Saturday, Sunday and from 24 December to 4 January.</summary>
    private const string ClosedAtYearsEnd =
        """
        { "week": { "monday": [{ "opens": "09:00", "closes": "18:00" }], "tuesday": [{ "opens": "09:00", "closes": "18:00" }], "wednesday": [{ "opens": "09:00", "closes": "18:00" }],
                    "thursday": [{ "opens": "09:00", "closes": "18:00" }], "friday": [{ "opens": "09:00", "closes": "18:00" }] },
          "closures": [ { "from": "2025-12-24", "through": "2026-01-04" } ] }
        """;

    // Worked example of the trade's handbook: 15 Dec 2025 + 20 working days, closed 24 Dec to 4 Jan, no public holidays.
    [Theory]
    [BothEngines]
    public async Task Approved_on_15_December_twenty_working_days_end_on_22_January_over_the_closed_weeks(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2025, 12, 11, 10);
        await host.Save("calendar", "main", ClosedAtYearsEnd);
        var label = await Diagnosed(host);
        await host.SendQuote(label, """, "workingDays": 20""");
        host.SetTo(2025, 12, 15, 11);

        var answer = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", Answered)).Json();

        Assert.Equal("2026-01-22", answer.GetProperty("promise").Text("on"));
        Assert.Equal("2026-01-16", answer.GetProperty("promise").Text("target"));
        Assert.Equal("2025-12-15", answer.GetProperty("promise").Text("approvedOn"));
        Assert.Equal(20, answer.GetProperty("promise").GetProperty("workingDays").GetInt32());
        Assert.Equal("2026-01-22", (await host.Desk.Get("/v1/jobs")).GetProperty("items")[0].Text("promisedOn"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_hold_for_the_customer_moves_the_promise_when_it_is_lifted(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2025, 12, 11, 10);
        await host.Save("calendar", "main", ClosedAtYearsEnd);
        var label = await Diagnosed(host);
        await host.SendQuote(label);
        host.SetTo(2025, 12, 15, 11);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", Answered)).Json();
        host.SetTo(2026, 1, 5, 10);
        await host.Say(label, "hold.placed", """{ "hold": "customer", "reason": "thinks about the dial" }""");
        host.SetTo(2026, 1, 8, 10);
        await host.Say(label, "hold.lifted", """{ "hold": "customer" }""");

        var promise = (await host.Desk.Get($"/v1/jobs/{label}")).GetProperty("promise");
        var again = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", Answered)).Json();

        Assert.Equal("2026-01-27", promise.Text("on"));
        Assert.Equal(3, promise.GetProperty("stoppedWorkingDays").GetInt32());
        Assert.Equal(["2026-01-22", "2026-01-27"], promise.GetProperty("history").EnumerateArray().Select(one => one.Text("on")));
        Assert.Equal("2026-01-27", again.GetProperty("promise").Text("on"));
    }

    [Theory]
    [InlineData(2025, 12, 11, 19, "2025-12-12", "2025-12-15")]
    [InlineData(2025, 12, 12, 19, "2025-12-13", "2025-12-15")]
    [InlineData(2025, 12, 13, 12, "2025-12-13", "2025-12-15")]
    [InlineData(2025, 12, 11, 18, "2025-12-11", "2025-12-12")]
    public async Task After_closing_hour_day_0_is_the_next_calendar_day(int year, int month, int day, int hour, string dayZero, string promised)
    {
        await using var host = await Counter.Open();
        host.Clock.AutoAdvance = Duration.FromTicks(10);
        host.SetTo(2025, 12, 10, 10);
        var label = await Diagnosed(host);
        await host.SendQuote(label, """, "workingDays": 1""");
        host.SetTo(year, month, day, hour);
        var at = host.Clock.GetCurrentInstant() - Duration.FromTicks(10);
        host.Clock.Advance(Duration.FromMinutes(10));

        var answer = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", $$"""{ "accepted": true, "at": "{{at}}" }""")).Json();

        Assert.Equal(dayZero, answer.GetProperty("promise").Text("approvedOn"));
        Assert.Equal(promised, answer.GetProperty("promise").Text("on"));
    }

    [Theory]
    [BothEngines]
    public async Task A_quote_is_shown_as_it_was_sent_with_its_tax_inside(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Diagnosed(host);

        using var sent = await host.Desk.PostJson(
            $"/v1/jobs/{label}/quotes",
            """{ "lines": [ { "text": "Full service", "amountMinor": 48000, "taxMinor": 8000 }, { "text": "Regular customer", "amountMinor": -3000, "taxMinor": -500 } ], "currency": "GBP" }""");
        var quote = await sent.Json();
        var read = await host.Desk.Get(sent.Headers.Location!.ToString());
        var all = await host.Desk.Get($"/v1/jobs/{label}/quotes");

        Assert.Equal(HttpStatusCode.Created, sent.StatusCode);
        Assert.Equal(1, quote.GetProperty("version").GetInt32());
        Assert.Equal(45000, quote.GetProperty("totalMinor").GetInt64());
        Assert.Equal(7500, quote.GetProperty("taxMinor").GetInt64());
        Assert.Equal("open", quote.Text("state"));

        // 2 Mar 2026 and thirty days: the last day is 1 April. The kind of work says twenty working days.
        Assert.Equal("2026-04-01", quote.Text("validThrough"));
        Assert.Equal(20, quote.GetProperty("workingDays").GetInt32());
        Assert.Equal(quote.ToString(), read.ToString());
        Assert.Equal(quote.ToString(), all.GetProperty("items")[0].ToString());
    }

    [Theory]
    [BothEngines]
    public async Task The_same_answer_again_is_the_same_and_another_one_is_refused(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Diagnosed(host);
        await host.SendQuote(label);

        using var first = await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true, "channel": "telephone", "witness": "otto" }""");
        var entries = (await host.Desk.Get($"/v1/jobs/{label}/history")).GetProperty("items").GetArrayLength();
        using var again = await host.Manager.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true }""");
        var other = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": false }""")).Problem();

        Assert.Equal(HttpStatusCode.OK, again.StatusCode);
        Assert.Equal(await first.Content.ReadAsStringAsync(), await again.Content.ReadAsStringAsync());
        Assert.Equal("quote-answered", other.Code);
        Assert.Equal(409, other.Status);
        Assert.Equal(entries, (await host.Desk.Get($"/v1/jobs/{label}/history")).GetProperty("items").GetArrayLength());
        Assert.Equal("telephone", (await host.Desk.Get($"/v1/jobs/{label}/quotes/1")).Text("channel"));
    }

    [Theory]
    [BothEngines]
    public async Task An_answer_to_an_older_version_names_the_newest(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Diagnosed(host);
        await host.SendQuote(label);
        await host.SendQuote(label);

        var late = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", Answered)).Problem();
        var states = (await host.Desk.Get($"/v1/jobs/{label}/quotes")).GetProperty("items").EnumerateArray().Select(one => one.Text("state"));

        Assert.Equal("quote-superseded", late.Code);
        Assert.Equal(2, late.Whole.GetProperty("newest").GetProperty("version").GetInt32());
        Assert.Equal("Full service", late.Whole.GetProperty("newest").GetProperty("lines")[0].Text("text"));
        Assert.Equal(48000, late.Whole.GetProperty("newest").GetProperty("totalMinor").GetInt64());
        Assert.Equal(label, late.Whole.Text("job"));
        Assert.Equal(["superseded", "open"], states);
        Assert.Equal("no-such-thing", (await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/3/answer", Answered)).Problem()).Code);
    }

    [Theory]
    [BothEngines]
    public async Task A_quote_is_good_at_half_a_minute_before_midnight_of_its_last_day_and_over_half_a_minute_after(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var late = await Diagnosed(host);
        await host.SendQuote(late);
        var inTime = await Diagnosed(host);
        await host.SendQuote(inTime);

        // Over at 2026-04-01T22:00Z in Zurich: the clocks have changed between.
        host.Clock.Reset(Instant.FromUtc(2026, 4, 1, 21, 59, 30));
        using var accepted = await host.Desk.PostJson($"/v1/jobs/{inTime}/quotes/1/answer", Answered);
        host.Clock.Reset(Instant.FromUtc(2026, 4, 1, 22, 0, 30));
        var refused = await (await host.Desk.PostJson($"/v1/jobs/{late}/quotes/1/answer", Answered)).Problem();
        using var declined = await host.Desk.PostJson($"/v1/jobs/{late}/quotes/1/answer", """{ "accepted": false }""");

        Assert.Equal(HttpStatusCode.OK, accepted.StatusCode);
        Assert.Equal("quote-expired", refused.Code);
        Assert.Equal("2026-04-01", refused.Whole.Text("validThrough"));
        Assert.Equal(HttpStatusCode.OK, declined.StatusCode);
    }

    [Theory]
    [BothEngines]
    public async Task A_new_version_after_an_approval_holds_the_job_until_it_is_answered(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Diagnosed(host);
        await host.SendQuote(label);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", Answered)).Json();
        await host.SendQuote(label);

        var held = await (await host.TrySay(label, "stage.started", """{ "stage": "takedown", "person": "mara" }""")).Problem();
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/2/answer", Answered)).Json();
        using var free = await host.TrySay(label, "stage.started", """{ "stage": "takedown", "person": "mara" }""");

        Assert.Equal("hold", held.Code);
        Assert.Equal(HttpStatusCode.OK, free.StatusCode);
    }

    [Theory]
    [BothEngines]
    public async Task A_refused_quote_sends_the_watch_home_unrepaired_and_a_new_version_may_turn_it_round(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Diagnosed(host);
        await host.SendQuote(label);

        var refused = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": false }""")).Json();
        var job = await host.Desk.Get($"/v1/jobs/{label}");
        await host.SendQuote(label);
        var accepted = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/2/answer", Answered)).Json();

        Assert.False(refused.TryGetProperty("promise", out _));
        Assert.Equal("return-unrepaired", job.Text("stage"));
        Assert.Equal("2026-03-30", accepted.GetProperty("promise").Text("on"));
        Assert.Equal("queue", (await host.Desk.Get($"/v1/jobs/{label}")).Text("stage"));
    }

    [Theory]
    [BothEngines]
    public async Task Before_the_diagnosis_a_quote_asks_and_goes_on_when_told_to(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();

        var asked = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes", """{ "lines": [ { "text": "Full service", "amountMinor": 48000 } ], "currency": "GBP" }""")).Problem();
        using var despite = await host.Desk.PostJson(
            $"/v1/jobs/{label}/quotes", """{ "lines": [ { "text": "Full service", "amountMinor": 48000 } ], "currency": "GBP", "despite": ["needs/diagnosis"] }""");

        Assert.Equal("needs", asked.Code);
        Assert.Equal("ask", asked.Whole.GetProperty("against")[0].Text("strength"));
        Assert.Equal(HttpStatusCode.Created, despite.StatusCode);
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task Sent_again_with_its_key_a_quote_is_one_version_and_a_refusal_is_the_same_refusal(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await host.TakeIn();
        const string Body = """{ "lines": [ { "text": "Full service", "amountMinor": 48000 } ], "currency": "GBP" }""";

        using var refused = await host.Desk.PostJson($"/v1/jobs/{label}/quotes", Body, ("Idempotency-Key", "quote-1"));
        await host.Say(label, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        using var refusedAgain = await host.Desk.PostJson($"/v1/jobs/{label}/quotes", Body, ("Idempotency-Key", "quote-1"));
        using var sent = await host.Desk.PostJson($"/v1/jobs/{label}/quotes", Body, ("Idempotency-Key", "quote-2"));
        using var sentAgain = await host.Desk.PostJson($"/v1/jobs/{label}/quotes", Body, ("Idempotency-Key", "quote-2"));

        Assert.Equal(HttpStatusCode.Conflict, refusedAgain.StatusCode);
        Assert.Equal(await refused.Content.ReadAsStringAsync(), await refusedAgain.Content.ReadAsStringAsync());
        Assert.Equal(await sent.Content.ReadAsStringAsync(), await sentAgain.Content.ReadAsStringAsync());
        Assert.Equal(sent.Headers.Location, sentAgain.Headers.Location);
        Assert.Single((await host.Desk.Get($"/v1/jobs/{label}/quotes")).GetProperty("items").EnumerateArray());
    }

    [Theory]
    [InlineData("""{ "lines": [], "currency": "GBP" }""", "/lines")]
    [InlineData("""{ "lines": null, "currency": "GBP" }""", "/lines")]
    [InlineData("""{ "lines": [ { "text": "", "amountMinor": 1 } ], "currency": "GBP" }""", "/lines/0/text")]
    [InlineData("""{ "lines": [ { "text": "   ", "amountMinor": 1 } ], "currency": "GBP" }""", "/lines/0/text")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1.5 } ], "currency": "GBP" }""", "/lines/0/amountMinor")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 99999999999999 } ], "currency": "GBP" }""", "/lines/0/amountMinor")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 100, "taxMinor": 101 } ], "currency": "GBP" }""", "/lines/0/taxMinor")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 100, "taxMinor": -5 } ], "currency": "GBP" }""", "/lines/0/taxMinor")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": -1 } ], "currency": "GBP" }""", "/lines")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1 } ], "currency": "gbp" }""", "/currency")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1 } ], "currency": "GBP", "validThrough": "2026-03-01" }""", "/validThrough")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1 } ], "currency": "GBP", "validThrough": "9999-12-31" }""", "/validThrough")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1 } ], "currency": "GBP", "workingDays": 0 }""", "/workingDays")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1 } ], "currency": "GBP", "workingDays": 1000000 }""", "/workingDays")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1 } ], "currency": "GBP", "despite": [null] }""", "/despite/0")]
    public async Task A_quote_that_cannot_be_is_refused_with_the_field_named(string body, string pointer)
    {
        await using var host = await Counter.Open();
        var label = await Diagnosed(host);

        var problem = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes", body)).Problem();

        Assert.Equal(422, problem.Status);
        Assert.Equal([pointer], problem.Pointers);
    }

    [Theory]
    [InlineData("""{ }""", "/accepted")]
    [InlineData("""{ "accepted": "yes" }""", "/accepted")]
    [InlineData("""{ "accepted": true, "channel": "telephone" }""", "/witness")]
    [InlineData("""{ "accepted": true, "channel": "telepathy" }""", "/channel")]
    [InlineData("""{ "accepted": true, "at": "2026-03-02T11:00:00+01:00" }""", "/at")]
    [InlineData("""{ "accepted": true, "at": "2026-03-02T09:00:00+01:00" }""", "/at")]
    [InlineData("""{ "accepted": true, "at": "yesterday" }""", "/at")]
    public async Task An_answer_that_cannot_be_is_refused_with_the_field_named(string body, string pointer)
    {
        await using var host = await Counter.Open();
        var label = await Diagnosed(host);
        await host.SendQuote(label);

        var problem = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", body)).Problem();

        Assert.Equal(422, problem.Status);
        Assert.Equal([pointer], problem.Pointers);
    }

    [Fact]
    public async Task An_answer_told_in_whole_seconds_may_fall_into_the_second_of_the_quote()
    {
        await using var host = await Counter.Open();
        var label = await Diagnosed(host);
        host.Clock.Reset(Instant.FromUtc(2026, 3, 2, 12, 0) + Duration.FromMilliseconds(300));
        await host.SendQuote(label);

        using var answer = await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true, "at": "2026-03-02T12:00:00Z" }""");

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Theory]
    [InlineData("x")]
    [InlineData("99999999999")]
    [InlineData("-1")]
    [InlineData("0")]
    public async Task A_version_that_is_none_is_no_version(string version)
    {
        await using var host = await Counter.Open();
        var label = await Diagnosed(host);
        await host.SendQuote(label);

        var read = await (await host.Desk.GetAsync($"/v1/jobs/{label}/quotes/{version}")).Problem();
        var answered = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/{version}/answer", Answered)).Problem();

        Assert.InRange(read.Status, 400, 404);
        Assert.InRange(answered.Status, 400, 404);
    }

    [Fact]
    public async Task Ten_answers_at_once_are_one_answer_and_one_promise()
    {
        await using var host = await Counter.Open();
        var label = await Diagnosed(host);
        await host.SendQuote(label);

        var answers = await Task.WhenAll(Enumerable.Range(0, 10).Select(_ => host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", Answered)));
        var types = (await host.Desk.Get($"/v1/jobs/{label}/history")).GetProperty("items").EnumerateArray().Select(one => one.Text("type")).ToArray();

        Assert.All(answers, answer => Assert.Equal(HttpStatusCode.OK, answer.StatusCode));
        Assert.Single(types, "quote.answered");
        Assert.Single(types, "promise.given");
    }

    private static async Task<string> Diagnosed(WorkshopHost host)
    {
        var label = await host.TakeIn("""{ "customer": { "telephone": "01632 960 117" }, "watch": { "maker": "Velling", "madeInYear": 2010 }, "variant": "full-automatic", "declaredValueMinor": 1000, "currency": "GBP", "condition": "runs", "terms": { "acceptedOn": "2025-01-02" } }""");
        await host.Say(label, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        return label;
    }
}
