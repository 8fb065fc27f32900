using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.Webhooks;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;
using Workshop.Service.Tests.Simulation.Checkers;

namespace Workshop.Service.Tests.Simulation;

/// <summary>By which way a storefront's events come in.</summary>
internal enum WayIn
{
    /// <summary>There is no storefront.</summary>
    None,

    /// <summary>It posts them, signed.</summary>
    Post,

    /// <summary>Nobody reaches the workshop from outside: it fetches them.</summary>
    Inbox,
}

/// <summary>A storefront about the workshop: slow, broken, twice, out of order, away for a day.</summary>
internal sealed partial class World
{
    private const string Product = "service-automatic";

    private readonly WayIn way;
    private readonly List<string> orders = [];
    private readonly HashSet<string> toldByStorefront = new(StringComparer.Ordinal);
    private readonly Dictionary<string, byte[]> unsent = new(StringComparer.Ordinal);
    private readonly Dictionary<string, (string Type, string Data, string Moment)> unsaid = new(StringComparer.Ordinal);
    private Shopfront? shopfront;
    private Caller desk = null!;
    private bool closing;

    /// <summary>Messages that were told outside, and attempts that failed.</summary>
    public (int Heard, int Refused) Outside => shopfront is null ? (0, 0) : (shopfront.Heard.Count, shopfront.Refused);

    /// <summary>Events that the storefront has told.</summary>
    public int ToldByStorefront => toldByStorefront.Count;

    private Dictionary<string, string?> SettingsFor()
    {
        var set = new Dictionary<string, string?>();
        if (shopfront is not null)
        {
            set[KnownSettings.WebhooksAllowPrivateTargets.Name] = "127.0.0.1";
        }

        if (way == WayIn.Inbox)
        {
            set[KnownSettings.StorefrontInbox.Name] = $"{shopfront!.Address}/inbox";
            set[KnownSettings.StorefrontInboxSecret.Name] = shopfront.Secret.Written;
            set[KnownSettings.StorefrontInboxId.Name] = Shopfront.Id;
        }

        return set;
    }

    private async Task JoinTheStorefront()
    {
        if (shopfront is null)
        {
            return;
        }

        desk = house.AddKey(Role.Desk, "/desk/front", null);
        await house.Turn(turn =>
        {
            if (way == WayIn.Post)
            {
                StorefrontStore.Add(turn, Shopfront.Id, Shopfront.Source, "A page");
                StorefrontStore.AddSecret(turn, Shopfront.Id, shopfront.Secret.Mark, shopfront.Secret.Written, turn.Now);
            }

            var id = Guid.CreateVersion7(turn.Now.ToDateTimeOffset()).ToString();
            WebhookStore.Add(turn, new StoredEndpoint
            {
                Id = id,
                Version = 1,
                Url = $"{shopfront.Address}/hooks",
                State = Word.Of(EndpointState.Enabled),
                StateSince = Microseconds.Of(turn.Now),
                Created = Microseconds.Of(turn.Now),
                TakenThrough = 0,
                Failures = 0,
            });
            WebhookStore.AddSecret(turn, id, shopfront.HooksSecret, turn.Now, turn.Now);
            var variant = JsonNode.Parse(ShopDocuments.Newest(turn, ShopRulesReader.Variant, "full-automatic")!.Document)!.AsObject();
            variant["products"] = new JsonArray(new JsonObject { ["source"] = Shopfront.Source, ["product"] = Product });
            ShopDocuments.Put(turn, ShopRulesReader.Variant, "full-automatic", variant.ToJsonString());
            return true;
        });
        Plan(After(5, 60), SomebodyOrders);
        Plan(After(1, 10), SendOut);
        Plan(After(30, 200), OrderedWatchesCome);
        Plan(After(200, 900), StorefrontGoesAway);
        Plan(After(30, 90), CustomersReadTheirNews);
        if (way == WayIn.Inbox)
        {
            Plan(After(1, 5), LookIntoTheInbox);
        }
    }

    // One order as it may be told: whole states and facts, in any order, some of them twice.
    private Task SomebodyOrders()
    {
        Plan(WhenOpen(After(60, 400)), SomebodyOrders);
        var order = string.Create(CultureInfo.InvariantCulture, $"{2041 + orders.Count}");
        orders.Add(order);
        var story = new List<(string Id, string Type, string Data)>
        {
            ($"{order}-r1", "order.created", Ordered(order, 1, quantity: 1)),
            ($"{order}-p1", "order.paid", $$"""{ "order": "{{order}}", "payment": "{{order}}-a", "kind": "deposit", "amountMinor": 10000, "currency": "CHF", "at": "{{Text(Now)}}" }"""),
        };
        if (chance.Next(2) == 0)
        {
            story.Add(($"{order}-r2", "order.changed", Ordered(order, 2, quantity: 2)));
        }

        if (chance.Next(5) == 0)
        {
            story.Add(($"{order}-x", "order.cancelled", $$"""{ "order": "{{order}}", "reason": "changed their mind" }"""));
        }

        var moment = Text(Now);
        foreach (var one in story)
        {
            toldByStorefront.Add(one.Id);
            unsaid[one.Id] = (one.Type, one.Data, moment);
            for (var times = chance.Next(4) == 0 ? 2 : 1; times > 0; times--)
            {
                Plan(After(0, 240), () => Tell(one.Id, one.Type, one.Data, moment));
            }
        }

        Note("storefront", $"order {order}, {story.Count} events");
        return Task.CompletedTask;
    }

    private string Ordered(string order, int revision, int quantity) =>
        $$"""
        { "order": "{{order}}", "revision": {{revision}}, "placedAt": "{{Text(Now)}}", "currency": "CHF",
          "customer": { "ref": "c-{{order}}", "name": "Somebody {{order}}", "email": "c{{order}}@page.example", "language": "en", "consents": [] },
          "lines": [ { "line": "1", "product": "{{Product}}", "quantity": {{quantity}}, "options": [], "amountMinor": {{48_000 * quantity}}, "taxMinor": {{3_600 * quantity}} } ] }
        """;

    private async Task Tell(string id, string type, string data, string moment)
    {
        // Told again it is the same to the letter.
        string Event(long? sequence) => $$"""{ "specversion": "1.0", "id": "{{id}}", "source": "{{Shopfront.Source}}", "type": "{{type}}", "time": "{{moment}}"{{(sequence is null ? "" : $", \"sequence\": \"{sequence}\"")}}, "data": {{data}} }""";
        if (way == WayIn.Inbox)
        {
            // What lies there twice would have two numbers; that it is read twice is seen to by processes that die.
            if (unsaid.Remove(id))
            {
                shopfront!.LayOut(sequence => Event(sequence));
            }

            return;
        }

        unsaid.Remove(id);
        await Post($"d-{id}-{++commands}", Encoding.UTF8.GetBytes(Event(null)));
    }

    // Until somebody has thanked for it: under the same number, signed anew.
    private async Task Post(string delivery, byte[] body)
    {
        unsent[delivery] = body;
        var lost = closing ? 9 : chance.Next(10);
        if (lost == 0)
        {
            Plan(After(1, 60), () => Post(delivery, body));
            return;
        }

        // Said before it is sent: a process that dies on the way has not answered.
        var taken = false;
        try
        {
            taken = await house.PostToStorefrontDoor(shopfront!.Secret, delivery, body) == 202 && lost != 1;
        }
        finally
        {
            if (taken)
            {
                unsent.Remove(delivery);
            }
            else
            {
                Plan(After(1, 60), () => Post(delivery, body));
            }
        }
    }

    private async Task LookIntoTheInbox()
    {
        Plan(After(1, BenchWork.Pick(chance, 2, 10, 60)), LookIntoTheInbox);
        await house.AskInbox();
    }

    private async Task SendOut()
    {
        Plan(After(1, BenchWork.Pick(chance, 2, 10, 40)), SendOut);
        await house.Send();
    }

    private Task StorefrontGoesAway()
    {
        Note("storefront", "is away");
        shopfront!.Away = true;
        Plan(Now + Duration.FromHours(chance.Next(20, 27)), () =>
        {
            Note("storefront", "is back");
            shopfront.Away = false;
            return Task.CompletedTask;
        });
        return Task.CompletedTask;
    }

    private async Task OrderedWatchesCome()
    {
        Plan(WhenOpen(After(30, 200)), OrderedWatchesCome);
        var expected = await house.Turn(turn => turn.Query<string>(
            "select label from arrival where site = @site and state = 'expected' and storefront is not null order by label", new { site = House.Site }).ToArray());
        if (expected.Length == 0)
        {
            return;
        }

        var arrival = Label.Read(BenchWork.Pick(chance, expected));
        var serial = chance.Next(100_000).ToString("'S'00000", CultureInfo.InvariantCulture);
        var answer = await house.Turn(turn => TakeInJob.TakeIn(
            turn, new TakeInBody { Expected = arrival, Watch = JsonSerializer.SerializeToElement(new { words = "as ordered", caseSerial = serial }) }, desk));
        if (answer.Result is Made<TakenIn> made)
        {
            jobs.Add(made.Value.Label);
            Note("desk", $"takes in {made.Value.Label}, ordered as {arrival}");
        }
    }

    /// <summary>The line is good again; everybody says what they had to say, and hears what they had to hear.</summary>
    private async Task HearEachOtherOut()
    {
        if (shopfront is null)
        {
            return;
        }

        (shopfront.Away, shopfront.Mended, closing) = (false, true, true);
        foreach (var (id, said) in unsaid.ToArray())
        {
            await Tell(id, said.Type, said.Data, said.Moment);
        }

        foreach (var post in unsent.ToArray())
        {
            await Post(post.Key, post.Value);
        }

        foreach (var _ in Enumerable.Range(0, 80))
        {
            if (way == WayIn.Inbox)
            {
                await house.AskInbox();
            }

            await house.Send();

            // As long as the plan of attempts may still have to wait.
            clock.Advance(Duration.FromHours(1));
        }

        using var evidence = Evidence();
        Faults.AddRange(FaultsOutside(evidence));
    }

    /// <summary>What is wrong between the house and its storefront, by what both have kept.</summary>
    public IEnumerable<string> FaultsOutside(Evidence evidence) =>
        [.. ToldOutside.FaultsIn(evidence, shopfront!), .. ToldInside.FaultsIn(evidence, toldByStorefront, orders), .. FollowedInside.FaultsIn(evidence, shopfront!)];

    private static string Text(Instant at) => InstantPattern.ExtendedIso.Format(at);
}
