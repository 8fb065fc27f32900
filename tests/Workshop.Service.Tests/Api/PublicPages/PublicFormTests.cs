using System.Net;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Warranties;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.PublicPages;

/// <summary>What a customer may say from their page: with a plain form or a program, with a second factor, and each thing once.</summary>
public class PublicFormTests
{
    private const string Form = "application/x-www-form-urlencoded";

    private static readonly string AtAPostcode = Counter.WholeIntake.Replace("3 Tallow Lane, Upper Ness", "3 Tallow Lane\\nUpper Ness AB1 2CD", StringComparison.Ordinal);

    [Theory]
    [BothEngines]
    public async Task A_customer_accepts_options_with_a_plain_form_and_sees_the_newest_version_where_they_answer_an_older_one(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn(AtAPostcode);
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await Quote(host, job, 48000);
        var page = await PublicPageTests.Link(host, job, "decide");
        await Quote(host, job, 52000);

        var old = await (await host.Stranger.Send(HttpMethod.Post, $"{page}/answer", "quote=1&accepted=yes&secondFactor=ab1+2cd", Form)).Problem();
        Assert.Equal(("quote-superseded", 409), (old.Code, old.Status));
        Assert.Equal((2, 52000), (old.Whole.GetProperty("newest").GetProperty("version").GetInt32(), old.Whole.GetProperty("newest").GetProperty("totalMinor").GetInt64()));
        Assert.Equal(["crystal"], old.Whole.GetProperty("newest").GetProperty("lines").EnumerateArray().Where(line => line.GetProperty("optional").GetBoolean()).Select(line => line.Text("id")));

        var consent = (await host.Stranger.Get(page)).GetProperty("quote").Text("consentText");
        var other = await (await host.Stranger.Send(HttpMethod.Post, $"{page}/answer", $"quote=2&accepted=yes&secondFactor=0018&consentText={Uri.EscapeDataString("Whatever it costs.")}", Form)).Problem();
        Assert.Equal(["/consentText"], other.Pointers);

        // As a browser sends it, the button along with it.
        var sent = $"quote=2&accepted=on&option.crystal=yes&secondFactor=AB1+2CD&consentText={Uri.EscapeDataString(consent)}&send=Send";
        using var first = await host.Stranger.Send(HttpMethod.Post, $"{page}/answer", sent, Form);
        using var again = await host.Stranger.Send(HttpMethod.Post, $"{page}/answer", sent, Form);
        var answer = await first.Json();
        Assert.Equal((2, true, 58000), (answer.GetProperty("quote").GetInt32(), answer.GetProperty("accepted").GetBoolean(), answer.GetProperty("agreedMinor").GetInt64()));
        Assert.True(answer.GetProperty("promise").TryGetProperty("by", out _));
        Assert.Equal(await first.Content.ReadAsStringAsync(), await again.Content.ReadAsStringAsync());
        Assert.Equal("*", Assert.Single(first.Headers.GetValues("Access-Control-Allow-Origin")));

        var other2 = await (await host.Stranger.PostJson($"{page}/answer", """{ "quote": 2, "accepted": false, "secondFactor": "0018" }""")).Problem();
        Assert.Equal(("quote-answered", true), (other2.Code, other2.Whole.GetProperty("accepted").GetBoolean()));
        Assert.Equal("approved", (await host.Stranger.Get(page)).Text("stage"));

        // What the customer agreed to, and from where, stands in the journal; one answer, however often it was sent.
        var kept = await host.QueryFirst<string>("select data from journal where type = 'quote.answered' order by position desc limit 1");
        Assert.Contains(consent, System.Text.Json.JsonDocument.Parse(kept).RootElement.GetProperty("consentText").GetString());
        Assert.Contains("\"page\"", kept);
        Assert.Contains("127.0.0.1", kept);
        Assert.Equal(1, await host.QueryFirst<long>("select count(*) from journal where type = 'quote.answered'"));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task After_five_wrong_tries_a_day_only_the_desk_helps_also_after_a_restart(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job);
        var (page, second) = (await PublicPageTests.Link(host, job, "decide"), await PublicPageTests.Link(host, job, "decide"));
        for (var left = 4; left >= 1; left--)
        {
            var wrong = await (await host.Stranger.PostJson($"{page}/answer", """{ "quote": 1, "accepted": true, "secondFactor": "9999" }""")).Problem();
            Assert.Equal(("second-factor-wrong", 403, left), (wrong.Code, wrong.Status, wrong.Whole.GetProperty("triesLeft").GetInt32()));
        }

        // The street and its number are no postcode, and a try is a try whichever form it is made with.
        Assert.Equal("second-factor-wrong", (await (await host.Stranger.PostJson($"{page}/answer", """{ "quote": 1, "accepted": true, "secondFactor": "3 Tallow Lane" }""")).Problem()).Code);
        await host.Restart();

        using var used = await host.Stranger.PostJson($"{page}/answer", """{ "quote": 1, "accepted": true, "secondFactor": "0018" }""");
        Assert.Equal(("tries-used-up", 429), ((await used.Problem()).Code, (int)used.StatusCode));
        Assert.InRange(used.Headers.RetryAfter!.Delta!.Value, TimeSpan.FromHours(1), TimeSpan.FromHours(24));
        Assert.Equal("tries-used-up", (await (await host.Stranger.PostJson($"{page}/claim", """{ "text": "it stops", "secondFactor": "0018" }""")).Problem()).Code);

        // Another link of the same watch has its own count; the next day begins anew.
        Assert.Equal("second-factor-wrong", (await (await host.Stranger.PostJson($"{second}/answer", """{ "quote": 1, "accepted": true, "secondFactor": "9999" }""")).Problem()).Code);
        host.Clock.Advance(Duration.FromHours(24));
        using var next = await host.Stranger.PostJson($"{page}/answer", """{ "quote": 1, "accepted": true, "secondFactor": "0018" }""");
        Assert.Equal(HttpStatusCode.OK, next.StatusCode);

        // What was wrong yesterday is forgotten with the first wrong try of today.
        Assert.Equal("second-factor-wrong", (await (await host.Stranger.PostJson($"{page}/answer", """{ "quote": 1, "accepted": true, "secondFactor": "9999" }""")).Problem()).Code);
        Assert.Equal(2, await host.QueryFirst<long>("select sum(tries) from public_try"));
    }

    [Theory]
    [BothEngines]
    public async Task A_report_of_wear_and_a_claim_from_the_page_are_each_kept_once_and_the_day_reported_counts(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandOverTests.Ready(host);
        var page = await PublicPageTests.Link(host, label, "status");
        Assert.Equal("not-handed-over", (await (await host.Stranger.PostJson($"{page}/claim", """{ "text": "it stops", "secondFactor": "0018" }""")).Problem()).Code);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected" }""")).Json();
        host.SetTo(2025, 3, 24, 10);

        var shown = await host.Stranger.Get(page);
        Assert.Equal(("yours-again", "nobody"), (shown.Text("stage"), shown.Text("waitingOn")));
        Assert.EndsWith("/claim", shown.GetProperty("links").Text("claim"), StringComparison.Ordinal);
        Assert.Equal((3.8m, 25m, "tested to 3 bar on 13 March 2025"), (shown.GetProperty("tested").GetProperty("ratePerDaySeconds").GetDecimal(), shown.GetProperty("tested").GetProperty("overHours").GetDecimal(), shown.GetProperty("tested").Text("waterResistance")));
        Assert.NotEmpty(shown.GetProperty("warranty").EnumerateArray());

        const string TwoMinutes = "amount=2&unit=minutes&direction=gains&overDays=7&secondFactor=0018&text=";
        using var told = await host.Stranger.Send(HttpMethod.Post, $"{page}/wear-report", TwoMinutes, Form);
        using var twice = await host.Stranger.Send(HttpMethod.Post, $"{page}/wear-report", TwoMinutes, Form);
        var report = await told.Json();
        Assert.Equal((1, 17m, 5m, false), (report.GetProperty("report").GetInt32(), report.GetProperty("ratePerDaySeconds").GetDecimal(), report.GetProperty("plusMinus").GetDecimal(), report.GetProperty("asksBack").GetBoolean()));
        Assert.Equal(await told.Content.ReadAsStringAsync(), await twice.Content.ReadAsStringAsync());
        var german = await (await host.Stranger.Send(HttpMethod.Post, $"{page}/wear-report?language=de", "amount=2,5&unit=minutes&overDays=7&secondFactor=0018", Form)).Json();
        Assert.Equal((2, true), (german.GetProperty("report").GetInt32(), german.GetProperty("asksBack").GetBoolean()));
        Assert.Contains("Geht sie vor oder nach?", Assert.Single(german.Texts("words")), StringComparison.Ordinal);

        using var claimed = await host.Stranger.Send(HttpMethod.Post, $"{page}/claim", "text=It+stops+at+night.&secondFactor=0018", Form);
        using var sameClaim = await host.Stranger.PostJson($"{page}/claim", """{ "text": "It stops at night.", "secondFactor": "0018" }""");
        Assert.Equal((1, "2025-03-24", "2025-04-23"), ((await claimed.Json()).GetProperty("claim").GetInt32(), (await claimed.Json()).Text("reportedOn"), (await claimed.Json()).Text("arrivesBy")));
        Assert.Equal(await claimed.Content.ReadAsStringAsync(), await sameClaim.Content.ReadAsStringAsync());
        var after = await host.Stranger.Get(page);
        Assert.Equal(("us", "claim", "reported"), (after.Text("waitingOn"), after.Text("waitingFor"), after.GetProperty("claim").Text("state")));
        Assert.Single((await host.Desk.Get($"/v1/jobs/{label}/claims")).GetProperty("items").EnumerateArray());
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task A_quote_is_good_until_midnight_of_its_last_day_and_a_status_page_decides_nothing()
    {
        await using var host = await Counter.Open();
        host.SetTo(2026, 3, 2, 10);
        var job = await host.TakeIn();
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job, """, "validThrough": "2026-03-10" """);
        var (page, status) = (await PublicPageTests.Link(host, job, "decide"), await PublicPageTests.Link(host, job, "status"));
        const string Yes = """{ "quote": 1, "accepted": true, "secondFactor": "0018" }""";

        Assert.Equal("no-such-page", (await (await host.Stranger.PostJson($"{status}/answer", Yes)).Problem()).Code);
        host.SetTo(2026, 3, 11, 0);
        host.Clock.Advance(Duration.FromSeconds(30));
        var late = await (await host.Stranger.PostJson($"{page}/answer", Yes)).Problem();
        Assert.Equal(("quote-expired", "2026-03-10"), (late.Code, late.Whole.GetProperty("validThrough").GetString()));
        Assert.Equal(("being-examined", "us"), ((await host.Stranger.Get(page)).Text("stage"), (await host.Stranger.Get(page)).Text("waitingOn")));

        host.SetTo(2026, 3, 10, 23, 59);
        host.Clock.Advance(Duration.FromSeconds(30));
        Assert.Equal("your-decision", (await host.Stranger.Get(page)).Text("stage"));
        Assert.True((await (await host.Stranger.PostJson($"{page}/answer", Yes)).Json()).GetProperty("accepted").GetBoolean());
    }

    [Fact]
    public async Task Who_can_tell_nothing_that_the_shop_asks_for_is_sent_to_the_desk_and_no_try_is_counted()
    {
        await using var host = await Counter.Open();
        await host.Save("rules", "main", """{ "publicPages": { "secondFactor": "postcode" } }""");
        var page = await PublicPageTests.Link(host, await host.TakeIn(), "decide");

        using var sent = await host.Stranger.PostJson($"{page}/claim", """{ "text": "it stops", "secondFactor": "0018" }""");

        Assert.Equal(("ask-the-desk", 409), ((await sent.Problem()).Code, (int)sent.StatusCode));
        Assert.Equal(0, await host.QueryFirst<long>("select count(*) from public_try"));
    }

    private static async Task Quote(WorkshopHost host, string job, long minor) => await (await host.Desk.PostJson(
        $"/v1/jobs/{job}/quotes",
        $$"""
        { "lines": [ { "text": "Full service", "amountMinor": {{minor}}, "taxRate": 20 }, { "id": "crystal", "text": "New crystal", "kind": "part", "amountMinor": 6000, "taxRate": 20, "optional": true, "recommended": true } ],
          "currency": "GBP" }
        """)).Json();
}
