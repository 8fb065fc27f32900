using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.Signatures;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;

namespace Workshop.Service.Tests.Api.Storefront;

/// <summary>One event of a storefront.</summary>
public sealed record Told(string Id, string Type, string Data, string Time = "2026-03-02T08:00:00Z")
{
    public string Json(string source, long? sequence = null) =>
        $$"""{ "specversion": "1.0", "id": "{{Id}}", "source": "{{source}}", "type": "{{Type}}", "time": "{{Time}}"{{(sequence is null ? "" : $", \"sequence\": \"{sequence}\"")}}, "data": {{Data}} }""";
}

/// <summary>A storefront of a test: it signs as any would.</summary>
public sealed class TestStorefront
{
    private static int deliveries;

    private TestStorefront(WorkshopHost host, string id, WebhookSecret secret)
    {
        Host = host;
        Id = id;
        Secret = secret;
    }

    public WorkshopHost Host { get; }

    public string Id { get; }

    public string Source => $"/storefront/{Id}";

    public WebhookSecret Secret { get; set; }

    /// <summary>Joins a storefront to a service, with two products of its own.</summary>
    public static async Task<TestStorefront> Join(WorkshopHost host, string id = "shop")
    {
        var drawn = await (await host.Manager.PostJson("/v1/storefronts", $$"""{ "id": "{{id}}", "name": "A page" }""")).Json();
        await Sell(host, "full-automatic", id, "service-automatic");
        await Sell(host, "full-chronograph", id, "service-chronograph");
        return new TestStorefront(host, id, Read(drawn.Text("secret")));
    }

    public static WebhookSecret Read(string written) => WebhookSecret.TryRead(written, out var secret) ? secret : throw new InvalidOperationException("This is no secret.");

    /// <summary>Posts one event, or a batch; it has to be taken.</summary>
    public async Task<JsonElement> Tell(params Told[] told)
    {
        using var answer = await Post(told.Length == 1 ? told[0].Json(Source) : $"[{string.Join(", ", told.Select(one => one.Json(Source)))}]");
        Assert.Equal(202, (int)answer.StatusCode);
        return await answer.Json();
    }

    public Task<HttpResponseMessage> Post(string body, string? id = null, Instant? at = null, string? sent = null)
    {
        var number = id ?? $"msg_{Interlocked.Increment(ref deliveries)}";
        var moment = at ?? SystemClock.Instance.GetCurrentInstant();
        return Host.Stranger.Send(
            HttpMethod.Post, "/v1/storefront/events", sent ?? body, body.StartsWith('[') ? "application/cloudevents-batch+json" : "application/cloudevents+json",
            ("webhook-id", number), ("webhook-timestamp", WebhookSignature.Seconds(moment)), ("webhook-signature", WebhookSignature.Sign(Secret, number, moment, Encoding.UTF8.GetBytes(body))));
    }

    public async Task<JsonElement[]> Arrivals(string state = "all") =>
        [.. (await Host.Desk.Get($"/v1/arrivals?state={state}&limit=500")).GetProperty("items").EnumerateArray().Where(one => one.TryGetProperty("storefront", out var of) && of.GetString() == Id)];

    public async Task<string> ArrivalOf(string order, string line = "1", int piece = 1) =>
        (await Arrivals()).First(one => one.Text("order") == order && one.Text("line") == line && one.GetProperty("piece").GetInt32() == piece).Text("label");

    public Task<JsonElement> Order(string order) => Host.Desk.Get($"/v1/storefronts/{Id}/orders/{order}");

    /// <summary>What is on the desk's list: type and flags.</summary>
    public async Task<string[]> Flagged() =>
    [
        .. (await Host.Desk.Get("/v1/storefront/received?flagged=true&limit=500")).GetProperty("items").EnumerateArray().Where(one => one.Text("storefront") == Id)
            .Select(one => $"{(one.TryGetProperty("type", out var type) ? type.GetString() : "-")} {string.Join(' ', one.Texts("flags"))}").Order(StringComparer.Ordinal),
    ];

    /// <summary>All that a story leaves behind, without what chance drew and without counts of how often something was written.</summary>
    public async Task<string> State(string order, string customerRef)
    {
        var seen = JsonNode.Parse((await Order(order)).GetRawText())!.AsObject();
        seen.Remove("version");
        var arrivals = seen["arrivals"]!.AsArray();
        string? customer = null;
        foreach (var arrival in arrivals)
        {
            customer = arrival!["customer"]!.GetValue<string>();
            foreach (var name in new[] { "label", "slip", "version", "customer" })
            {
                arrival.AsObject().Remove(name);
            }
        }

        var person = JsonNode.Parse((await Host.Desk.Get($"/v1/customers/{customer}")).GetRawText())!.AsObject();
        foreach (var name in new[] { "id", "since", "version" })
        {
            person.Remove(name);
        }

        return $"{seen.ToJsonString()}\n{person.ToJsonString()}\n{string.Join('\n', await Flagged())}\n{customerRef}".Replace($"\"{Id}\"", "\"-\"", StringComparison.Ordinal);
    }

    public static string Text(Instant at) => InstantPattern.ExtendedIso.Format(at);

    private static async Task Sell(WorkshopHost host, string variant, string id, string product)
    {
        var document = JsonNode.Parse((await host.Manager.Get($"/v1/variants/{variant}")).GetRawText())!.AsObject();
        var products = document["products"] as JsonArray ?? [];
        document.Remove("products");
        document["products"] = new JsonArray([.. products.Select(one => one!.DeepClone()), new JsonObject { ["source"] = $"/storefront/{id}", ["product"] = product }]);
        await host.Save(ShopRulesReader.Variant, variant, document.ToJsonString());
    }
}

/// <summary>What storefronts tell in tests.</summary>
public static class Story
{
    public const string Customer = """{ "ref": "c-9", "name": "Ida Marlow", "email": "ida@marlow.example", "telephone": "01632 960 117", "language": "en", "consents": [ { "kind": "messages", "channels": [ "email" ], "saidOn": "2026-03-01" } ] }""";

    public static Told Ordered(string order = "2041", int revision = 1, string lines = "", string id = "", string more = "", string customer = Customer, string time = "2026-03-02T08:00:00Z") => new(
        id.Length > 0 ? id : $"{order}-r{revision}", revision == 1 ? "order.created" : "order.changed",
        $$"""{ "order": "{{order}}", "revision": {{revision}}, "placedAt": "2026-03-02T08:00:00Z", "currency": "GBP", "customer": {{customer}}, "shipTo": { "address": "3 Tallow Lane\nUpper Ness" }, "lines": [ {{(lines.Length > 0 ? lines : Line("1"))}} ]{{more}} }""",
        time);

    public static string Line(string line, string product = "service-automatic", int quantity = 1, long amount = 48_000, string more = "") =>
        $$"""{ "line": "{{line}}", "product": "{{product}}", "quantity": {{quantity}}, "options": [], "amountMinor": {{amount}}, "taxMinor": 8000, "customersWords": "stops at night"{{more}} }""";

    public static Told Paid(string payment, long amount, string order = "2041", string kind = "balance", string at = "2026-03-02T08:10:00Z") =>
        new($"{order}-{payment}", "order.paid", $$"""{ "order": "{{order}}", "payment": "{{payment}}", "kind": "{{kind}}", "amountMinor": {{amount}}, "currency": "GBP", "at": "{{at}}" }""");

    public static Told Refunded(string payment, long amount, string order = "2041", string at = "2026-03-02T08:40:00Z") =>
        new($"{order}-{payment}-back-{amount}", "order.refunded", $$"""{ "order": "{{order}}", "payment": "{{payment}}", "amountMinor": {{amount}}, "currency": "GBP", "at": "{{at}}" }""");

    public static Told Cancelled(string order = "2041", string lines = "") =>
        new($"{order}-cancelled-{lines.Replace("\"", "", StringComparison.Ordinal)}", "order.cancelled", $$"""{ "order": "{{order}}"{{(lines.Length > 0 ? $", \"lines\": [ {lines} ]" : "")}}, "reason": "changed their mind" }""");

    public static Told KitSent(string order = "2041", string at = "2026-03-02T08:30:00Z") =>
        new($"{order}-kit", "shipment.sent", $$"""{ "order": "{{order}}", "direction": "to-customer", "carrier": "Post", "number": "X1", "at": "{{at}}" }""");

    public static Told Moved(string time = "2026-03-02T08:20:00Z") =>
        new("c-9-moved", "customer.changed", """{ "ref": "c-9", "address": "9 Gorse Hill\nUpper Ness" }""", time);
}
