using System.Net;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

public class AdoptedTests
{
    private static readonly string[] Stages =
        ["diagnosis", "takedown", "cleaning", "inspection", "rebuild", "regulation", "case-strip", "case-work", "gaskets", "dial-and-hands", "casing", "final-control"];

    [Theory]
    [BothEngines]
    public async Task A_shop_begins_with_sixty_watches_of_its_paper_book_and_each_goes_on_to_its_hand_over(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var jobs = new List<string>();
        for (var i = 0; i < 60; i++)
        {
            using var answer = await host.Manager.PostJson("/v1/jobs", Adopted(Stages[i % Stages.Length], $"A-{200 + i}", i));
            Assert.Equal(HttpStatusCode.Created, answer.StatusCode);
            jobs.Add((await answer.Json()).Text("label"));
        }

        Assert.Equal(jobs[17], Assert.Single(await SearchTests.Search(host, """{ "ownNumber": "A-217" }""")).Text("label"));
        foreach (var (i, job) in jobs.Index())
        {
            var shown = await host.Desk.Get($"/v1/jobs/{job}");
            Assert.Equal(Stages[i % Stages.Length], shown.Text("stage"));
            Assert.Equal($"A-{200 + i}", shown.GetProperty("intake").Text("ownNumber"));
            Assert.Equal("2026-04-17", shown.GetProperty("promise").Text("on"));
            await GoesOn(host, job);
            using var given = await host.Desk.PostJson($"/v1/jobs/{job}/hand-over", """{ "how": "collected" }""");
            Assert.True(given.IsSuccessStatusCode, await given.Content.ReadAsStringAsync());
        }

        // They enter no figure: nothing is counted of what began elsewhere.
        var taken = await (await host.Desk.PostJson("/v1/jobs", """{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "wishes": { "fixedDate": "2027-06-12" } }""")).Json();
        Assert.Equal(("usual", 0), (taken.GetProperty("fixedDate").Text("basis"), taken.GetProperty("fixedDate").GetProperty("jobs").GetInt32()));
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task Only_a_manager_takes_over_the_paper_book()
    {
        await using var host = await Counter.Open();

        var desk = await (await host.Desk.PostJson("/v1/jobs", Adopted("rebuild", "A-1", 1))).Problem();

        Assert.Equal((403, "not-for-this-role"), (desk.Status, desk.Code));
        Assert.Empty((await host.Desk.Get("/v1/jobs")).GetProperty("items").EnumerateArray());
    }

    [Theory]
    [InlineData("""{ "takenInOn": "2026-03-03", "at": "rebuild" }""", "/adopted/takenInOn")]
    [InlineData("""{ "takenInOn": "2026-01-12", "at": "intake" }""", "/adopted/at")]
    [InlineData("""{ "takenInOn": "2026-01-12", "at": "lunch" }""", "/adopted/at")]
    [InlineData("""{ "takenInOn": "2026-01-12" }""", "/adopted/at")]
    [InlineData("""{ "at": "rebuild" }""", "/adopted/takenInOn")]
    [InlineData("""{ "takenInOn": "2026-01-12", "at": "rebuild", "promisedOn": "2026-01-11" }""", "/adopted/promisedOn")]
    [InlineData("""{ "takenInOn": "2026-01-12", "at": "rebuild", "promisedOn": "9999-12-31" }""", "/adopted/promisedOn")]
    [InlineData("""{ "takenInOn": "0001-01-01", "at": "rebuild" }""", "/adopted/takenInOn")]
    [InlineData("""{ "takenInOn": "2026-01-12", "at": "rebuild", "quotedMinor": -1 }""", "/adopted/quotedMinor")]
    [InlineData("""{ "takenInOn": "2026-01-12", "at": "rebuild", "ownNumber": "A-2" }""", "/adopted/ownNumber")]
    [InlineData("""{ "takenInOn": "2026-01-12", "at": "rebuild", "mood": 4 }""", "/adopted/mood")]
    public async Task What_is_wrong_in_it_is_named(string adopted, string pointer)
    {
        await using var host = await Counter.Open();

        var problem = await (await host.Manager.PostJson(
            "/v1/jobs", $$"""{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "ownNumber": "A-1", "adopted": {{adopted}} }""")).Problem();

        Assert.Equal([pointer], problem.Pointers);
    }

    [Fact]
    public async Task A_promise_of_the_paper_book_may_be_over_and_its_amount_is_not_for_benches()
    {
        await using var host = await Counter.Open();
        var taken = await (await host.Manager.PostJson(
            "/v1/jobs", """{ "customer": { "email": "a@b.example" }, "watch": { "words": "old" }, "adopted": { "takenInOn": "2025-11-12", "at": "casing", "promisedOn": "2026-01-30", "ownNumber": "B-9", "quotedMinor": 73519 } }""")).Json();

        var job = await host.Desk.Get($"/v1/jobs/{taken.Text("label")}");
        var history = await host.Bench.GetStringAsync($"/v1/jobs/{taken.Text("label")}/history");

        Assert.Equal("2026-01-30", job.GetProperty("promise").Text("on"));
        Assert.DoesNotContain("73519", history);
        Assert.DoesNotContain("73519", await host.Bench.GetStringAsync($"/v1/jobs/{taken.Text("label")}"));
    }

    private static string Adopted(string at, string ownNumber, int number) =>
        $$"""
        { "customer": { "name": "Customer {{number}}", "telephone": "01632 96{{number:0000}}" }, "watch": { "maker": "Velling", "caseSerial": "20 417", "movementNumber": "M 77.1" },
          "variant": "full-automatic", "declaredValueMinor": 100000, "currency": "GBP", "wishes": { "polish": "no" }, "condition": "as in the book", "terms": { "acceptedOn": "2026-01-12" },
          "adopted": { "takenInOn": "2026-01-12", "at": "{{at}}", "promisedOn": "2026-04-17", "ownNumber": "{{ownNumber}}", "quotedMinor": 48000 } }
        """;

    private static async Task GoesOn(WorkshopHost host, string job)
    {
        for (var step = 0; step < 40; step++)
        {
            var stage = (await host.Desk.Get($"/v1/jobs/{job}")).Text("stage");
            if (stage is "handed-over" or "ready")
            {
                return;
            }

            host.Clock.Advance(Duration.FromSeconds(1));
            await (stage switch
            {
                "quote" => Quoted(host, job),
                "regulation" => Regulated(host, job),
                "casing" => host.Say(job, "case.closed", $$"""{ "jobLabel": "{{job}}", "caseSerial": "20 417", "movementNumber": "m77.1", "person": "mara" }"""),
                "water-test" => host.Say(job, "water-test.recorded", """{ "method": "dry", "pressureBar": 3, "holdSeconds": 60, "passed": true, "person": "mara" }"""),
                "wear-check" => Worn(host, job),
                "final-control" => Controlled(host, job),
                "queue" => host.Say(job, "stage.finished", """{ "stage": "takedown", "person": "mara" }"""),
                _ => host.Say(job, "stage.finished", $$"""{ "stage": "{{stage}}", "person": "mara" }"""),
            });
        }

        Assert.Fail($"{job} never came to its end");
    }

    private static async Task Quoted(WorkshopHost host, string job)
    {
        await host.SendQuote(job);
        await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes/1/answer", """{ "accepted": true }""")).Json();
    }

    private static async Task Regulated(WorkshopHost host, string job)
    {
        await host.Say(job, "rate-set.recorded", """{ "windState": "full", "readings": [ { "position": "dial-up", "ratePerDaySeconds": 4.0 } ], "person": "mara" }""");
        host.Clock.Advance(Duration.FromSeconds(1));
        await host.Say(job, "stage.finished", """{ "stage": "regulation", "person": "mara" }""");
    }

    private static async Task Worn(WorkshopHost host, string job)
    {
        await host.Say(job, "wear-check.started", """{ "kind": "worn", "offsetSeconds": 0, "fullyWound": true, "place": "winder", "person": "mara" }""");
        host.Clock.Advance(Duration.FromHours(25));
        await host.Say(job, "wear-check.read", """{ "kind": "worn", "offsetSeconds": 4, "person": "mara" }""");
    }

    private static Task Controlled(WorkshopHost host, string job) => host.Say(
        job, "final-control.passed",
        $$"""
        { "person": "otto", "checks": [ {{string.Join(", ", ((string[])["looks", "no-fibres", "hands-aligned", "crown", "date", "bracelet-and-bars", "time-set", "accessories-and-old-parts", "report-and-measurements", "water-statement"]).Select(check => $$"""{ "check": "{{check}}", "result": "ok" }"""))}} ] }
        """);
}
