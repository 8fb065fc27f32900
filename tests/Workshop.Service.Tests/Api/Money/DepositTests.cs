using System.Net;
using System.Text.Json;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Shop;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Money;

/// <summary>Money kept here, from the quote to the door; quotes of these tests are 480.00.</summary>
public class DepositTests
{
    private const string KeptHere = """{ "money": { "kept": "here", "depositSharePercent": 40, "depositAboveMinor": 30000 } }""";

    [Theory]
    [BothEngines]
    public async Task From_the_quote_to_the_door(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Change("/v1/rules", KeptHere);
        var job = await Quoted(host);
        Assert.Equal(19_200, (await host.Desk.Get($"/v1/jobs/{job}/quotes/1")).GetProperty("depositMinor").GetInt64());

        var approved = await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes/1/answer", """{ "accepted": true }""")).Json();
        Assert.Equal((false, "counted from the day the deposit comes"), (approved.TryGetProperty("promise", out _), approved.Text("words")));
        Assert.Equal("counted from the day the deposit comes", (await host.Desk.Get($"/v1/jobs/{job}/promise")).Text("words"));

        var early = await (await host.TrySay(job, "stage.started", """{ "stage": "takedown", "person": "mara" }""", host.Bench, "/devices/bench-1/1")).Problem();
        Assert.Equal(("deposit", false), (early.Code, early.Whole.TryGetProperty("depositMinor", out _)));

        // A nought too many, corrected; both stay visible.
        var wrong = await Pay(host, job, "deposit", 192_000);
        Assert.Equal((144_000, "1440.00 GBP to be paid back"), (wrong.GetProperty("refundMinor").GetInt64(), wrong.Text("words")));
        Assert.Equal(["/reason"], (await (await host.Desk.PostJson($"/v1/jobs/{job}/payments/1/correction", """{ "reason": " " }""")).Problem()).Pointers);
        Assert.Equal(HttpStatusCode.NotFound, (await host.Desk.PostJson($"/v1/jobs/{job}/payments/2/correction", """{ "reason": "typed wrong" }""")).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await host.Bench.PostJson($"/v1/jobs/{job}/payments/1/correction", """{ "reason": "typed wrong" }""")).StatusCode);
        await (await host.Desk.PostJson($"/v1/jobs/{job}/payments/1/correction", """{ "reason": "a nought too many" }""")).Json();
        var right = await Pay(host, job, "deposit", 19_200);
        Assert.Equal(
            ["agreed 48000 48000", "deposit 192000 0", "corrected 192000 48000", "deposit 19200 28800"],
            right.GetProperty("lines").EnumerateArray().Select(line => $"{line.Text("what")} {line.GetProperty("amountMinor").GetInt64()} {line.GetProperty("dueMinor").GetInt64()}"));
        Assert.StartsWith("by ", (await host.Desk.Get($"/v1/jobs/{job}/promise")).Text("words"));

        await host.Service(job);
        var unpaid = await (await host.Desk.PostJson($"/v1/jobs/{job}/hand-over", """{ "how": "collected" }""")).Problem();
        Assert.Equal(["needs/settlement", "account-settled"], unpaid.Whole.GetProperty("against").EnumerateArray().Select(one => one.Text("gate")));

        Assert.True((await Pay(host, job, "balance", 28_800)).GetProperty("settled").GetBoolean());
        Assert.True((await (await host.Desk.PostJson($"/v1/jobs/{job}/hand-over", """{ "how": "collected" }""")).Json()).GetProperty("handedOver").GetBoolean());
        var moved = (await (await host.Desk.PostJson("/v1/promises/moves", $$"""{ "moves": [ { "job": "{{job}}", "to": "{{NextOpenDay(host)}}", "reason": "other" } ] }""")).Json()).GetProperty("moves")[0];
        Assert.Equal(("refused", "handed-over"), (moved.Text("outcome"), moved.GetProperty("problem").Text("code")));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_refused_quote_costs_its_fee_and_the_rest_goes_back(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Change("/v1/rules", KeptHere);
        var job = await Quoted(host, """, "feeOnRefusalMinor": 4500, "depositMinor": 0""");
        Assert.Equal((4_500, false), (
            (await host.Desk.Get($"/v1/jobs/{job}/quotes/1")).GetProperty("feeOnRefusalMinor").GetInt64(), (await host.Desk.Get($"/v1/jobs/{job}/quotes/1")).TryGetProperty("depositMinor", out _)));
        await Pay(host, job, "deposit", 20_000);
        await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes/1/answer", """{ "accepted": false }""")).Json();
        await host.Say(job, "stage.finished", """{ "stage": "return-unrepaired", "person": "mara" }""");

        var account = await host.Desk.Get($"/v1/jobs/{job}/account");
        var door = await (await host.Desk.PostJson($"/v1/jobs/{job}/hand-over", """{ "how": "collected" }""")).Problem();
        var settled = await Pay(host, job, "refund", 15_500);

        Assert.Equal((4_500, 15_500, false), (account.GetProperty("askedMinor").GetInt64(), account.GetProperty("refundMinor").GetInt64(), account.GetProperty("settled").GetBoolean()));
        Assert.Equal(("account-settled", "15500"), (door.Code, door.Whole.Text("refundMinor")));
        Assert.True(settled.GetProperty("settled").GetBoolean());
        Assert.True((await host.Desk.PostJson($"/v1/jobs/{job}/hand-over", """{ "how": "collected" }""")).IsSuccessStatusCode);
    }

    [Fact]
    public async Task The_last_line_says_what_the_account_says_after_a_change_of_kind_there_and_back()
    {
        await using var host = await Counter.Open();
        await host.Change("/v1/rules", KeptHere);
        var job = await host.TakeIn();
        await host.Approve(job);
        await Pay(host, job, "deposit", 20_000);
        await (await host.Manager.PostJson($"/v1/jobs/{job}/variant", """{ "variant": "full-chronograph", "reason": "it is one", "person": "mara" }""")).Json();
        await (await host.Manager.PostJson($"/v1/jobs/{job}/variant", """{ "variant": "full-automatic", "reason": "it is none", "person": "mara" }""")).Json();

        var account = await host.Desk.Get($"/v1/jobs/{job}/account");

        Assert.Equal(["agreed", "deposit", "reopened"], account.GetProperty("lines").EnumerateArray().Select(line => line.Text("what")));
        Assert.Equal(account.GetProperty("dueMinor").GetInt64(), account.GetProperty("lines")[2].GetProperty("dueMinor").GetInt64());
        Assert.Equal("Nothing is agreed yet, 200.00 GBP paid", account.Text("words"));
    }

    [Fact]
    public async Task Work_without_a_quote_gets_its_price_from_the_desk_and_no_other_does()
    {
        await using var host = await Counter.Open();
        await host.Change("/v1/rules", KeptHere);
        var job = await host.TakeIn(Counter.WholeIntake.Replace("full-automatic", "cell-and-seals"));
        var quoted = await Quoted(host);

        const string Price = """{ "onAccount": false, "askedMinor": 4500, "currency": "GBP", "reason": "the list" }""";
        var asked = await (await host.Desk.Put($"/v1/jobs/{job}/account", Price)).Json();
        var other = await (await host.Desk.Put($"/v1/jobs/{quoted}/account", Price)).Problem();
        var half = await (await host.Desk.Put($"/v1/jobs/{job}/account", """{ "onAccount": false, "askedMinor": 4500, "reason": "the list" }""")).Problem();

        Assert.Equal((4_500, 4_500, "45.00 GBP still to be paid of 45.00 GBP"), (asked.GetProperty("askedMinor").GetInt64(), asked.GetProperty("dueMinor").GetInt64(), asked.Text("words")));
        Assert.Equal(["/askedMinor"], other.Pointers);
        Assert.Equal(["/currency"], half.Pointers);
        Assert.Equal("asked", asked.GetProperty("lines")[0].Text("what"));
    }

    [Fact]
    public async Task A_deposit_is_no_more_than_the_quote_and_a_correction_leaves_no_more_paid_back_than_paid()
    {
        await using var host = await Counter.Open();
        var job = await host.TakeIn();
        await host.Approve(job);
        var more = await (await host.Desk.PostJson(
            $"/v1/jobs/{job}/quotes", """{ "lines": [ { "text": "Full service", "amountMinor": 48000 } ], "currency": "GBP", "depositMinor": 48001 }""")).Problem();
        await Pay(host, job, "deposit", 20_000);
        await Pay(host, job, "refund", 5_000);

        var gone = await (await host.Desk.PostJson($"/v1/jobs/{job}/payments/1/correction", """{ "reason": "typed wrong" }""")).Problem();

        Assert.Equal(["/depositMinor"], more.Pointers);
        Assert.Equal([""], gone.Pointers);
        Assert.Equal(20_000, (await host.Desk.Get($"/v1/jobs/{job}/account")).GetProperty("paidMinor").GetInt64());
    }

    private static async Task<string> Quoted(WorkshopHost host, string more = "")
    {
        var job = await host.TakeIn();
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job, more);
        return job;
    }

    private static string NextOpenDay(WorkshopHost host)
    {
        var day = NodaTime.LocalDate.FromDateTime(host.Clock.GetCurrentInstant().ToDateTimeUtc()).PlusDays(7);
        return NodaTime.Text.LocalDatePattern.Iso.Format(day.With(NodaTime.DateAdjusters.NextOrSame(NodaTime.IsoDayOfWeek.Wednesday)));
    }

    private static async Task<JsonElement> Pay(WorkshopHost host, string job, string kind, long amountMinor) =>
        await (await host.Desk.PostJson($"/v1/jobs/{job}/payments", $$"""{ "kind": "{{kind}}", "amountMinor": {{amountMinor}}, "currency": "GBP", "how": "card" }""")).Json();
}
