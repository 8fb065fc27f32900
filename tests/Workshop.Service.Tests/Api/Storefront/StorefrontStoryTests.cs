using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Features.Storefront;
using Workshop.Service.Http.Signatures;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Storefront;

/// <summary>A story ends the same however it is told: late, twice, in whatever order, by whichever door.</summary>
public class StorefrontStoryTests
{
    private static readonly Told[] Whole =
    [
        Story.Ordered(lines: $"{Story.Line("1")}, {Story.Line("2")}"),
        Story.Ordered(revision: 2, lines: $"{Story.Line("1", quantity: 2, amount: 96_000)}, {Story.Line("2", "service-chronograph", amount: 60_000)}", time: "2026-03-02T08:05:00Z"),
        Story.Ordered(revision: 3, lines: $"{Story.Line("1", quantity: 2, amount: 90_000)}, {Story.Line("2", "service-chronograph", amount: 60_000)}", time: "2026-03-02T08:15:00Z"),
        Story.Paid("p-1", 50_000, kind: "deposit"),
        Story.Paid("p-2", 100_000, at: "2026-03-02T08:12:00Z"),
        Story.Cancelled(lines: "\"2\""),
        Story.Refunded("p-2", 60_000),
        Story.KitSent(),
        Story.Moved(),
    ];

    [Theory]
    [BothEngines]
    public async Task However_late_often_and_out_of_order_a_story_is_told_it_ends_in_one_state(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var first = await TestStorefront.Join(host);
        foreach (var told in Whole)
        {
            await first.Tell(told);
        }

        var expected = await first.State("2041", "c-9");
        var random = new Random(2041);
        for (var i = 0; i < 12; i++)
        {
            var shop = await TestStorefront.Join(host, $"shop-{i}");
            var told = Whole.Concat(Enumerable.Range(0, 5).Select(_ => Whole[random.Next(Whole.Length)])).ToArray();
            random.Shuffle(told);
            foreach (var some in told.Chunk(random.Next(1, 4)))
            {
                await shop.Tell(some);
            }

            Assert.Equal(expected, await shop.State("2041", "c-9"));
        }

        // It is the state that was meant, and not an empty one.
        var order = await first.Order("2041");
        Assert.Equal((3, 150_000, 60_000), (order.GetProperty("revision").GetInt32(), order.GetProperty("paidMinor").GetInt64(), order.GetProperty("refundedMinor").GetInt64()));
        Assert.Equal(["1/1 expected", "1/2 expected", "2/1 ended"], order.GetProperty("arrivals").EnumerateArray().Select(one => $"{one.Text("line")}/{one.GetProperty("piece").GetInt32()} {one.Text("state")}"));
        Assert.Empty(await first.Flagged());
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task An_inbox_gives_the_same_as_post_and_a_day_away_misses_nothing(StorageEngine engine)
    {
        await using var inbox = await TestInbox.Listen();
        await using var host = await WorkshopHost.Start(engine, new Dictionary<string, string?>
        {
            ["Storefront:Inbox"] = inbox.Address.ToString(),
            ["Storefront:InboxSecret"] = inbox.Secret.Written,
            ["Storefront:InboxId"] = "fetched",
        });
        host.Clock.AutoAdvance = Duration.FromMilliseconds(1);
        var posted = await TestStorefront.Join(host, "posted");
        var fetched = await TestStorefront.Join(host, "fetched");
        var ask = host.Services.GetRequiredService<AskInbox>();
        foreach (var told in Whole[..4])
        {
            await posted.Tell(told);
        }

        inbox.Tell(Whole[..4], fetched.Source);
        await ask.Run(CancellationToken.None);
        var before = await host.Manager.Get("/v1/storefronts/fetched");

        // A day away: the inbox answers nothing while events gather in it, then it is asked again.
        inbox.Away = true;
        inbox.Tell(Whole[4..], fetched.Source);
        await ask.Run(CancellationToken.None);
        var away = await host.Manager.Get("/v1/storefronts/fetched");
        await host.Advance(Duration.FromDays(1));
        inbox.Away = false;
        foreach (var told in Whole[4..])
        {
            await posted.Tell(told);
        }

        await ask.Run(CancellationToken.None);
        await ask.Run(CancellationToken.None);

        Assert.Equal(await posted.State("2041", "c-9"), await fetched.State("2041", "c-9"));
        Assert.Equal(4, before.GetProperty("inbox").GetProperty("position").GetInt32());
        Assert.Equal("It answered 503.", away.GetProperty("inbox").Text("fault"));
        Assert.Equal(4, away.GetProperty("inbox").GetProperty("position").GetInt32());
        var after = (await host.Manager.Get("/v1/storefronts/fetched")).GetProperty("inbox");
        Assert.Equal((9, false), (after.GetProperty("position").GetInt32(), after.TryGetProperty("fault", out _)));
    }

    [Fact]
    public async Task A_batch_that_is_not_signed_by_the_inbox_leaves_the_position_alone()
    {
        await using var inbox = await TestInbox.Listen();
        await using var host = await WorkshopHost.Start(set: new Dictionary<string, string?>
        {
            ["Storefront:Inbox"] = inbox.Address.ToString(),
            ["Storefront:InboxSecret"] = WebhookSecret.Draw().Written,
        });
        inbox.Tell(Whole, "/storefront/shop");

        await host.Services.GetRequiredService<AskInbox>().Run(CancellationToken.None);

        // Neither side believed the other.
        Assert.True(inbox.RefusedQuestions > 0);
        var seen = (await host.Manager.Get("/v1/storefronts/shop")).GetProperty("inbox");
        Assert.Equal((0, "It answered 401."), (seen.GetProperty("position").GetInt32(), seen.Text("fault")));
    }

    [Fact]
    public async Task A_large_inbox_is_read_in_pages_to_its_end()
    {
        await using var inbox = await TestInbox.Listen();
        await using var host = await WorkshopHost.Start(set: new Dictionary<string, string?>
        {
            ["Storefront:Inbox"] = inbox.Address.ToString(),
            ["Storefront:InboxSecret"] = inbox.Secret.Written,
        });
        inbox.Tell([.. Enumerable.Range(1, 230).Select(i => Story.Paid($"p-{i}", 100, $"o-{i}"))], "/storefront/shop");

        var batches = await host.Services.GetRequiredService<AskInbox>().Run(CancellationToken.None);

        Assert.Equal(3, batches);
        Assert.Equal(230, await host.QueryFirst<long>("select count(*) from storefront_order"));
        Assert.Equal(230, (await host.Manager.Get("/v1/storefronts/shop")).GetProperty("inbox").GetProperty("position").GetInt32());
    }
}

/// <summary>A storefront's inbox, as its author would serve it.</summary>
internal sealed class TestInbox : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly List<string> events = [];

    private TestInbox(WebApplication app) => this.app = app;

    public WebhookSecret Secret { get; } = WebhookSecret.Draw();

    public bool Away { get; set; }

    public int RefusedQuestions { get; private set; }

    public Uri Address => new($"{app.Urls.First()}/workshop-inbox");

    public static async Task<TestInbox> Listen()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        var app = builder.Build();
        app.Urls.Add("http://127.0.0.1:0");
        var inbox = new TestInbox(app);
        app.MapGet("/workshop-inbox", inbox.Answer);
        await app.StartAsync();
        return inbox;
    }

    public void Tell(IEnumerable<Told> told, string source)
    {
        foreach (var one in told)
        {
            events.Add(one.Json(source, events.Count + 1));
        }
    }

    public ValueTask DisposeAsync() => app.DisposeAsync();

    private async Task Answer(HttpContext context)
    {
        var now = SystemClock.Instance.GetCurrentInstant();
        if (!WebhookSignature.Verify([Secret], WebhookHeaders.Of(context.Request.Headers), Encoding.UTF8.GetBytes(context.Request.QueryString.Value!.TrimStart('?')), now).Genuine)
        {
            RefusedQuestions++;
            context.Response.StatusCode = 401;
            return;
        }

        if (Away)
        {
            context.Response.StatusCode = 503;
            return;
        }

        var (after, limit) = (int.Parse(context.Request.Query["after"]!), int.Parse(context.Request.Query["limit"]!));
        var body = Encoding.UTF8.GetBytes($"[{string.Join(",", events.Skip(after).Take(limit))}]");
        var id = $"inbox-{after}-{events.Count}";
        context.Response.Headers["webhook-id"] = id;
        context.Response.Headers["webhook-timestamp"] = WebhookSignature.Seconds(now);
        context.Response.Headers["webhook-signature"] = WebhookSignature.Sign(Secret, id, now, body);
        context.Response.ContentType = "application/cloudevents-batch+json";
        await context.Response.Body.WriteAsync(body);
    }
}
