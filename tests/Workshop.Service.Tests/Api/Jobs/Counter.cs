using System.Text.Json;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Text;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Api.Jobs;

/// <summary>What people at the counter and at the benches do in tests, over HTTP.</summary>
public static class Counter
{
    /// <summary>All a stage may ask for is known.</summary>
    public const string WholeIntake =
        """
        { "customer": { "name": "Ida Marlow", "telephone": "+44 20 7946 0018", "email": "ida@marlow.example", "address": "3 Tallow Lane, Upper Ness", "language": "en",
                        "consents": [ { "kind": "messages", "channels": ["email", "letter"], "saidOn": "2025-01-02" } ] },
          "watch": { "maker": "Orrery & Finch", "model": "Halyard", "reference": "OF-12", "caseSerial": "20-417", "movementNumber": "M 77.1", "words": "stops at night",
                     "calibre": { "name": "OF 9", "kind": "automatic", "vibrationsPerHour": 28800, "liftAngleDegrees": 52 }, "madeInYear": 2011, "luminousPaint": false },
          "variant": "full-automatic", "declaredValueMinor": 240000, "currency": "GBP", "wishes": { "polish": "no", "oldPartsBack": true, "fixedDate": "2026-06-12" },
          "condition": "running, scratch at four o'clock", "conditionGrid": [ { "place": "lugs", "condition": "clear", "note": "gorse scratches" }, { "place": "dial", "condition": "none-seen" } ],
          "arrival": { "running": "running", "crown": "works", "pushers": "not-tried", "linksCounted": 12, "seal": "never-fitted", "photosTaken": 7,
                       "functions": [ { "function": "date-instant", "state": "faulty", "note": "hangs on heather days" } ] }, "remarks": "was her mother's", "terms": { "acceptedOn": "2025-01-02" },
          "accessories": [ { "kind": "bracelet", "count": 1, "note": "two links loose" }, { "kind": "links", "count": 2 } ], "person": "mara" }
        """;

    /// <summary>One way to reach somebody and a few words.</summary>
    public const string LeastIntake = """{ "customer": { "telephone": "01632 960 117" }, "watch": { "words": "an old automatic" } }""";

    private static int eventNumber;

    /// <summary>A service whose clock ticks: what is said later is later.</summary>
    public static async Task<WorkshopHost> Open(StorageEngine engine = StorageEngine.Sqlite)
    {
        var host = await WorkshopHost.Start(engine);
        host.Clock.AutoAdvance = Duration.FromMilliseconds(1);
        return host;
    }

    /// <summary>Takes a watch in and gives its label.</summary>
    public static async Task<string> TakeIn(this WorkshopHost host, string body = WholeIntake) =>
        (await (await host.Desk.PostJson("/v1/jobs", body)).Json()).Text("label");

    public static string Text(this JsonElement element, string member) => element.GetProperty(member).GetString()!;

    public static string[] Texts(this JsonElement element, string member) => [.. element.GetProperty(member).EnumerateArray().Select(one => one.GetString()!)];

    public static async Task<JsonElement> Get(this HttpClient client, string address) => await (await client.GetAsync(address)).Json();

    public static Task<HttpResponseMessage> Patch(this HttpClient client, string address, string body, string? ifMatch) =>
        client.Send(HttpMethod.Patch, address, body, "application/merge-patch+json", ifMatch is null ? [] : [("If-Match", ifMatch)]);

    public static Task<HttpResponseMessage> Put(this HttpClient client, string address, string body, string? ifMatch = null) =>
        client.Send(HttpMethod.Put, address, body, "application/json", ifMatch is null ? [] : [("If-Match", ifMatch)]);

    /// <summary>A bench says something now; it has to be accepted.</summary>
    public static async Task<JsonElement> Say(this WorkshopHost host, string job, string type, string data)
    {
        var answer = await host.TrySay(job, type, data);
        return await answer.Json();
    }

    public static Task<HttpResponseMessage> TrySay(this WorkshopHost host, string job, string type, string data, HttpClient? by = null, string source = "/desk/office")
    {
        var id = Interlocked.Increment(ref eventNumber);
        var time = InstantPattern.ExtendedIso.Format(host.Clock.GetCurrentInstant());
        return (by ?? host.Manager).Send(
            HttpMethod.Post, "/v1/bench-events",
            $$"""{ "specversion": "1.0", "id": "event-{{id}}", "source": "{{source}}", "time": "{{time}}", "type": "{{type}}", "subject": "{{job}}", "data": {{data}} }""",
            "application/cloudevents+json");
    }

    /// <summary>Shop documents of the test: a calendar with its closures, people.</summary>
    public static Task Save(this WorkshopHost host, string kind, string id, string document) => host.Services.GetRequiredService<Writer>()
        .Turn(WorkshopHost.Site, turn => ShopDocuments.Put(turn, kind, id, document));

    /// <summary>Sets the workshop's clock to a local time in Zurich.</summary>
    public static void SetTo(this WorkshopHost host, int year, int month, int day, int hour, int minute = 0) => host.Clock.Reset(
        new LocalDateTime(year, month, day, hour, minute).InZoneStrictly(DateTimeZoneProviders.Tzdb["Europe/Zurich"]).ToInstant());

    public static async Task SendQuote(this WorkshopHost host, string job, string more = "") => await (await host.Desk.PostJson(
        $"/v1/jobs/{job}/quotes", $$"""{ "lines": [ { "text": "Full service", "amountMinor": 48000, "taxMinor": 8000 } ], "currency": "GBP"{{more}} }""")).Json();

    /// <summary>Diagnosed, quoted, approved.</summary>
    public static async Task Approve(this WorkshopHost host, string job)
    {
        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.SendQuote(job);
        await (await host.Desk.PostJson($"/v1/jobs/{job}/quotes/1/answer", """{ "accepted": true }""")).Json();
    }

    /// <summary>All the work, to a watch that is ready; it takes 25 hours of the workshop's clock.</summary>
    public static async Task Service(this WorkshopHost host, string job, string caseSerial = "20 417", string movementNumber = "m77.1")
    {
        string[] stages = ["takedown", "cleaning", "inspection", "rebuild"];
        foreach (var stage in stages)
        {
            await host.Finish(job, stage);
        }

        await host.Say(job, "rate-set.recorded", """{ "windState": "full", "readings": [ { "position": "dial-up", "ratePerDaySeconds": 4.0 }, { "position": "crown-down", "ratePerDaySeconds": 1.5 } ], "person": "mara" }""");
        stages = ["regulation", "case-strip", "case-work", "gaskets", "dial-and-hands"];
        foreach (var stage in stages)
        {
            await host.Finish(job, stage);
        }

        await host.Say(job, "case.closed", $$"""{ "jobLabel": "{{job}}", "caseSerial": "{{caseSerial}}", "movementNumber": "{{movementNumber}}", "person": "mara" }""");
        await host.Say(job, "water-test.recorded", """{ "method": "dry", "pressureBar": 3, "holdSeconds": 60, "passed": true, "person": "mara" }""");
        await host.Say(job, "wear-check.started", """{ "kind": "worn", "offsetSeconds": 0, "fullyWound": true, "place": "winder", "person": "mara" }""");
        host.Clock.Advance(Duration.FromHours(25));
        await host.Say(job, "wear-check.read", """{ "kind": "worn", "offsetSeconds": 4, "person": "mara" }""");
        await host.Finish(job, "reserve-and-functions");
        await host.Say(
            job, "final-control.passed",
            """
            { "person": "otto", "checks": [ { "check": "looks", "result": "ok" }, { "check": "no-fibres", "result": "ok" }, { "check": "hands-aligned", "result": "ok" },
              { "check": "crown", "result": "ok" }, { "check": "date", "result": "ok" }, { "check": "bracelet-and-bars", "result": "ok" }, { "check": "time-set", "result": "ok" },
              { "check": "accessories-and-old-parts", "result": "ok" }, { "check": "report-and-measurements", "result": "ok" }, { "check": "water-statement", "result": "ok" } ] }
            """);
    }

    /// <summary>Settled by the desk, where money is kept elsewhere.</summary>
    public static Task Settle(this WorkshopHost host, string job) => host.Finish(job, "settlement");

    public static async Task Finish(this WorkshopHost host, string job, string stage)
    {
        host.Clock.Advance(Duration.FromSeconds(1));
        await host.Say(job, "stage.finished", $$"""{ "stage": "{{stage}}", "person": "mara" }""");
    }
}
