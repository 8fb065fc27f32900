using System.Text;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Storefront;

/// <summary>What is ordered is waited for, becomes a job when it stands on the desk, or ends.</summary>
public class ArrivalTests
{
    [Theory]
    [BothEngines]
    public async Task An_ordered_watch_becomes_a_job_with_its_customer_its_wishes_and_its_money(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered(lines: $"{Story.Line("1", amount: 48_001)}, {Story.Line("2", "service-chronograph", amount: 60_000)}", more: """, "wishes": { "polish": "no", "oldPartsBack": true }"""));
        await shop.Tell(Story.Paid("p-1", 108_001));
        var (first, second) = (await shop.ArrivalOf("2041"), await shop.ArrivalOf("2041", "2"));

        var taken = await TakeIn(host, first, """, "watch": { "words": "an automatic", "caseSerial": "20-417", "calibre": { "kind": "automatic" } }""");
        await shop.Tell(Story.Paid("p-2", 10_800));
        var other = await TakeIn(host, second, """, "watch": { "words": "a chronograph", "caseSerial": "20-418" }""");

        var (job, otherJob) = (taken.Text("label"), other.Text("label"));
        var seen = await host.Desk.Get($"/v1/jobs/{job}/intake");
        Assert.Equal(("full-automatic", "full-chronograph"), (taken.Text("variant"), other.Text("variant")));
        Assert.Equal(taken.Text("customer"), other.Text("customer"));
        Assert.Equal("Ida Marlow", (await host.Desk.Get($"/v1/customers/{taken.Text("customer")}")).Text("name"));
        Assert.Equal(("no", true), (seen.GetProperty("wishes").Text("polish"), seen.GetProperty("wishes").GetProperty("oldPartsBack").GetBoolean()));
        Assert.Empty(taken.Texts("differsFromOrder"));
        Assert.Equal([second], taken.Texts("expectedBesides"));
        var (paid, otherPaid) = (await Paid(host, job), await Paid(host, otherJob));
        Assert.Equal(118_801, paid + otherPaid);
        Assert.InRange(paid, 52_799, 52_803);
        var arrival = await host.Desk.Get($"/v1/arrivals/{first}");
        Assert.Equal(("arrived", job), (arrival.Text("state"), arrival.Text("job")));
        Assert.Empty(await shop.Arrivals("expected"));
        var again = await (await host.Desk.PostJson("/v1/jobs", $$"""{ "expected": "{{first}}" }""")).Problem();
        Assert.Equal(("not-expected", job), (again.Code, again.Whole.Text("job")));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task The_storefront_is_given_the_page_of_a_watch_it_sent_and_the_one_on_which_its_customer_decides()
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered());
        var job = (await TakeIn(host, await shop.ArrivalOf("2041"), """, "watch": { "words": "an automatic", "caseSerial": "20-417" }""")).Text("label");
        var walkedIn = await host.TakeIn(Counter.LeastIntake);
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job);

        var told = (await host.Services.GetRequiredService<Reader>().Query<(string Type, string Body)>("select type, body from outbox order by position", null, default))
            .Select(one => (one.Type, Data: JsonElement.Parse(one.Body))).ToArray();
        JsonElement Of(string type, string label) => told.Single(one => one.Type == type && one.Data.Text("job") == label).Data;
        var page = await host.Stranger.Get(Of("job.received", job).Text("publicAddress"));
        var decide = await host.Stranger.Get(Of("quote.issued", job).Text("answerAddress"));

        Assert.Equal(job, page.Text("reference"));
        Assert.False(page.TryGetProperty("quote", out _));
        Assert.Equal(1, decide.GetProperty("quote").GetProperty("n").GetInt32());

        // Nobody shows a page of a watch that came over the counter; the desk makes a link when somebody asks.
        Assert.False(Of("job.received", walkedIn).TryGetProperty("publicAddress", out _));
    }

    [Theory]
    [BothEngines]
    public async Task A_watch_that_has_not_come_for_fourteen_days_is_asked_for(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered(), Story.Paid("p-1", 48_000, at: "2026-03-02T08:10:00Z"), Story.KitSent(at: "2026-03-04T08:30:00Z"));
        var label = await shop.ArrivalOf("2041");

        // From the 4th on, when the packing was sent: the 18th is the last day, and ends at midnight in Zurich.
        host.Clock.Reset(Instant.FromUtc(2026, 3, 18, 22, 59, 59));
        await host.Sweep();
        var before = await Announced(host);
        host.Clock.Reset(Instant.FromUtc(2026, 3, 18, 23, 0, 1));
        await host.Sweep();
        await host.Sweep();
        var row = Assert.Single((await host.Desk.Get("/v1/agenda")).GetProperty("items").EnumerateArray(), one => one.Text("kind") == "arrival-overdue");

        Assert.Equal(0, before);
        Assert.Equal(1, await Announced(host));
        Assert.Equal((label, "2026-03-18T23:00:00Z"), (row.Text("ref"), row.Text("due")));
        Assert.Equal(["arrival.expected", "arrival.overdue"], await Messages(host, label));
        await TakeIn(host, label);
        Assert.DoesNotContain((await host.Desk.Get("/v1/agenda")).GetProperty("items").EnumerateArray(), one => one.Text("kind") == "arrival-overdue");
    }

    [Fact]
    public async Task An_order_that_is_cancelled_before_the_watch_came_ends_the_waiting()
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered());
        var label = await shop.ArrivalOf("2041");

        var told = await shop.Tell(Story.Cancelled());

        Assert.Empty(told.Texts("flags"));
        var arrival = await host.Desk.Get($"/v1/arrivals/{label}");
        Assert.Equal(("ended", "cancelled"), (arrival.Text("state"), arrival.Text("reason")));
        Assert.Equal("not-expected", (await (await host.Desk.PostJson("/v1/jobs", $$"""{ "expected": "{{label}}" }""")).Problem()).Code);
        Assert.DoesNotContain((await host.Desk.Get("/v1/agenda")).GetProperty("items").EnumerateArray(), one => one.Text("kind") == "arrival-overdue");
    }

    [Theory]
    [BothEngines]
    public async Task An_order_that_is_cancelled_when_the_watch_is_here_sends_it_back_unrepaired_unless_work_was_agreed(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered(), Story.Ordered("2042", customer: Story.Customer.Replace("c-9", "c-10", StringComparison.Ordinal)));
        var undecided = (await TakeIn(host, await shop.ArrivalOf("2041"))).Text("label");
        var agreed = (await TakeIn(host, await shop.ArrivalOf("2042"))).Text("label");
        await host.Say(agreed, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(agreed);
        await (await host.Desk.PostJson($"/v1/jobs/{agreed}/quotes/1/answer", """{ "accepted": true }""")).Json();

        var simple = await shop.Tell(Story.Cancelled());
        var flagged = await shop.Tell(Story.Cancelled("2042"));
        var again = await shop.Tell(new Told("again", "order.cancelled", """{ "order": "2041" }"""));

        Assert.Empty(simple.Texts("flags"));
        Assert.Empty(again.Texts("flags"));
        Assert.Equal(["cancelled-after-arrival"], flagged.Texts("flags"));
        Assert.Equal(("return-unrepaired", "full-automatic"), ((await host.Desk.Get($"/v1/jobs/{undecided}")).Text("variant"), (await host.Desk.Get($"/v1/jobs/{agreed}")).Text("variant")));
        Assert.Equal(["order.cancelled cancelled-after-arrival"], await shop.Flagged());
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task What_stands_on_the_desk_otherwise_than_ordered_is_said_and_gets_its_own_kind_of_work()
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered(lines: $"{Story.Line("1", more: ", \"serial\": \"11-222\"")}, {Story.Line("2", "no-such-product")}"));

        var taken = await TakeIn(host, await shop.ArrivalOf("2041"), """, "watch": { "words": "a chronograph", "caseSerial": "77-001", "calibre": { "kind": "chronograph" } }""");
        var unknown = await TakeIn(host, await shop.ArrivalOf("2041", "2"), """, "watch": { "words": "an automatic", "calibre": { "kind": "automatic" } }""");

        Assert.Equal(["work", "serial"], taken.Texts("differsFromOrder"));
        Assert.Equal("full-chronograph", taken.Text("variant"));
        Assert.Empty(unknown.Texts("differsFromOrder"));
        Assert.Equal(["order.created unknown-product"], await shop.Flagged());
    }

    [Fact]
    public async Task One_watch_under_two_orders_is_one_job()
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered(lines: Story.Line("1", more: ", \"serial\": \"20 417\"")), Story.Ordered("2042", lines: Story.Line("1", more: ", \"serial\": \"20-417\"")), Story.Ordered("2043"));
        var (first, second, third) = (await shop.ArrivalOf("2041"), await shop.ArrivalOf("2042"), await shop.ArrivalOf("2043"));

        var taken = await TakeIn(host, first, """, "watch": { "words": "an automatic", "caseSerial": "20-417" }""");
        var here = await (await host.Desk.PostJson("/v1/jobs", $$"""{ "expected": "{{third}}", "watch": { "words": "the same", "caseSerial": "20417" } }""")).Problem();
        var ended = await (await host.Desk.PostJson($"/v1/arrivals/{third}/end", $$"""{ "reason": "same-watch", "job": "{{taken.Text("label")}}" }""")).Json();

        var same = await host.Desk.Get($"/v1/arrivals/{second}");
        Assert.Equal(("ended", "same-watch", taken.Text("label")), (same.Text("state"), same.Text("reason"), same.Text("job")));
        Assert.Equal([third], taken.Texts("expectedBesides"));
        Assert.Equal(("watch-is-here", taken.Text("label")), (here.Code, here.Whole.Text("job")));
        Assert.Equal("same-watch", ended.Text("reason"));

        // A later state of that order does not wake it again.
        await shop.Tell(Story.Ordered("2043", revision: 2));
        Assert.Equal("ended", (await host.Desk.Get($"/v1/arrivals/{third}")).Text("state"));
    }

    [Fact]
    public async Task While_a_payment_is_disputed_the_watch_stays()
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered(), Story.Paid("p-1", 48_000));
        var job = (await TakeIn(host, await shop.ArrivalOf("2041"))).Text("label");
        string Dispute(string more) => $$"""{ "order": "2041", "payment": "p-1", "amountMinor": 48000, "currency": "GBP"{{more}} }""";

        await shop.Tell(new Told("d-1", "payment.disputed", Dispute(", \"at\": \"2026-03-03T08:00:00Z\"")));
        var held = (await host.Desk.Get($"/v1/jobs/{job}")).GetRawText();
        await shop.Tell(new Told("d-2", "payment.dispute-closed", Dispute(", \"at\": \"2026-03-04T08:00:00Z\", \"kind\": \"kept\"")));
        var free = (await host.Desk.Get($"/v1/jobs/{job}")).GetRawText();

        Assert.Contains("\"dispute\"", held, StringComparison.Ordinal);
        Assert.NotEqual(held, free);
        Assert.DoesNotContain("\"reason\":\"dispute\"", free.Replace(" ", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Equal(["payment.disputed payment-disputed"], await shop.Flagged());
    }

    [Fact]
    public async Task A_quote_a_claim_and_a_report_come_through_the_storefront_as_they_would_at_the_desk()
    {
        await using var host = await Counter.Open();
        var (shop, job) = await Quoted(host);
        await host.SendQuote(job);

        var old = await shop.Tell(Answered(job, 1));
        var newest = await shop.Tell(Answered(job, 2));
        var again = await shop.Tell(Answered(job, 2) with { Id = "answered-again" });
        var early = await shop.Tell(new Told("claim-1", "claim.reported", $$"""{ "job": "{{job}}", "text": "it stops again" }"""));

        Assert.Equal(["old-quote"], old.Texts("flags"));
        Assert.Empty(newest.Texts("flags"));
        Assert.Empty(again.Texts("flags"));
        Assert.Equal(["refused"], early.Texts("flags"));
        Assert.Contains("version 2 is the newest", (await host.Desk.Get("/v1/storefront/received?flagged=true")).GetRawText(), StringComparison.Ordinal);
        var quotes = (await host.Desk.Get($"/v1/jobs/{job}/quotes")).GetRawText();
        Assert.Contains("\"channel\":\"storefront\"", quotes, StringComparison.Ordinal);
        Assert.Contains("storefront", (await host.Desk.Get($"/v1/jobs/{job}/history")).GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_a_customer_said_before_something_that_rests_on_the_opposite_waits_for_a_person()
    {
        await using var host = await Counter.Open();
        var (shop, job) = await Quoted(host);
        await host.Advance(Duration.FromHours(2));
        await host.Say(job, "stage.finished", """{ "stage": "takedown", "person": "mara", "despite": ["needs/quote"] }""");
        await host.Advance(Duration.FromHours(2));

        var late = await shop.Tell(new Told("late-answer", "quote.answered", $$"""{ "job": "{{job}}", "quote": 1, "accepted": false, "at": "2026-03-02T10:00:00Z" }"""));

        Assert.Equal(["for-review"], late.Texts("flags"));
    }

    [Fact]
    public async Task What_a_customer_tells_of_a_job_of_another_house_or_desk_is_not_followed()
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);
        var job = await host.TakeIn();
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job);

        var told = await shop.Tell(Answered(job, 1));

        Assert.Equal(["unknown-job"], told.Texts("flags"));
        Assert.DoesNotContain("\"accepted\":true", (await host.Desk.Get($"/v1/jobs/{job}/quotes")).GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_desk_expects_a_watch_by_telephone_and_prints_its_slip()
    {
        await using var host = await Counter.Open();
        var made = await (await host.Desk.PostJson("/v1/arrivals", """{ "customer": { "name": "Ida Marlow", "telephone": "01632 960 117" }, "words": "her father's watch", "variant": "regulation" }""")).Json();

        using var slip = await host.Desk.GetAsync(made.Text("slip"));
        var bytes = await slip.Content.ReadAsByteArrayAsync();
        var taken = await TakeIn(host, made.Text("label"));

        Assert.Equal("application/pdf", slip.Content.Headers.ContentType?.MediaType);
        Assert.Equal("%PDF", Encoding.ASCII.GetString(bytes[..4]));
        Assert.Equal(("regulation", made.Text("customer")), (taken.Text("variant"), taken.Text("customer")));
        Assert.Equal("her father's watch", (await host.Desk.Get($"/v1/watches/{taken.Text("watch")}")).GetProperty("watch").Text("words"));
        using var foreign = await host.As(Workshop.Service.Http.Keys.Role.Storefront).GetAsync(made.Text("slip"));
        Assert.Equal(404, (int)foreign.StatusCode);
    }

    [Fact]
    public async Task A_customer_who_moves_next_month_moves_on_that_day_and_what_the_desk_put_right_stays()
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered());
        var customer = (await shop.Arrivals())[0].Text("customer");
        var seen = await host.Desk.GetAsync($"/v1/customers/{customer}");
        await (await host.Desk.Put($"/v1/customers/{customer}", """{ "name": "Ida Marlow-Finch", "email": "ida@marlow.example", "address": "3 Tallow Lane", "language": "en" }""", seen.Headers.ETag!.ToString())).Json();

        await shop.Tell(new Told("moves", "customer.changed", """{ "ref": "c-9", "address": "9 Gorse Hill", "validFrom": "2026-04-01" }"""));
        var before = await host.Desk.Get($"/v1/customers/{customer}");
        host.Clock.Reset(Instant.FromUtc(2026, 3, 31, 22, 30));
        await Microsoft.Extensions.DependencyInjection.ActivatorUtilities.CreateInstance<Workshop.Service.Tasks.LookAtTheHouse>(host.Services).Run(CancellationToken.None);
        var after = await host.Desk.Get($"/v1/customers/{customer}");

        Assert.Equal(("3 Tallow Lane", "9 Gorse Hill"), (before.Text("address"), after.Text("address")));
        Assert.Equal("Ida Marlow-Finch", after.Text("name"));
    }

    /// <summary>A watch that a storefront had announced, looked at and quoted for.</summary>
    private static async Task<(TestStorefront Shop, string Job)> Quoted(WorkshopHost host)
    {
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered());
        var job = (await TakeIn(host, await shop.ArrivalOf("2041"))).Text("label");
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job);
        return (shop, job);
    }

    private static Told Answered(string job, int quote) => new(
        $"answered-{quote}", "quote.answered", $$"""{ "job": "{{job}}", "quote": {{quote}}, "accepted": true, "options": [], "consentText": "I agree to the work and its price." }""", "2026-03-02T10:00:00Z");

    private static async Task<System.Text.Json.JsonElement> TakeIn(WorkshopHost host, string arrival, string more = "") =>
        await (await host.Desk.PostJson("/v1/jobs", $$"""{ "expected": "{{arrival}}", "declaredValueMinor": 90000, "currency": "GBP", "condition": "worn", "terms": { "acceptedOn": "2026-03-02" }{{more}} }""")).Json();

    private static async Task<long> Paid(WorkshopHost host, string job) => (await host.Desk.Get($"/v1/jobs/{job}/account")).GetProperty("paidMinor").GetInt64();

    private static Task<long> Announced(WorkshopHost host) => host.QueryFirst<long>("select count(*) from journal where type = 'due.announced' and data like '%arrival-overdue%'");

    private static async Task<string[]> Messages(WorkshopHost host, string label) =>
        [.. (await host.QueryFirst<string>("select coalesce(string_agg(type, ' '), '') from (select type from outbox where stream = @stream order by type) as told", new { stream = $"arrival/{label}" })).Split(' ')];
}
