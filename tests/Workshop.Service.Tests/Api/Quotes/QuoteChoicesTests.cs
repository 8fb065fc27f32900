using System.Net;
using System.Text.Json;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Quotes;

public class QuoteChoicesTests
{
    /// <summary>A service for 480.00, and two things the workshop could do besides.</summary>
    private const string WithOptions =
        """
        { "lines": [ { "text": "Full service", "amountMinor": 48000, "taxRate": 20 },
                     { "id": "crystal", "text": "New crystal", "kind": "part", "amountMinor": 6000, "taxRate": 20, "optional": true, "recommended": true },
                     { "id": "polish", "text": "Polish the case", "amountMinor": 9000, "taxRate": 20, "optional": true } ],
          "currency": "GBP", "notCovered": ["the strap"], "ifRefused": { "feeMinor": 3000, "choices": ["return", "scrap-value", "ask-me"] } }
        """;

    private const string ClosedAtYearsEnd =
        """
        { "week": { "monday": [{ "opens": "09:00", "closes": "18:00" }], "tuesday": [{ "opens": "09:00", "closes": "18:00" }], "wednesday": [{ "opens": "09:00", "closes": "18:00" }],
                    "thursday": [{ "opens": "09:00", "closes": "18:00" }], "friday": [{ "opens": "09:00", "closes": "18:00" }] },
          "closures": [ { "from": "2025-12-24", "through": "2026-01-04" } ] }
        """;

    [Theory]
    [BothEngines]
    public async Task Each_option_is_accepted_or_declined_and_the_account_asks_for_what_was_agreed(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Save("rules", "main", """{ "money": { "kept": "here", "depositSharePercent": 50, "depositAboveMinor": 50000 } }""");
        var label = await Diagnosed(host);

        var sent = await Send(host, label, WithOptions);
        const string Yes = """{ "accepted": true, "options": [ { "option": "crystal", "accepted": true } ], "channel": "storefront" }""";
        using var first = await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", Yes);
        var answer = await first.Json();
        using var again = await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", Yes);
        var other = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true, "options": [ { "option": "polish", "accepted": true }, { "option": "crystal", "accepted": true } ] }""")).Problem();
        var account = await host.Desk.Get($"/v1/jobs/{label}/account");
        var quote = await host.Desk.Get($"/v1/jobs/{label}/quotes/1");

        Assert.Equal(48000, sent.GetProperty("totalMinor").GetInt64());
        Assert.Equal(8000, sent.GetProperty("taxMinor").GetInt64());
        Assert.Equal(["1", "crystal", "polish"], sent.GetProperty("lines").EnumerateArray().Select(line => line.Text("id")));
        Assert.Equal(["work", "part", "option"], sent.GetProperty("lines").EnumerateArray().Select(line => line.Text("kind")));
        Assert.Equal(54000, answer.GetProperty("agreedMinor").GetInt64());
        Assert.Equal(["polish"], answer.Texts("notMentioned"));
        Assert.Equal(["crystal True", "polish False"], Options(answer));
        Assert.Equal(await first.Content.ReadAsStringAsync(), await again.Content.ReadAsStringAsync());
        Assert.Equal(("quote-answered", 409), (other.Code, other.Status));
        Assert.Equal(54000, account.GetProperty("askedMinor").GetInt64());

        // 480.00 alone would have asked for no deposit, 540.00 asks for its half.
        Assert.Equal(27000, account.GetProperty("depositMinor").GetInt64());
        Assert.Equal(54000, account.GetProperty("lines").EnumerateArray().Single().GetProperty("amountMinor").GetInt64());
        Assert.Equal((54000, 9000), (quote.GetProperty("agreedMinor").GetInt64(), quote.GetProperty("agreedTaxMinor").GetInt64()));
        Assert.StartsWith("I accept this quote", quote.Text("consentText"), StringComparison.Ordinal);
        Assert.Equal(["the strap"], quote.Texts("notCovered"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_customer_who_refuses_and_wants_to_be_asked_is_asked_and_chooses_later(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Diagnosed(host);
        await Send(host, label, WithOptions);

        var refused = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": false, "ifRefused": "ask-me" }""")).Json();
        var asked = await host.Desk.Get($"/v1/jobs/{label}");
        var chosen = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": false, "ifRefused": "return" }""")).Json();
        var after = await host.Desk.Get($"/v1/jobs/{label}");
        var turned = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": false, "ifRefused": "scrap-value" }""")).Problem();

        Assert.Equal("ask-me", refused.Text("ifRefused"));
        Assert.Equal("quote", asked.Text("stage"));
        Assert.Equal(["customer"], Holds(asked));
        Assert.Equal("return", chosen.Text("ifRefused"));
        Assert.Equal("return-unrepaired", after.Text("stage"));
        Assert.Empty(Holds(after));
        Assert.Equal("quote-answered", turned.Code);
        Assert.Equal(3000, (await host.Desk.Get($"/v1/jobs/{label}/account")).GetProperty("askedMinor").GetInt64());
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_watch_left_for_its_scrap_value_waits_for_a_manager(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Diagnosed(host);
        await Send(host, label, WithOptions);

        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": false, "ifRefused": "scrap-value" }""")).Json();
        var job = await host.Manager.Get($"/v1/jobs/{label}");

        Assert.Equal(["query"], Holds(job));
        Assert.Equal("quote", job.Text("stage"));
        Assert.Equal("scrap-value", (await host.Desk.Get($"/v1/jobs/{label}/quotes/1")).Text("choice"));
    }

    // The worked example: promised for 22 January 2026, the clock stopped from Monday 5 to Thursday 8 January, three working days.
    [Theory]
    [InlineData(StorageEngine.Sqlite, true)]
    [InlineData(StorageEngine.Postgres, false)]
    public async Task A_supplement_stops_the_clock_from_its_sending_to_its_answer_whatever_the_answer_is(StorageEngine engine, bool accepted)
    {
        await using var host = await Counter.Open(engine);
        host.SetTo(2025, 12, 11, 10);
        await host.Save("calendar", "main", ClosedAtYearsEnd);
        var label = await Diagnosed(host);
        await host.SendQuote(label);
        host.SetTo(2025, 12, 15, 11);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true }""")).Json();
        host.SetTo(2026, 1, 5, 10);
        var supplement = await Send(host, label, """{ "lines": [ { "id": "wheel", "text": "New third wheel", "kind": "part", "amountMinor": 4000 } ], "currency": "GBP", "supplementary": true }""");
        var held = await (await host.TrySay(label, "stage.started", """{ "stage": "takedown", "person": "mara" }""")).Problem();
        host.SetTo(2026, 1, 8, 10);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/2/answer", $$"""{ "accepted": {{(accepted ? "true" : "false")}} }""")).Json();

        var job = await host.Desk.Get($"/v1/jobs/{label}");
        var account = await host.Desk.Get($"/v1/jobs/{label}/account");

        Assert.True(supplement.GetProperty("supplementary").GetBoolean());
        Assert.Equal(0, supplement.GetProperty("workingDays").GetInt32());
        Assert.Equal("hold", held.Code);
        Assert.Equal("2026-01-27", job.GetProperty("promise").Text("on"));
        Assert.Equal(3, job.GetProperty("promise").GetProperty("stoppedWorkingDays").GetInt32());
        Assert.Equal("queue", job.Text("stage"));
        Assert.Equal(accepted ? 52000 : 48000, account.GetProperty("askedMinor").GetInt64());
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_dearer_part_is_borne_by_the_shop_to_its_share_and_asks_for_a_new_version_beyond_it(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await Diagnosed(host);
        await Send(host, label, WithOptions);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true, "options": [ { "option": "crystal", "accepted": true } ] }""")).Json();

        // Ten per cent of 60.00 is 6.00.
        var borne = await Dearer(host, label, "crystal", 6600);
        var needed = await Dearer(host, label, "crystal", 6601);
        var account = await host.Desk.Get($"/v1/jobs/{label}/account");
        var rows = await Lines(host, "quote-needed");
        var job = await host.Desk.Get($"/v1/jobs/{label}");
        var declined = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/price-change", """{ "line": "polish", "newAmountMinor": 9500, "reason": "dearer" }""")).Problem();
        var cheaper = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/price-change", """{ "line": "crystal", "newAmountMinor": 6000, "reason": "as it was" }""")).Problem();
        await Send(host, label, """{ "lines": [ { "text": "Full service with a new crystal", "amountMinor": 54900 } ], "currency": "GBP" }""");
        var open = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/2/price-change", """{ "line": "1", "newAmountMinor": 60000, "reason": "dearer" }""")).Problem();

        Assert.Equal("borne-by-the-shop", borne.Text("outcome"));
        Assert.Equal((600, 600), (borne.GetProperty("riseMinor").GetInt64(), borne.GetProperty("borneAtMostMinor").GetInt64()));
        Assert.Equal("new-version-needed", needed.Text("outcome"));
        Assert.Equal(54000, needed.GetProperty("agreedMinor").GetInt64());
        Assert.Equal(54000, account.GetProperty("askedMinor").GetInt64());
        Assert.Equal("1/crystal", Assert.Single(rows).Text("ref"));
        Assert.Empty(Holds(job));
        Assert.Equal(["/line"], declined.Pointers);
        Assert.Equal(["/newAmountMinor"], cheaper.Pointers);
        Assert.Equal("quote-not-agreed", open.Code);
        Assert.Empty(await Lines(host, "quote-needed"));
        Assert.Equal(2, (await host.Desk.Get($"/v1/jobs/{label}/quotes/1")).GetProperty("priceRises").GetArrayLength());
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task An_answer_told_later_counts_at_its_own_time()
    {
        await using var host = await Counter.Open();
        var label = await Diagnosed(host);
        await host.SendQuote(label);

        // Good through 1 April; the customer said yes on the telephone on its evening, and it is written down the next morning.
        host.Clock.Reset(Instant.FromUtc(2026, 4, 2, 7, 0));
        var late = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true, "at": "2026-04-01T22:00:30Z" }""")).Problem();
        using var inTime = await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true, "at": "2026-04-01T21:59:30Z", "channel": "telephone", "witness": "otto" }""");

        Assert.Equal("quote-expired", late.Code);
        Assert.Equal(HttpStatusCode.OK, inTime.StatusCode);
    }

    // The clocks go forward on 29 March 2026 at 02:00 in Zurich: the day has 23 hours, its last moment is 22:00Z.
    [Theory]
    [InlineData("2026-03-28", "2026-03-28T22:59:30Z", true)]
    [InlineData("2026-03-28", "2026-03-28T23:00:30Z", false)]
    [InlineData("2026-03-29", "2026-03-29T21:59:30Z", true)]
    [InlineData("2026-03-29", "2026-03-29T22:00:30Z", false)]
    public async Task On_the_night_of_the_clock_change_a_quote_is_good_to_the_end_of_its_own_day(string validThrough, string at, bool good)
    {
        await using var host = await Counter.Open();
        var label = await Diagnosed(host);
        await host.SendQuote(label, $$""", "validThrough": "{{validThrough}}" """);
        host.Clock.Reset(NodaTime.Text.InstantPattern.ExtendedIso.Parse(at).Value);

        using var answer = await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true }""");

        Assert.Equal(good ? HttpStatusCode.OK : HttpStatusCode.Conflict, answer.StatusCode);
    }

    [Theory]
    [InlineData("""{ "lines": [ { "id": "a", "text": "a", "amountMinor": 1 }, { "id": "a", "text": "b", "amountMinor": 1 } ], "currency": "GBP" }""", "/lines/1/id")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1 }, { "id": "1", "text": "b", "amountMinor": 1 } ], "currency": "GBP" }""", "/lines/1/id")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1, "recommended": true } ], "currency": "GBP" }""", "/lines/0/optional")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1200, "taxMinor": 100, "taxRate": 20 } ], "currency": "GBP" }""", "/lines/0/taxMinor")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1 } ], "currency": "GBP", "supplementary": true }""", "/supplementary")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1 } ], "currency": "GBP", "feeOnRefusalMinor": 5, "ifRefused": { "feeMinor": 6 } }""", "/ifRefused/feeMinor")]
    [InlineData("""{ "lines": [ { "text": "a", "amountMinor": 1 } ], "currency": "GBP", "notCovered": [""] }""", "/notCovered/0")]
    public async Task A_quote_with_choices_that_cannot_be_is_refused_with_the_field_named(string body, string pointer)
    {
        await using var host = await Counter.Open();
        var label = await Diagnosed(host);

        var problem = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes", body)).Problem();

        Assert.Equal(422, problem.Status);
        Assert.Equal([pointer], problem.Pointers);
    }

    [Theory]
    [InlineData("""{ "accepted": true, "options": [ { "option": "bezel", "accepted": true } ] }""", "/options/0/option")]
    [InlineData("""{ "accepted": true, "options": [ { "option": "1", "accepted": true } ] }""", "/options/0/option")]
    [InlineData("""{ "accepted": true, "options": [ { "option": "polish", "accepted": true }, { "option": "polish", "accepted": false } ] }""", "/options/1/option")]
    [InlineData("""{ "accepted": false, "options": [ { "option": "polish", "accepted": true } ] }""", "/options/0/accepted")]
    [InlineData("""{ "accepted": true, "ifRefused": "return" }""", "/ifRefused")]
    [InlineData("""{ "accepted": true, "answeredBy": "nobody" }""", "/answeredBy")]
    public async Task An_answer_with_choices_that_cannot_be_is_refused_with_the_field_named(string body, string pointer)
    {
        await using var host = await Counter.Open();
        var label = await Diagnosed(host);
        await Send(host, label, WithOptions);

        var problem = await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", body)).Problem();

        Assert.Equal(422, problem.Status);
        Assert.Equal([pointer], problem.Pointers);
    }

    private static async Task<JsonElement> Send(WorkshopHost host, string label, string body) => await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes", body)).Json();

    private static async Task<JsonElement> Dearer(WorkshopHost host, string label, string line, long newAmountMinor) => await (await host.Desk.PostJson(
        $"/v1/jobs/{label}/quotes/1/price-change", $$"""{ "line": "{{line}}", "newAmountMinor": {{newAmountMinor}}, "reason": "the maker's new list" }""")).Json();

    private static string[] Options(JsonElement answer) => [.. answer.GetProperty("options").EnumerateArray().Select(one => $"{one.Text("option")} {one.GetProperty("accepted").GetBoolean()}")];

    private static string[] Holds(JsonElement job) => [.. job.GetProperty("holds").EnumerateArray().Where(hold => !hold.TryGetProperty("until", out _)).Select(hold => hold.Text("reason"))];

    private static async Task<JsonElement[]> Lines(WorkshopHost host, string kind) =>
        [.. (await host.Desk.Get("/v1/agenda")).GetProperty("items").EnumerateArray().Where(line => line.Text("kind") == kind)];

    private static async Task<string> Diagnosed(WorkshopHost host)
    {
        var label = await host.TakeIn("""{ "customer": { "telephone": "01632 960 117" }, "watch": { "maker": "Velling", "madeInYear": 2010 }, "variant": "full-automatic", "declaredValueMinor": 1000, "currency": "GBP", "condition": "runs", "terms": { "acceptedOn": "2025-01-02" } }""");
        await host.Say(label, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        return label;
    }
}
