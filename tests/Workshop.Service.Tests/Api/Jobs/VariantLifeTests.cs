using System.Globalization;
using System.Text.Json;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Labels;

namespace Workshop.Service.Tests.Api.Jobs;

/// <summary>A watch of each kind of work, from intake to hand-over, led by what the job itself says may come next.</summary>
public class VariantLifeTests
{
    private const string Front = "diagnosis quote";
    private const string Release = "final-control settlement handed-over";
    private const string Full = $"{Front} takedown cleaning inspection rebuild regulation case-strip case-work gaskets dial-and-hands casing water-test wear-check reserve-and-functions {Release}";

    public static TheoryData<string, string, string> Kinds => new()
    {
        { "full-automatic", Full, "movement parts-fitted water-resistance" },
        { "full-chronograph", Full, "movement parts-fitted water-resistance" },
        { "full-hand-wound", Full, "movement parts-fitted water-resistance" },
        { "quartz-exchange", $"{Front} inspection rebuild case-strip gaskets dial-and-hands casing water-test wear-check {Release}", "movement" },
        { "quartz-train", $"{Front} takedown cleaning inspection rebuild case-strip gaskets dial-and-hands casing water-test wear-check reserve-and-functions {Release}", "movement" },
        { "vintage", $"{Front} takedown cleaning inspection rebuild regulation case-strip dial-and-hands casing wear-check reserve-and-functions {Release}", "movement parts-fitted" },
        { "regulation", $"{Front} regulation casing wear-check {Release}", "rate" },
        { "cell-and-seals", $"case-strip gaskets casing water-test {Release}", "cell water-resistance" },
        { "case-or-crystal", $"{Front} case-strip case-work gaskets casing water-test wear-check {Release}", "glued-or-screwed water-resistance" },
        { "warranty-return", "diagnosis casing wear-check final-control handed-over", "new-work" },
        { "return-unrepaired", "return-unrepaired handed-over", "" },
        { "x-partial-repair", $"{Front} takedown rebuild regulation casing wear-check {Release}", "repaired-thing" },
    };

    [Theory, MemberData(nameof(Kinds))]
    public async Task Each_kind_of_work_goes_from_intake_to_hand_over_by_exactly_its_own_stages(string variant, string stages, string warranty)
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn(Body(variant, variant == "warranty-return" ? await HandedOver(host) : null));

        var done = await Live(host, label);
        var job = await host.Desk.Get($"/v1/jobs/{label}");

        Assert.Equal(stages, string.Join(' ', done));
        Assert.Equal("handed-over", job.Text("stage"));
        Assert.Equal(warranty, string.Join(' ', job.GetProperty("warranty").EnumerateArray().Select(line => line.Text("line"))));
        Assert.Empty(job.GetProperty("waivers").EnumerateArray());
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task No_answer_about_a_quartz_watch_knows_the_figures_of_a_balance()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn(Body("quartz-train"));
        await host.Say(label, "rate-set.recorded", """{ "instrument": "inductive pick-up", "sampleSeconds": 60, "readings": [ { "position": "dial-up", "ratePerDaySeconds": 0.1 } ], "person": "mara" }""");
        using var refused = await host.TrySay(
            label, "rate-set.recorded", """{ "liftAngleDegrees": 52, "readings": [ { "position": "dial-up", "ratePerDaySeconds": 0.1, "amplitudeDegrees": 180, "beatErrorMilliseconds": 0 } ] }""");
        await Live(host, label);

        Assert.Equal(["/data/liftAngleDegrees", "/data/readings/0/amplitudeDegrees", "/data/readings/0/beatErrorMilliseconds"], (await refused.Problem()).Pointers);
        foreach (var address in (string[])["", "/rate-sets", "/history?limit=500", "/next-checks", "/warranty", "/intake", "/quotes"])
        {
            var text = await host.Manager.GetStringAsync($"/v1/jobs/{label}{address}");
            Assert.DoesNotContain("amplitude", text, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("beatError", text, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("liftAngle", text, StringComparison.OrdinalIgnoreCase);
        }
    }

    [Fact]
    public async Task Figures_of_a_balance_measured_before_it_turned_out_to_be_a_quartz_watch_are_not_shown_as_its_own()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn(Body("full-automatic"));
        await host.Say(label, "rate-set.recorded", """{ "liftAngleDegrees": 52, "readings": [ { "position": "dial-up", "ratePerDaySeconds": 4, "amplitudeDegrees": 280, "beatErrorMilliseconds": 0.1 } ] }""");
        await (await host.Manager.PostJson($"/v1/jobs/{label}/variant", """{ "variant": "quartz-exchange", "reason": "a quartz movement under an old dial" }""")).Json();

        var sets = await host.Bench.GetStringAsync($"/v1/jobs/{label}/rate-sets");

        Assert.Contains("ratePerDaySeconds", sets);
        Assert.DoesNotContain("amplitude", sets, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("liftAngle", sets, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Fixed_price_work_is_promised_when_it_is_taken_in()
    {
        await using var host = await Counter.Open();
        var label = await host.TakeIn(Body("cell-and-seals"));

        var job = await host.Desk.Get($"/v1/jobs/{label}");

        // Monday, and one open day.
        Assert.Equal("2026-03-03", job.GetProperty("promise").Text("on"));
        Assert.DoesNotContain("quote", job.GetProperty("stages").EnumerateArray().Select(one => one.Text("stage")));
    }

    [Fact]
    public async Task A_vintage_watch_counts_as_radium_suspected_until_somebody_looked_and_says_that_it_is_not_water_resistant()
    {
        await using var host = await Counter.Open();
        var unseen = await host.TakeIn(Body("vintage").Replace(""", "luminousPaint": false""", "", StringComparison.Ordinal));
        var seen = await host.TakeIn(Body("vintage"));

        Assert.Contains("radium-suspected", await Cautions(host, unseen));
        Assert.DoesNotContain("radium-suspected", await Cautions(host, seen));
        Assert.Equal("not water resistant", (await host.Bench.Get($"/v1/jobs/{seen}")).Text("statement"));
        Assert.DoesNotContain("polish", (await host.Desk.Get($"/v1/jobs/{seen}")).GetProperty("missing").EnumerateArray().Select(one => one.Text("member")));
    }

    [Fact]
    public async Task While_it_is_worn_a_hand_wound_watch_is_wound_daily_and_a_chronograph_is_better_worn_for_a_week()
    {
        await using var host = await Counter.Open();

        Assert.Contains("Wind it every day at the same hour.", await SaidAtTheStart(host, "full-hand-wound"));
        Assert.Contains("A check over 7 days is advised.", await SaidAtTheStart(host, "full-chronograph"));
    }

    [Fact]
    public async Task A_watch_under_warranty_is_bound_to_the_job_it_comes_from()
    {
        await using var host = await Counter.Open();
        var old = await HandedOver(host);

        var back = await (await host.Desk.PostJson("/v1/jobs", Body(null, old))).Json();
        var job = await host.Desk.Get($"/v1/jobs/{back.Text("label")}");
        var unbound = await (await host.Desk.PostJson("/v1/jobs", Body("warranty-return"))).Problem();
        var inHouse = await (await host.Desk.PostJson("/v1/jobs", Body(null, back.Text("label")))).Problem();
        var unknown = await (await host.Desk.PostJson("/v1/jobs", Body(null, Label.Complete(LabelKind.Job, [1, 2, 3, 4, 5, 6]).ToString()))).Problem();

        Assert.Equal("warranty-return", back.Text("variant"));
        Assert.Equal(old, job.Text("warrantyOf"));
        Assert.DoesNotContain("quote", job.GetProperty("stages").EnumerateArray().Select(one => one.Text("stage")));
        Assert.All([unbound, inHouse, unknown], problem => Assert.Equal(["/warrantyOf"], problem.Pointers));
    }

    [Fact]
    public async Task The_days_of_a_watch_under_warranty_are_kept_by_themselves_in_the_job_it_comes_from()
    {
        await using var host = await Counter.Open();
        var old = await HandedOver(host);
        await (await host.Desk.PostJson($"/v1/jobs/{old}/claims", """{ "text": "stands still since yesterday" }""")).Json();

        host.SetTo(2026, 3, 10, 10);
        var back = (await (await host.Desk.PostJson("/v1/jobs", Body(null, old))).Json()).Text("label");
        var came = await host.Desk.Get($"/v1/jobs/{old}/claims/1");
        await (await host.Manager.PostJson($"/v1/jobs/{old}/claims/1/decision", """{ "covered": true, "reason": "ours" }""")).Json();
        host.SetTo(2026, 3, 16, 10);
        await Live(host, back);
        var gone = await host.Desk.Get($"/v1/jobs/{old}/claims/1");
        var today = host.Clock.GetCurrentInstant().InZone(DateTimeZoneProviders.Tzdb["Europe/Zurich"]).Date;

        Assert.Equal("2026-03-10", came.Text("receivedOn"));
        Assert.False(came.TryGetProperty("returnedOn", out _));
        Assert.Equal(("2026-03-10", LocalDatePattern.Iso.Format(today)), (gone.Text("receivedOn"), gone.Text("returnedOn")));
        Assert.True(today >= new LocalDate(2026, 3, 16));
        Assert.Empty(host.Check().Differences);
    }

    private static async Task<string[]> Cautions(WorkshopHost host, string label) =>
        [.. (await host.Bench.Get($"/v1/jobs/{label}")).GetProperty("cautions").EnumerateArray().Select(one => one.Text("id"))];

    private static async Task<string> SaidAtTheStart(WorkshopHost host, string variant)
    {
        var label = await host.TakeIn(Body(variant));
        await Live(host, label, until: "wear-check");
        return (await host.Say(label, "wear-check.started", """{ "kind": "worn", "offsetSeconds": 0, "fullyWound": true, "place": "winder", "person": "mara" }""")).GetProperty("say").Text("more");
    }

    private static async Task<string> HandedOver(WorkshopHost host)
    {
        var label = await host.TakeIn(Body("cell-and-seals"));
        await Live(host, label);
        return label;
    }

    /// <summary>Does what may come next, again and again.</summary>
    /// <returns>The stages in the order in which they were done.</returns>
    private static async Task<List<string>> Live(WorkshopHost host, string label, string? until = null)
    {
        var done = new List<string>();
        while (true)
        {
            var job = await host.Manager.Get($"/v1/jobs/{label}");
            var next = job.GetProperty("allowedNext").EnumerateArray().FirstOrDefault(step => step.TryGetProperty("stage", out _));
            if (next.ValueKind == JsonValueKind.Undefined || next.Text("stage") == until)
            {
                return done;
            }

            var stage = next.Text("stage");
            Assert.True(next.GetProperty("against").GetArrayLength() == 0, $"{stage}: {next}");
            await Do(host, label, stage, job.Text("variant"));
            done.Add(stage);
            Assert.True(done.Count < 30, string.Join(' ', done));
        }
    }

    private static async Task Do(WorkshopHost host, string label, string stage, string variant)
    {
        host.Clock.Advance(Duration.FromSeconds(1));
        switch (stage)
        {
            case "quote":
                await host.SendQuote(label);
                await (await host.Desk.PostJson($"/v1/jobs/{label}/quotes/1/answer", """{ "accepted": true }""")).Json();
                break;
            case "regulation":
                await host.Say(label, "rate-set.recorded", """{ "windState": "full", "readings": [ { "position": "dial-up", "ratePerDaySeconds": 4.0, "amplitudeDegrees": 280 } ], "person": "mara" }""");
                await host.Say(label, "stage.finished", """{ "stage": "regulation", "person": "mara" }""");
                break;
            case "casing":
                await host.Say(label, "case.closed", $$"""{ "jobLabel": "{{label}}", "caseSerial": "20 417", "person": "mara" }""");
                break;
            case "water-test":
                await host.Say(label, "water-test.recorded", """{ "method": "dry", "pressureBar": 3, "passed": true, "person": "mara" }""");
                break;
            case "wear-check":
                var wound = variant.StartsWith("quartz", StringComparison.Ordinal) ? "" : """ "fullyWound": true,""";
                var started = await host.Say(label, "wear-check.started", $$"""{ "kind": "worn", "offsetSeconds": 0,{{wound}} "place": "wrist", "readBy": "photo", "person": "mara" }""");
                var due = InstantPattern.ExtendedIso.Parse(started.Text("due")).Value;
                var days = (due - host.Clock.GetCurrentInstant()).TotalDays;
                host.Clock.Reset(due);

                // A tenth of a second a day: within every window there is.
                await host.Say(label, "wear-check.read", string.Create(CultureInfo.InvariantCulture, $$"""{ "kind": "worn", "offsetSeconds": {{0.1 * days:0.0}}, "readBy": "photo", "person": "mara" }"""));
                break;
            case "final-control":
                var checks = (await host.Manager.Get($"/v1/variants/{variant}")).GetProperty("finalChecks").EnumerateArray().Select(check => $$"""{ "check": "{{check.GetString()}}", "result": "ok" }""");
                await host.Say(label, "final-control.passed", $$"""{ "person": "otto", "checks": [ {{string.Join(", ", checks)}} ] }""");
                break;
            case "handed-over":
                await (await host.Desk.PostJson($"/v1/jobs/{label}/hand-over", """{ "how": "collected", "identitySeen": true }""")).Json();
                break;
            default:
                await host.Say(label, "stage.finished", $$"""{ "stage": "{{stage}}", "person": "mara" }""");
                break;
        }
    }

    private static string Body(string? variant, string? warrantyOf = null) =>
        $$"""
        { "customer": { "name": "Ida Marlow", "telephone": "+44 20 7946 0018" },
          "watch": { "maker": "Orrery & Finch", "caseSerial": "20-417", "words": "see the kind of work", "madeInYear": 2011, "luminousPaint": false },
          {{(variant is null ? "" : $"\"variant\": \"{variant}\",")}} {{(warrantyOf is null ? "" : $"\"warrantyOf\": \"{warrantyOf}\",")}}
          "declaredValueMinor": 240000, "currency": "GBP", "wishes": { "oldPartsBack": true{{(variant == "vintage" ? "" : ", \"polish\": \"no\"")}} },
          "condition": "running", "terms": { "acceptedOn": "2025-01-02" }, "person": "mara" }
        """;
}
