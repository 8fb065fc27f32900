using System.Text;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.Signatures;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Storefront;

/// <summary>A signature is the only key to the storefront's door, and behind it nothing is turned away.</summary>
public class StorefrontDoorTests
{
    [Theory]
    [BothEngines]
    public async Task A_delivery_that_comes_again_gets_the_first_answer_and_does_nothing_again(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var shop = await TestStorefront.Join(host);
        var body = Story.Paid("p-1", 48_000).Json(shop.Source);

        using var first = await shop.Post(body, "msg_same");
        await shop.Tell(Story.Ordered());
        using var again = await shop.Post(body, "msg_same", SystemClock.Instance.GetCurrentInstant() + Duration.FromSeconds(30));
        using var retold = await shop.Post(body, "msg_other");
        using var reused = await shop.Post(Story.Paid("p-2", 1_000).Json(shop.Source), "msg_same");

        // The first answer still says what was not known then; the event under another delivery is known, too, and its flag is settled.
        Assert.Equal(await first.Content.ReadAsStringAsync(), await again.Content.ReadAsStringAsync());
        Assert.Equal(["unknown-order"], (await again.Json()).Texts("flags"));
        var known = (await retold.Json()).GetProperty("events")[0];
        Assert.Equal((true, 1), (known.GetProperty("replayed").GetBoolean(), known.GetProperty("number").GetInt32()));
        Assert.Empty((await retold.Json()).Texts("flags"));
        Assert.Equal(["delivery-conflict"], (await reused.Json()).Texts("flags"));
        Assert.Equal(49_000, (await shop.Order("2041")).GetProperty("paidMinor").GetInt64());
    }

    [Fact]
    public async Task A_signature_that_is_not_right_says_what_differs_and_nothing_secret()
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);
        var body = Story.Ordered().Json(shop.Source);
        var now = SystemClock.Instance.GetCurrentInstant();
        var right = shop.Secret;

        var old = await (await shop.Post(body, at: now - Duration.FromMinutes(6))).Problem();
        var ahead = await (await shop.Post(body, at: now + Duration.FromMinutes(6))).Problem();
        var rewritten = await (await shop.Post(body, sent: body.Replace("\"en\"", "\"de\"", StringComparison.Ordinal))).Problem();
        shop.Secret = WebhookSecret.Draw();
        var stranger = await (await shop.Post(body)).Problem();
        var unsigned = await (await host.Stranger.Send(HttpMethod.Post, "/v1/storefront/events", body, "application/cloudevents+json")).Problem();
        var keyed = await (await host.Desk.Send(HttpMethod.Post, "/v1/storefront/events", body, "application/cloudevents+json")).Problem();

        Assert.All([old, ahead, rewritten, stranger, unsigned, keyed], problem => Assert.Equal((401, "signature-refused"), (problem.Status, problem.Code)));
        Assert.Equal(
            ["timestamp-too-old", "timestamp-too-new", "signature-of-something-else", "signature-of-something-else", "id-missing", "id-missing"],
            new[] { old, ahead, rewritten, stranger, unsigned, keyed }.Select(problem => problem.Whole.Text("differs")));
        Assert.Equal(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(Encoding.UTF8.GetBytes(body.Replace("\"en\"", "\"de\"", StringComparison.Ordinal)))), rewritten.Whole.Text("bodySha256"));
        Assert.All([old, ahead, rewritten, stranger], problem => Assert.DoesNotContain(right.Written[8..20], problem.Whole.GetRawText(), StringComparison.Ordinal));
        Assert.Equal(0, await host.QueryFirst<long>("select count(*) from storefront_message"));
    }

    [Theory]
    [InlineData("{ this is no JSON", "unreadable")]
    [InlineData("[ 7, { \"specversion\": \"1.0\" } ]", "unreadable")]
    [InlineData("""{ "specversion": "1.0", "id": "1", "source": "/storefront/shop", "type": "order.created", "data": { "order": "1" } }""", "bad-data")]
    [InlineData("""{ "specversion": "1.0", "id": "1", "source": "/storefront/shop", "type": "weather.changed", "data": {} }""", "unknown-type")]
    [InlineData("""{ "specversion": "1.0", "id": "1", "source": "/storefront/other", "type": "order.paid", "data": {} }""", "source-not-yours")]
    [InlineData("""{ "specversion": "1.0", "id": "1", "source": "/storefront/shop", "type": "order.paid", "data": { "order": "9", "payment": "p", "amountMinor": 5, "currency": "GBP", "at": "2026-03-02T08:00:00Z" } }""", "unknown-order")]
    [InlineData("""{ "specversion": "1.0", "id": "1", "source": "/storefront/shop", "type": "wear.reported", "data": { "job": "J7K3MQ4T", "secondsGained": 4 } }""", "unknown-job")]
    [InlineData("""{ "specversion": "1.0", "id": "1", "source": "/storefront/shop", "type": "customer.erasure-asked", "data": { "ref": "c-9" } }""", "erasure-asked")]
    [InlineData("""{ "specversion": "1.0", "id": "1", "source": "/storefront/shop", "type": "customer.changed", "data": { "ref": "c-9", "name": "Ida" } }""", "unknown-customer")]
    public async Task Whatever_is_well_signed_is_kept_and_flagged_and_shown_to_the_desk(string body, string flag)
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);

        using var answer = await shop.Post(body);
        var listed = (await host.Desk.Get("/v1/storefront/received?flagged=true")).GetProperty("items").EnumerateArray().ToArray();
        var whole = await host.Desk.Get($"/v1/storefront/received/{listed[^1].GetProperty("number").GetInt64()}");
        var row = Assert.Single((await host.Desk.Get("/v1/agenda")).GetProperty("items").EnumerateArray(), one => one.Text("ref") == "1");

        Assert.Equal(202, (int)answer.StatusCode);
        Assert.Equal([flag], (await answer.Json()).Texts("flags"));
        Assert.All(listed, one => Assert.Equal([flag], one.Texts("flags")));
        Assert.NotEmpty(whole.Texts("details"));
        Assert.Contains(whole.Text("text"), body, StringComparison.Ordinal);
        Assert.Equal(flag == "erasure-asked" ? ("erasure-asked", "manager") : ("storefront-flagged", "due"), (row.Text("kind"), row.Text("level")));

        foreach (var one in listed)
        {
            await (await host.Desk.PostJson($"/v1/storefront/received/{one.GetProperty("number").GetInt64()}/seen", """{ "person": "mara", "note": "done" }""")).Json();
        }

        Assert.Empty(await shop.Flagged());
        Assert.DoesNotContain((await host.Desk.Get("/v1/agenda")).GetProperty("items").EnumerateArray(), one => one.Text("kind") is "storefront-flagged" or "erasure-asked");
    }

    [Theory]
    [BothEngines]
    public async Task The_least_that_each_type_asks_for_is_enough_and_is_read_again_afterwards(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var shop = await TestStorefront.Join(host);
        (string Type, string Data)[] least =
        [
            ("order.created", """{ "order": "1", "revision": 1, "placedAt": "2026-03-02T08:00:00Z", "currency": "GBP", "customer": { "ref": "c" }, "lines": [ { "line": "1", "product": "service-automatic", "quantity": 1, "amountMinor": 0 } ] }"""),
            ("order.changed", """{ "order": "1", "revision": 2, "placedAt": "2026-03-02T08:00:00Z", "currency": "GBP", "customer": { "ref": "c", "name": null, "consents": null }, "wishes": { "polish": null }, "recipient": null, "lines": [ { "line": "1", "product": "service-automatic", "quantity": 1, "options": [], "amountMinor": 100, "serial": null } ] }"""),
            ("order.paid", """{ "order": "1", "payment": "p", "amountMinor": 100, "currency": "GBP", "at": "2026-03-02T08:00:00Z" }"""),
            ("order.refunded", """{ "order": "1", "payment": "p", "amountMinor": 40, "currency": "GBP", "at": "2026-03-02T08:00:00Z" }"""),
            ("payment.disputed", """{ "order": "1", "payment": "p", "amountMinor": 100, "currency": "GBP", "at": "2026-03-02T08:00:00Z" }"""),
            ("payment.dispute-closed", """{ "order": "1", "payment": "p", "kind": "kept", "amountMinor": 100, "currency": "GBP", "at": "2026-03-03T08:00:00Z" }"""),
            ("shipment.sent", """{ "order": "1", "direction": "to-customer", "at": "2026-03-02T08:00:00Z" }"""),
            ("shipment.delivered", """{ "order": "1", "direction": "to-customer", "at": "2026-03-02T08:00:00Z", "carrier": "Post" }"""),
            ("customer.changed", """{ "ref": "c", "name": "Ida" }"""),
            ("order.changed", """{ "order": "1", "revision": 3, "placedAt": "2026-03-02T08:00:00Z", "currency": "GBP", "customer": { "ref": "c" }, "lines": [ { "line": "1", "product": "service-automatic", "quantity": 1, "amountMinor": 100 } ], "aMemberOfLater": 7 }"""),
        ];

        foreach (var (i, (type, data)) in least.Index())
        {
            var told = await shop.Tell(new Told($"least-{i}", type, data));
            Assert.Equal(type == "payment.disputed" ? ["payment-disputed"] : [], told.Texts("flags"));
        }

        var taken = await (await host.Desk.PostJson("/v1/jobs", $$"""{ "expected": "{{await shop.ArrivalOf("1")}}" }""")).Json();
        await shop.Tell(new Told("cancelled", "order.cancelled", """{ "order": "1" }"""));
        var account = await host.Desk.Get($"/v1/jobs/{taken.Text("label")}/account");
        Assert.Equal((100, 40), (account.GetProperty("paidMinor").GetInt64(), account.GetProperty("refundedMinor").GetInt64()));
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task Whoever_is_erased_is_gone_from_what_storefronts_told_and_the_order_stays(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered(more: """, "recipient": { "name": "Odo Marlow" }"""), Story.Paid("p-1", 48_000), Story.Moved(), Story.Cancelled());
        var customer = (await shop.Arrivals())[0].Text("customer");
        var before = await host.QueryFirst<long>("select count(*) from storefront_message where body like '%Marlow%'");

        await (await host.Manager.PostJson($"/v1/customers/{customer}/erasure", "{}")).Json();

        Assert.Equal(1, before);
        Assert.Equal(0, await host.QueryFirst<long>("select count(*) from storefront_message where body is not null"));
        Assert.Equal(0, await host.QueryFirst<long>("select count(*) from storefront_order where personal is not null"));
        Assert.Equal(0, await host.QueryFirst<long>("select count(*) from storefront_customer where told like '%Marlow%' or told like '%Gorse%'"));
        Assert.Equal(0, await host.QueryFirst<long>("select count(*) from arrival where words is not null"));
        Assert.Equal(48_000, (await shop.Order("2041")).GetProperty("paidMinor").GetInt64());
        Assert.Empty(host.Check().Differences);
    }

    [Fact]
    public async Task What_is_no_text_at_all_is_kept_too()
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);
        byte[] body = [0xff, 0xfe, 0x00];
        var now = SystemClock.Instance.GetCurrentInstant();
        using var request = new HttpRequestMessage(HttpMethod.Post, "/v1/storefront/events") { Content = new ByteArrayContent(body) };
        request.Headers.Add("webhook-id", "msg_bytes");
        request.Headers.Add("webhook-timestamp", WebhookSignature.Seconds(now));
        request.Headers.Add("webhook-signature", WebhookSignature.Sign(shop.Secret, "msg_bytes", now, body));

        using var answer = await host.Stranger.SendAsync(request);

        Assert.Equal(["unreadable"], (await answer.Json()).Texts("flags"));
        Assert.Equal("//4A", (await host.Desk.Get("/v1/storefront/received/1")).Text("text"));
    }

    [Fact]
    public async Task A_secret_is_rotated_with_an_overlap_and_revoked_at_once()
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);
        var first = shop.Secret;

        var drawn = await (await host.Manager.PostJson("/v1/storefronts/shop/secrets", """{ "overlap": "PT24H" }""", ("Idempotency-Key", "rotate-1"))).Json();
        var again = await (await host.Manager.PostJson("/v1/storefronts/shop/secrets", """{ "overlap": "PT24H" }""", ("Idempotency-Key", "rotate-1"))).Json();
        await shop.Tell(Story.Ordered());
        shop.Secret = TestStorefront.Read(drawn.Text("secret"));
        await shop.Tell(Story.Paid("p-1", 48_000));
        using var revoked = await host.Manager.DeleteAsync($"/v1/storefronts/shop/secrets/{first.Mark}");
        await shop.Tell(Story.Paid("p-2", 1));
        shop.Secret = first;
        using var late = await shop.Post(Story.Paid("p-3", 1).Json(shop.Source));
        var seen = await host.Manager.Get("/v1/storefronts/shop");

        Assert.Equal(2, drawn.GetProperty("secrets").GetArrayLength());
        Assert.False(again.TryGetProperty("secret", out _));
        Assert.Equal((204, 401), ((int)revoked.StatusCode, (int)late.StatusCode));
        Assert.Equal([drawn.Text("id")], seen.GetProperty("secrets").EnumerateArray().Select(one => one.Text("id")));
        Assert.DoesNotContain("whsec_", seen.GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_identity_with_two_contents_keeps_both_and_says_so()
    {
        await using var host = await Counter.Open();
        var shop = await TestStorefront.Join(host);
        await shop.Tell(Story.Ordered());

        var other = await shop.Tell(Story.Ordered(lines: Story.Line("1", amount: 50_000)));

        Assert.Equal(["event-conflict"], other.Texts("flags"));
        Assert.Equal(2, await host.QueryFirst<long>("select count(*) from storefront_message"));
    }
}
