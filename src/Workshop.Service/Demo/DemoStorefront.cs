using System.Text;
using System.Text.Json.Nodes;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Orders;
using Workshop.Core.Outgoing;
using Workshop.Service.Features.Storefront;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Demo;

/// <summary>
/// The demo's storefront: two of its products, a secret that everybody knows, and two orders. One customer has not sent their watch yet, the
/// other's parcel is on its way.
/// </summary>
internal static class DemoStorefront
{
    private const string Id = "shop";

    /// <summary>Known to everybody who reads this: it opens an invented workshop on the reader's own machine, and nothing else.</summary>
    public static readonly string Secret = WebhookSecret.Prefix + Convert.ToBase64String(Encoding.ASCII.GetBytes("a demo has no secrets from anyone"));

    private static readonly (string Variant, string Product)[] Sold = [("full-automatic", "service-automatic"), ("full-chronograph", "service-chronograph")];

    /// <param name="now">The demo's.</param>
    /// <param name="orders">False for a demo that begins empty.</param>
    public static async Task Open(Writer writer, Instant now, bool orders, CancellationToken cancel)
    {
        var from = await writer.Turn(Migrations.FirstSite, Join, cancel);
        if (orders)
        {
            var bytes = Encoding.UTF8.GetBytes(Told(now).ToJsonString());
            await HearDelivery.Hear(writer, new Delivery(from, StorefrontDoor.Post, "msg_demo", bytes), cancel);
        }
    }

    private static StoredStorefront Join(Turn turn)
    {
        foreach (var (variant, product) in Sold)
        {
            var document = JsonNode.Parse(ShopDocuments.Newest(turn, ShopRulesReader.Variant, variant)!.Document)!.AsObject();
            document["products"] = new JsonArray(new JsonObject { ["source"] = ManageStorefronts.SourceOf(Id), ["product"] = product });
            ShopDocuments.Put(turn, ShopRulesReader.Variant, variant, document.ToJsonString(WorkshopJson.Stored));
        }

        StorefrontStore.Add(turn, Id, ManageStorefronts.SourceOf(Id), "The shop's page (DEMO)");
        StorefrontStore.AddSecret(turn, Id, WebhookSecret.TryRead(Secret, out var secret) ? secret.Mark : throw new InvalidOperationException("The demo's secret is none."), Secret, SystemClock.Instance.GetCurrentInstant());
        return StorefrontStore.Find(turn, Id)!;
    }

    private static JsonArray Told(Instant now) =>
    [
        Event("demo-1", "order.created", now - Duration.FromDays(3), Order("2041", now - Duration.FromDays(3), "Ottoline Perch (DEMO)", "c-1", "service-automatic", "stops in the evening", 48_000)),
        Event("demo-2", "order.created", now - Duration.FromDays(6), Order("2040", now - Duration.FromDays(6), "Bram Sallow (DEMO)", "c-2", "service-chronograph", "the hand of the chronograph does not come back to zero", 79_000)),
        Event("demo-3", "order.paid", now - Duration.FromDays(6), new JsonObject
        {
            ["order"] = "2040", ["payment"] = "p-1", ["kind"] = "deposit", ["amountMinor"] = 20_000, ["currency"] = "GBP", ["at"] = Text(now - Duration.FromDays(6)),
        }),
        Event("demo-4", "shipment.sent", now - Duration.FromDays(5), Parcel("to-customer", now - Duration.FromDays(5))),
        Event("demo-5", "shipment.sent", now - Duration.FromHours(20), Parcel("to-workshop", now - Duration.FromHours(20))),
    ];

    private static JsonObject Order(string order, Instant placed, string name, string reference, string product, string words, long amount) => new()
    {
        ["order"] = order,
        ["revision"] = 1,
        ["placedAt"] = Text(placed),
        ["currency"] = "GBP",
        ["customer"] = new JsonObject { ["ref"] = reference, ["name"] = name, ["email"] = $"{reference}@example.com", ["language"] = "en" },
        ["shipTo"] = new JsonObject { ["address"] = $"{DemoTown.Name} (DEMO)" },
        ["lines"] = new JsonArray(new JsonObject
        {
            ["line"] = "1",
            ["product"] = product,
            ["quantity"] = 1,
            ["options"] = new JsonArray(),
            ["amountMinor"] = amount,
            ["taxMinor"] = amount / 6,
            ["customersWords"] = words,
        }),
        ["wishes"] = new JsonObject { ["polish"] = "no" },
    };

    private static JsonObject Parcel(string direction, Instant at) => new() { ["order"] = "2040", ["direction"] = direction, ["carrier"] = "Vennlowe Post (DEMO)", ["at"] = Text(at) };

    private static JsonObject Event(string id, string type, Instant at, JsonObject data) => new()
    {
        ["specversion"] = "1.0",
        ["id"] = id,
        ["source"] = ManageStorefronts.SourceOf(Id),
        ["type"] = type,
        ["time"] = Text(at),
        ["data"] = data,
    };

    private static string Text(Instant at) => InstantPattern.ExtendedIso.Format(at);
}
