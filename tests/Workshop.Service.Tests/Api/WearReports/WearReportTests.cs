using System.Net;
using System.Text.Json;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Warranties;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.WearReports;

public class WearReportTests
{
    private const string TwoMinutes = """{ "amount": 2, "unit": "minutes", "direction": "gains", "overDays": 7, "channel": "telephone", "text": "Two minutes fast after a week." }""";

    [Theory]
    [BothEngines]
    public async Task What_a_customer_tells_is_judged_shown_and_waits_until_the_desk_has_answered(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var label = await HandedOver(host);

        using var told = await host.Desk.PostJson($"/v1/jobs/{label}/wear-reports", TwoMinutes);
        var report = await told.Json();
        Assert.Equal((HttpStatusCode.Created, $"/v1/jobs/{label}/wear-reports/1"), (told.StatusCode, told.Headers.Location?.ToString()));
        Assert.Equal((17m, 5m, "outside"), (report.GetProperty("ratePerDaySeconds").GetDecimal(), report.GetProperty("plusMinusSeconds").GetDecimal(), report.Text("verdict")));
        Assert.Contains(report.Texts("words"), words => words == "About +17 ± 5 s/d, over 7 days.");
        Assert.Contains(Items(await host.Desk.Get("/v1/agenda")), row => row.Text("kind") == "wear-report" && row.Text("line") == "+17 ± 5 s/d on the wrist: invite the customer");

        // What a customer said is no matter of the benches; what it comes to is.
        var atTheBench = await host.Bench.Get($"/v1/jobs/{label}/wear-reports");
        Assert.False(Assert.Single(Items(atTheBench)).TryGetProperty("text", out _));

        using var answered = await host.Desk.PostJson($"/v1/jobs/{label}/wear-reports/1/answer", """{ "answer": "invited", "note": "Comes on Tuesday." }""");
        Assert.False((await answered.Json()).GetProperty("wantsAnswer").GetBoolean());
        Assert.DoesNotContain(Items(await host.Desk.Get("/v1/agenda")), row => row.Text("kind") == "wear-report");
        Assert.Equal("invited", (await host.Desk.Get($"/v1/jobs/{label}/wear-reports/1")).Text("answer"));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task Fast_or_slow_is_asked_back_and_never_guessed()
    {
        await using var host = await Counter.Open();
        var label = await HandedOver(host);

        var report = await (await host.Desk.PostJson($"/v1/jobs/{label}/wear-reports", """{ "amount": 2, "unit": "minutes", "overDays": 7 }""")).Json();

        Assert.Equal("asked-back", report.Text("verdict"));
        Assert.False(report.TryGetProperty("ratePerDaySeconds", out _));
    }

    [Fact]
    public async Task A_report_before_hand_over_without_days_or_with_nothing_in_it_is_refused_by_name()
    {
        await using var host = await Counter.Open();
        var here = await host.TakeIn();
        var label = await HandedOver(host);

        Assert.Equal("not-handed-over", (await (await host.Desk.PostJson($"/v1/jobs/{here}/wear-reports", TwoMinutes)).Problem()).Code);
        Assert.Equal(["/overDays"], (await (await host.Desk.PostJson($"/v1/jobs/{label}/wear-reports", """{ "amount": 2 }""")).Problem()).Pointers);
        Assert.Equal(["/amount"], (await (await host.Desk.PostJson($"/v1/jobs/{label}/wear-reports", """{ "stopped": true, "amount": 2, "overDays": 3 }""")).Problem()).Pointers);
        Assert.Equal(["/reportedOn"], (await (await host.Desk.PostJson($"/v1/jobs/{label}/wear-reports", """{ "reportedOn": "2099-01-01", "text": "fine" }""")).Problem()).Pointers);
        Assert.Equal([""], (await (await host.Desk.PostJson($"/v1/jobs/{label}/wear-reports", "{}")).Problem()).Pointers);
        Assert.Equal(HttpStatusCode.NotFound, (await host.Desk.PostJson($"/v1/jobs/{label}/wear-reports/4/answer", """{ "answer": "reassured" }""")).StatusCode);
    }

    /// <summary>Handed over on 14 Mar 2025; now it is Mon 24 Mar 2025.</summary>
    private static async Task<string> HandedOver(WorkshopHost host)
    {
        var label = await HandOverTests.Ready(host);
        await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected" }""")).Json();
        host.SetTo(2025, 3, 24, 10);
        return label;
    }

    private static JsonElement[] Items(JsonElement answer) => [.. answer.GetProperty("items").EnumerateArray()];
}
