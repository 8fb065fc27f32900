using System.Net;
using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Shop;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Money;

/// <summary>What was agreed, paid and is still owed; the quote of these tests is 480.00.</summary>
public class PaymentTests
{
    private const string KeptHere = """{ "money": { "kept": "here" } }""";

    [Theory]
    [BothEngines]
    public async Task Where_money_is_kept_here_the_last_payment_settles_the_job(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Change("/v1/rules", KeptHere);
        var job = await host.TakeIn();
        await host.Approve(job);

        var deposit = await Pay(host, job, "deposit", 20_000);
        using var settled = await host.TrySay(job, "stage.finished", """{ "stage": "settlement", "person": "mara" }""");
        var balance = await Pay(host, job, "balance", 28_000);
        var account = await host.Desk.Get($"/v1/jobs/{job}/account");

        Assert.Equal((28_000, false), (deposit.GetProperty("dueMinor").GetInt64(), deposit.GetProperty("settled").GetBoolean()));
        Assert.Equal("account-settled", (await settled.Problem()).Code);
        Assert.Equal((0, false), (balance.GetProperty("dueMinor").GetInt64(), balance.GetProperty("settled").GetBoolean()));
        Assert.Equal(["agreed 48000 48000", "deposit 20000 28000", "balance 28000 0"], account.GetProperty("lines").EnumerateArray().Select(
            line => $"{line.Text("what")} {line.GetProperty("amountMinor").GetInt64()} {line.GetProperty("dueMinor").GetInt64()}"));
        Assert.Equal("Nothing is owed; 480.00 GBP was asked", account.Text("words"));

        // What is owed is final with the final control.
        await host.Service(job);
        Assert.True((await host.Desk.Get($"/v1/jobs/{job}/account")).GetProperty("settled").GetBoolean());
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_dearer_part_is_owed_and_asked_about_at_the_door(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Change("/v1/rules", KeptHere);
        var job = await host.TakeIn();
        await host.Approve(job);
        await Pay(host, job, "balance", 48_000);
        await host.SendQuote(job);
        await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes", """{ "lines": [ { "text": "Full service", "amountMinor": 50000 } ], "currency": "GBP" }""")).Json();
        await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes/3/answer", """{ "accepted": true }""")).Json();

        var account = await host.Desk.Get($"/v1/jobs/{job}/account");
        var gone = await (await host.Desk.PostJson($"/v1/jobs/{job}/hand-over", """{ "how": "collected" }""")).Problem();

        Assert.Equal((2_000, false), (account.GetProperty("dueMinor").GetInt64(), account.GetProperty("settled").GetBoolean()));
        Assert.Contains("account-settled", gone.Whole.GetProperty("against").EnumerateArray().Select(one => one.Text("gate")));
    }

    [Theory]
    [BothEngines]
    public async Task A_customer_with_an_account_takes_the_watch_along(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Change("/v1/rules", KeptHere);
        var job = await host.TakeIn();
        await host.Approve(job);

        var account = await (await host.Desk.Put($"/v1/jobs/{job}/account", """{ "onAccount": true, "reason": "pays at the end of the month" }""")).Json();

        Assert.Equal((48_000, true, true), (account.GetProperty("dueMinor").GetInt64(), account.GetProperty("onAccount").GetBoolean(), account.GetProperty("settled").GetBoolean()));
    }

    [Fact]
    public async Task Where_money_is_kept_elsewhere_the_desk_says_when_it_is_settled()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        await host.Approve(job);

        var paid = await Pay(host, job, "balance", 48_000);
        using var settled = await host.TrySay(job, "stage.finished", """{ "stage": "settlement", "person": "mara" }""");

        Assert.False(paid.GetProperty("settled").GetBoolean());
        Assert.Equal(HttpStatusCode.OK, settled.StatusCode);
        Assert.Equal("elsewhere", paid.Text("kept"));
    }

    [Fact]
    public async Task Money_paid_back_is_owed_no_longer_and_never_more_than_was_paid()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        await host.Approve(job);
        var over = await Pay(host, job, "balance", 50_000);

        var more = await (await host.Desk.PostJson($"/v1/jobs/{job}/payments", Body("refund", 50_001))).Problem();
        var back = await Pay(host, job, "refund", 2_000);

        Assert.Equal(2_000, over.GetProperty("refundMinor").GetInt64());
        Assert.Equal(["/amountMinor"], more.Pointers);
        Assert.Equal((0, 0), (back.GetProperty("dueMinor").GetInt64(), back.GetProperty("refundMinor").GetInt64()));
    }

    [Theory]
    [InlineData("""{ "kind": "balance", "amountMinor": 0, "currency": "GBP", "how": "cash" }""", "/amountMinor")]
    [InlineData("""{ "kind": "balance", "amountMinor": 9000000000000000000, "currency": "GBP", "how": "cash" }""", "/amountMinor")]
    [InlineData("""{ "kind": "balance", "amountMinor": 10.5, "currency": "GBP", "how": "cash" }""", "/amountMinor")]
    [InlineData("""{ "kind": "balance", "amountMinor": 10, "currency": "CHF", "how": "cash" }""", "/currency")]
    [InlineData("""{ "kind": "tip", "amountMinor": 10, "currency": "GBP", "how": "cash" }""", "/kind")]
    [InlineData("""{ "kind": "balance", "amountMinor": 10, "currency": "GBP", "how": "cash", "at": "2030-01-01T00:00:00Z" }""", "/at")]
    public async Task A_payment_that_cannot_be_is_not_written_down(string body, string pointer)
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        await host.Approve(job);

        var problem = await (await host.Desk.PostJson($"/v1/jobs/{job}/payments", body)).Problem();

        Assert.Equal([pointer], problem.Pointers);
        Assert.Equal(0, (await host.Desk.Get($"/v1/jobs/{job}/account")).GetProperty("paidMinor").GetInt64());
    }

    [Theory]
    [BothEngines]
    public async Task Sent_twice_it_is_paid_once_and_whoever_has_a_number_proves_it(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        await host.Approve(job);
        await host.Save("people", "vera", """{"id":"vera","name":"Vera"}""");
        Assert.Equal(HttpStatusCode.NoContent, (await host.Manager.Put("/v1/people/vera/proof", """{ "proof": "471147" }""")).StatusCode);
        var told = Body("deposit", 10_000, """, "person": "vera", "proof": "471147" """);

        var missing = await (await host.Desk.PostJson($"/v1/jobs/{job}/payments", Body("deposit", 10_000, """, "person": "vera" """))).Problem();
        var wrong = await (await host.Desk.PostJson($"/v1/jobs/{job}/payments", Body("deposit", 10_000, """, "person": "vera", "proof": "471148" """))).Problem();
        await (await host.Desk.PostJson($"/v1/jobs/{job}/payments", told, ("Idempotency-Key", "pay-1"))).Json();
        using var again = await host.Desk.PostJson($"/v1/jobs/{job}/payments", told, ("Idempotency-Key", "pay-1"));

        Assert.Equal(("proof", "proof"), (missing.Code, wrong.Code));
        Assert.Equal("true", again.Headers.GetValues("Idempotency-Replayed").Single());
        Assert.Equal(10_000, (await host.Desk.Get($"/v1/jobs/{job}/account")).GetProperty("paidMinor").GetInt64());
        var kept = (await host.Services.GetRequiredService<Reader>().Journal(WorkshopHost.Site, 0, Reader.LongestPage)).Select(row => row.Data + row.Judged);
        Assert.DoesNotContain(kept, text => text.Contains("471147"));
    }

    [Fact]
    public async Task A_further_quote_keeps_to_the_currency_of_what_was_paid()
    {
        await using var host = await Counter.Open();
        await host.Change("/v1/rules", KeptHere);
        var job = await host.TakeIn();
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job);
        await Pay(host, job, "deposit", 48_000);

        var other = await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes", """{ "lines": [ { "text": "Full service", "amountMinor": 48000 } ], "currency": "JPY" }""")).Problem();
        var account = await host.Desk.Get($"/v1/jobs/{job}/account");

        Assert.Equal(["/currency"], other.Pointers);
        Assert.Equal(("GBP", 0, false), (account.Text("currency"), account.GetProperty("refundMinor").GetInt64(), account.GetProperty("settled").GetBoolean()));
    }

    [Fact]
    public async Task Another_kind_of_work_is_not_settled_by_what_was_agreed_before()
    {
        await using var host = await Counter.Open();
        await host.Change("/v1/rules", KeptHere);
        var job = await host.TakeIn();
        await host.Approve(job);
        await (await host.Manager.PostJson($"/v1/jobs/{job}/variant", """{ "variant": "full-chronograph", "reason": "it is one", "person": "mara" }""")).Json();

        var paid = await Pay(host, job, "balance", 48_000);

        Assert.Equal((false, false, 0), (paid.GetProperty("settled").GetBoolean(), paid.TryGetProperty("askedMinor", out _), paid.GetProperty("refundMinor").GetInt64()));
        Assert.Equal([48_000, 0, 0], paid.GetProperty("lines").EnumerateArray().Select(line => line.GetProperty("dueMinor").GetInt32()));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task Nobody_is_put_on_account_without_a_word_why()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();

        var problem = await (await host.Desk.Put($"/v1/jobs/{job}/account", """{ "onAccount": true, "reason": "   " }""")).Problem();

        Assert.Equal(["/reason"], problem.Pointers);
    }

    [Fact]
    public async Task Benches_and_walls_never_see_an_amount()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        await host.Approve(job);
        await Pay(host, job, "deposit", 13_717);

        foreach (var role in new[] { Role.Bench, Role.Wall })
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await host.As(role).GetAsync($"/v1/jobs/{job}/account")).StatusCode);
            foreach (var address in new[] { $"/v1/jobs/{job}", $"/v1/jobs/{job}/history?limit=500", "/v1/changes?after=0&limit=500", "/v1/jobs" })
            {
                Assert.DoesNotContain("13717", await host.As(role).GetStringAsync(address));
            }
        }

        Assert.Contains("13717", await host.Desk.GetStringAsync($"/v1/jobs/{job}/history?limit=500"));
    }

    private static async Task<JsonElement> Pay(WorkshopHost host, string job, string kind, long amountMinor) =>
        await (await host.Desk.PostJson($"/v1/jobs/{job}/payments", Body(kind, amountMinor))).Json();

    private static string Body(string kind, long amountMinor, string more = "") => $$"""{ "kind": "{{kind}}", "amountMinor": {{amountMinor}}, "currency": "GBP", "how": "card"{{more}} }""";
}
