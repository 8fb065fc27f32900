using System.Diagnostics;
using System.Net;
using System.Text.Json;
using NodaTime;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.Takedown;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.PublicPages;

/// <summary>The page of a customer, over HTTP: who sees it, what it shows, and what it lets nobody find out.</summary>
public class PublicPageTests
{
    [Theory]
    [BothEngines]
    public async Task Whoever_knows_the_address_sees_one_watch_and_no_more_than_the_link_shows(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        await host.Save("settings", "main", """{ "shopName": "Tallow Lane Watches", "telephone": "+44 20 7946 0100", "email": "desk@tallow.example" }""");
        var job = await host.TakeIn();
        using var made = await host.Desk.PostJson($"/v1/jobs/{job}/public-links", """{ "view": "status" }""", ("Idempotency-Key", "link-1"));
        using var again = await host.Desk.PostJson($"/v1/jobs/{job}/public-links", """{ "view": "status" }""", ("Idempotency-Key", "link-1"));
        var address = (await made.Json()).Text("address");
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        Assert.False((await again.Json()).TryGetProperty("address", out _));
        Assert.StartsWith("/v1/public/", address, StringComparison.Ordinal);

        await host.Say(job, "stage.finished", """{ "stage": "diagnosis", "person": "mara" }""");
        await host.Say(job, "note.written", """{ "text": "The crown is worn.", "audience": "customer" }""");
        await host.Say(job, "note.written", """{ "text": "Ask about the strap.", "audience": "house" }""");
        await host.SendQuote(job, """, "options": []""".Replace(", \"options\": []", ""));
        using var seen = await host.Stranger.GetAsync(address);
        var page = await seen.Json();

        Assert.Equal((job, "your-decision", "approved", "you", "decision"), (page.Text("reference"), page.Text("stage"), page.Text("next"), page.Text("waitingOn"), page.Text("waitingFor")));
        Assert.Equal(["received", "being-examined", "your-decision"], page.GetProperty("done").EnumerateArray().Select(one => one.Text("stage")));
        Assert.Equal(("Tallow Lane Watches", "automatic", "Orrery & Finch", "Halyard"), (page.GetProperty("shop").Text("name"), page.GetProperty("watch").Text("kind"), page.GetProperty("watch").Text("maker"), page.GetProperty("watch").Text("model")));
        Assert.Equal("monday", page.GetProperty("shop").GetProperty("openingHours")[0].Text("day"));
        Assert.Equal(["bracelet 1", "links 2"], page.GetProperty("accessories").EnumerateArray().Select(one => $"{one.Text("kind")} {one.GetProperty("count").GetInt32()}"));
        Assert.Equal("The crown is worn.", Assert.Single(page.GetProperty("notes").EnumerateArray()).Text("text"));
        Assert.Equal(1, page.GetProperty("decision").GetProperty("quote").GetInt32());
        Assert.False(page.TryGetProperty("amounts", out _) || page.TryGetProperty("quote", out _) || page.GetProperty("links").TryGetProperty("answer", out _));

        // Any page of any origin may read it, and none may send credentials along.
        Assert.Equal("*", Assert.Single(seen.Headers.GetValues("Access-Control-Allow-Origin")));
        Assert.False(seen.Headers.Contains("Access-Control-Allow-Credentials"));
        Assert.Equal("cross-origin", Assert.Single(seen.Headers.GetValues("Cross-Origin-Resource-Policy")));
        using var preflight = await host.Stranger.Send(HttpMethod.Options, $"{address}/answer", null, "", ("Origin", "https://shop.example"), ("Access-Control-Request-Method", "POST"), ("Access-Control-Request-Headers", "content-type"));
        Assert.Equal((HttpStatusCode.NoContent, "GET, POST"), (preflight.StatusCode, Assert.Single(preflight.Headers.GetValues("Access-Control-Allow-Methods"))));
        Assert.Equal("*", Assert.Single(preflight.Headers.GetValues("Access-Control-Allow-Origin")));

        // The moment at which it is asked for changes nothing; the language does.
        host.Clock.Advance(Duration.FromMinutes(1));
        using var same = await host.Stranger.Send(HttpMethod.Get, address, null, "", ("If-None-Match", seen.Headers.ETag!.Tag));
        Assert.Equal((HttpStatusCode.NotModified, seen.Headers.ETag), (same.StatusCode, same.Headers.ETag));
        using var german = await host.Stranger.Send(HttpMethod.Get, $"{address}?language=de", null, "", ("If-None-Match", seen.Headers.ETag.Tag));
        Assert.Equal("de", (await german.Json()).Text("language"));

        var amounts = await host.Stranger.Get(await Link(host, job, "status-and-amounts"));
        Assert.Equal(48000, amounts.GetProperty("amounts").GetProperty("quotedMinor").GetInt64());
        Assert.False(amounts.TryGetProperty("quote", out _));
        var decide = await host.Stranger.Get(await Link(host, job, "decide"));
        Assert.Equal((1, 48000, 8000, "GBP"), (decide.GetProperty("quote").GetProperty("n").GetInt32(), decide.GetProperty("quote").GetProperty("totalMinor").GetInt64(), decide.GetProperty("quote").GetProperty("taxMinor").GetInt64(), decide.GetProperty("quote").Text("currency")));
        Assert.EndsWith("/answer", decide.GetProperty("links").Text("answer"), StringComparison.Ordinal);
        Assert.Empty(host.Check().Differences);
    }

    [Theory]
    [BothEngines]
    public async Task A_token_that_nobody_made_and_one_that_was_revoked_are_answered_the_same_by_the_same_one_lookup(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var job = await host.TakeIn();
        var address = await Link(host, job, "decide");
        var links = await host.Desk.Get($"/v1/jobs/{job}/public-links");
        var id = Assert.Single(links.GetProperty("items").EnumerateArray()).Text("id");
        await host.Stranger.Get(address);

        using var revoked = await host.Desk.DeleteAsync($"/v1/jobs/{job}/public-links/{id}");
        using var once = await host.Desk.DeleteAsync($"/v1/jobs/{job}/public-links/{id}");
        Assert.Equal((HttpStatusCode.NoContent, HttpStatusCode.NoContent), (revoked.StatusCode, once.StatusCode));
        Assert.NotEqual(default, (await host.Desk.Get($"/v1/jobs/{job}/public-links")).GetProperty("items")[0].GetProperty("revokedAt"));

        var never = address[..^8] + "AAAAAAAA";
        foreach (var form in new[] { "", "/answer", "/wear-report", "/claim", $"/photos/{new string('a', 64)}" })
        {
            var body = form switch { "/answer" => """{ "quote": 1, "accepted": true, "secondFactor": "0018" }""", "/claim" => """{ "text": "it stops", "secondFactor": "0018" }""", _ => """{ "stopped": true, "secondFactor": "0018" }""" };
            var (first, firstStatements) = await Ask(host, address + form, form is "" || form.StartsWith("/photos", StringComparison.Ordinal) ? null : body);
            var (second, secondStatements) = await Ask(host, never + form, form is "" || form.StartsWith("/photos", StringComparison.Ordinal) ? null : body);

            Assert.Equal(HttpStatusCode.NotFound, first.StatusCode);
            Assert.Equal(await first.Content.ReadAsByteArrayAsync(), await second.Content.ReadAsByteArrayAsync());
            Assert.Equal(HeadersOf(first), HeadersOf(second));
            Assert.Equal("no-such-page", (await first.Problem()).Code);

            // PostgreSQL's driver tells of every statement it sends.
            if (engine == StorageEngine.Postgres)
            {
                Assert.Equal((1, 1), (firstStatements, secondStatements));
            }

            first.Dispose();
            second.Dispose();
        }

        Assert.Equal(HttpStatusCode.NotFound, (await host.Stranger.GetAsync("/v1/public/x")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await host.Desk.DeleteAsync($"/v1/jobs/{job}/public-links/{Guid.Empty}")).StatusCode);
    }

    [Theory]
    [BothEngines]
    public async Task A_customer_sees_the_photos_that_the_desk_has_marked_and_no_others(StorageEngine engine)
    {
        await using var host = await Counter.Open(engine);
        var (job, other) = (await host.TakeIn(), await host.TakeIn());
        var (shown, hidden) = (Pictures.TwoHalves(), Pictures.TwoHalves(width: 48));
        await host.Bench.PutPhoto(job, shown);
        await host.Bench.PutPhoto(job, hidden);
        await host.Bench.PutPhoto(other, hidden);
        var address = await Link(host, job, "status");
        Assert.Empty((await host.Stranger.Get(address)).GetProperty("photos").EnumerateArray());

        using var refused = await host.Bench.Send(HttpMethod.Patch, $"/v1/jobs/{job}/photos/{Pictures.HashOf(shown)}", """{ "forCustomer": true }""", "application/json");
        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
        var marked = await (await host.Desk.Send(HttpMethod.Patch, $"/v1/jobs/{job}/photos/{Pictures.HashOf(shown)}", """{ "forCustomer": true }""", "application/json")).Json();
        await (await host.Desk.Send(HttpMethod.Patch, $"/v1/jobs/{other}/photos/{Pictures.HashOf(hidden)}", """{ "forCustomer": true }""", "application/json")).Json();
        Assert.True(marked.GetProperty("forCustomer").GetBoolean());

        var photo = Assert.Single((await host.Stranger.Get(address)).GetProperty("photos").EnumerateArray());
        using var picture = await host.Stranger.GetAsync(photo.Text("address"));
        Assert.Equal((HttpStatusCode.OK, "image/jpeg", "2026-03-02"), (picture.StatusCode, picture.Content.Headers.ContentType!.MediaType, photo.Text("takenOn")));
        Assert.Equal("cross-origin", Assert.Single(picture.Headers.GetValues("Cross-Origin-Resource-Policy")));
        Assert.Equal(HttpStatusCode.NotFound, (await host.Stranger.GetAsync($"{address}/photos/{Pictures.HashOf(hidden)}")).StatusCode);

        await (await host.Desk.Send(HttpMethod.Patch, $"/v1/jobs/{job}/photos/{Pictures.HashOf(shown)}", """{ "forCustomer": false }""", "application/json")).Json();
        Assert.Equal(HttpStatusCode.NotFound, (await host.Stranger.GetAsync(photo.Text("address"))).StatusCode);
        Assert.Empty(host.Check().Differences);
    }

    internal static async Task<string> Link(WorkshopHost host, string job, string view) =>
        (await (await host.Desk.PostJson($"/v1/jobs/{job}/public-links", $$"""{ "view": "{{view}}" }""")).Json()).Text("address");

    private static string HeadersOf(HttpResponseMessage answer) => string.Join('\n', answer.Headers.Concat(answer.Content.Headers)
        .Where(header => header.Key is not ("Date" or "RateLimit")).OrderBy(header => header.Key, StringComparer.Ordinal).Select(header => $"{header.Key}: {string.Join(", ", header.Value)}"));

    // The statements of one request carry its trace (W3C Trace Context), also where others run beside it.
    private static async Task<(HttpResponseMessage Answer, int Statements)> Ask(WorkshopHost host, string address, string? body)
    {
        var trace = ActivityTraceId.CreateRandom();
        var statements = 0;
        using var listener = new ActivityListener
        {
            ShouldListenTo = source => source.Name is "Npgsql" or "Microsoft.AspNetCore",
            Sample = (ref ActivityCreationOptions<ActivityContext> _) => ActivitySamplingResult.AllDataAndRecorded,
            ActivityStopped = activity =>
            {
                if (activity.Source.Name == "Npgsql" && activity.TraceId == trace)
                {
                    Interlocked.Increment(ref statements);
                }
            },
        };
        ActivitySource.AddActivityListener(listener);
        var traced = ("traceparent", $"00-{trace}-{ActivitySpanId.CreateRandom()}-01");
        var answer = body is null
            ? await host.Stranger.Send(HttpMethod.Get, address, null, "", traced)
            : await host.Stranger.Send(HttpMethod.Post, address, body, "application/json", traced);
        return (answer, statements);
    }
}
