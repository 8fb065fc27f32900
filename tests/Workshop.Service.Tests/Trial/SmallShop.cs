using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.Signatures;

namespace Workshop.Service.Tests.Trial;

/// <summary>What a connector may get wrong.</summary>
public enum Slip
{
    None,
    NewIdEachTime,
    ForgetsOnFailure,
    TakesFlagsForFailure,
    HidesFlags,
    AnswersStrangers,
    InboxIgnoresAfter,
    CountsTwice,
    OlderStateWins,
    TakesAnySignature,
    SpeaksAsAnother,
}

/// <summary>A connector with the control interface of the trial, right but for one slip.</summary>
internal sealed class SmallShop : IAsyncDisposable
{
    public const string Key = "trial-key";

    private readonly WebApplication app;
    private readonly Slip slip;
    private readonly HttpClient client = new();
    private readonly List<(string Id, string Text, bool Sent)> events = [];
    private readonly HashSet<string> heard = [];
    private readonly Dictionary<string, JsonObject> watches = [];
    private readonly List<string> attention = [];
    private int heardCount;
    private Uri service = null!;
    private string source = "";
    private WebhookSecret secret = WebhookSecret.Draw();
    private WebhookSecret[] hooks = [];

    private SmallShop(WebApplication app, Slip slip)
    {
        this.app = app;
        this.slip = slip;
    }

    public Uri Address => new(app.Urls.First());

    public static async Task<SmallShop> Listen(Slip slip)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        var app = builder.Build();
        app.Urls.Add("http://127.0.0.1:0");
        var shop = new SmallShop(app, slip);
        app.Run(shop.Answer);
        await app.StartAsync();
        return shop;
    }

    public ValueTask DisposeAsync()
    {
        client.Dispose();
        return app.DisposeAsync();
    }

    private async Task Answer(HttpContext context)
    {
        using var read = new MemoryStream();
        await context.Request.Body.CopyToAsync(read);
        var bytes = read.ToArray();
        var headers = WebhookHeaders.Of(context.Request.Headers);
        var path = context.Request.Path.Value!;
        if (path == "/inbox")
        {
            await Inbox(context, headers);
        }
        else if (path == "/hook")
        {
            context.Response.StatusCode = Hook(headers, bytes);
        }
        else
        {
            Assert.Equal($"Bearer {Key}", context.Request.Headers.Authorization.ToString());
            var body = bytes.Length == 0 ? [] : JsonNode.Parse(bytes)!.AsObject();
            var answer = await Control(path["/trial/".Length..], body);
            await context.Response.WriteAsync(answer.ToJsonString());
        }
    }

    private async Task<JsonObject> Control(string what, JsonObject body)
    {
        switch (what)
        {
            case "reset":
                (service, source, secret) = (new Uri(body["service"]!.GetValue<string>()), body["source"]!.GetValue<string>(), Read(body["secret"]!));
                hooks = [.. body["hookSecrets"]!.AsArray().Select(one => Read(one!))];
                events.Clear();
                heard.Clear();
                watches.Clear();
                attention.Clear();
                heardCount = 0;
                break;
            case "secrets":
                secret = body["secret"] is { } next ? Read(next) : secret;
                hooks = body["hookSecrets"] is JsonArray all ? [.. all.Select(one => Read(one!))] : hooks;
                break;
            case "tell":
                var id = Guid.CreateVersion7(DateTimeOffset.UnixEpoch.AddSeconds(events.Count)).ToString();
                events.Add((id, new JsonObject
                {
                    ["specversion"] = "1.0",
                    ["id"] = id,
                    ["source"] = slip == Slip.SpeaksAsAnother ? "/storefront/other" : source,
                    ["type"] = body["type"]!.DeepClone(),
                    ["time"] = "2026-03-02T08:00:00Z",
                    ["sequence"] = $"{events.Count + 1}",
                    ["data"] = body["data"]!.DeepClone(),
                }.ToJsonString(), false));
                break;
            case "wake":
                await Send();
                break;
            default:
                return new JsonObject
                {
                    ["hook"] = new Uri(Address, "/hook").ToString(),
                    ["inbox"] = new Uri(Address, "/inbox").ToString(),
                    ["heard"] = heardCount,
                    ["watches"] = new JsonObject(watches.Select(one => KeyValuePair.Create(one.Key, (JsonNode?)one.Value.DeepClone()))),
                    ["waiting"] = new JsonArray([.. events.Where(one => !one.Sent).Select(one => (JsonNode)one.Id)]),
                    ["attention"] = new JsonArray([.. attention.Select(one => (JsonNode)one)]),
                };
        }

        return [];
    }

    private async Task Send()
    {
        for (var i = 0; i < events.Count; i++)
        {
            if (events[i].Sent)
            {
                continue;
            }

            var now = SystemClock.Instance.GetCurrentInstant();
            var id = slip == Slip.NewIdEachTime ? $"{events[i].Id}-{now.ToUnixTimeTicks()}" : events[i].Id;
            var body = Encoding.UTF8.GetBytes(events[i].Text);
            using var request = new HttpRequestMessage(HttpMethod.Post, new Uri(service, "/v1/storefront/events")) { Content = new ByteArrayContent(body) };
            request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/cloudevents+json");
            request.Headers.Add("webhook-id", id);
            request.Headers.Add("webhook-timestamp", WebhookSignature.Seconds(now));
            request.Headers.Add("webhook-signature", WebhookSignature.Sign(secret, id, now, body));
            var taken = slip == Slip.ForgetsOnFailure;
            try
            {
                using var answer = await client.SendAsync(request);
                if ((int)answer.StatusCode == 202)
                {
                    var flags = JsonNode.Parse(await answer.Content.ReadAsStringAsync())!["flags"]!.AsArray().Select(one => one!.GetValue<string>()).ToArray();
                    attention.AddRange(slip == Slip.HidesFlags ? [] : flags);
                    taken |= flags.Length == 0 || slip != Slip.TakesFlagsForFailure;
                }
            }
            catch (HttpRequestException)
            {
                // As on the line: nobody knows what became of it.
            }

            if (!taken)
            {
                return;
            }

            events[i] = events[i] with { Sent = true };
        }
    }

    private int Hook(WebhookHeaders headers, byte[] bytes)
    {
        if (slip != Slip.TakesAnySignature && !WebhookSignature.Verify(hooks, headers, bytes, SystemClock.Instance.GetCurrentInstant()).Genuine)
        {
            return 401;
        }

        if (!heard.Add(headers.Id!) && slip != Slip.CountsTwice)
        {
            return 204;
        }

        heardCount++;
        var data = JsonNode.Parse(bytes)!["data"]?.AsObject() ?? [];
        if (data["job"]?.GetValue<string>() is { } job)
        {
            var known = watches.TryGetValue(job, out var before) ? before : new JsonObject { ["version"] = 0L };
            var version = data["version"]!.GetValue<long>();
            if (slip == Slip.OlderStateWins || version >= known["version"]!.GetValue<long>())
            {
                watches[job] = new JsonObject
                {
                    ["version"] = version,
                    ["stage"] = (data["publicStage"] ?? known["stage"])?.DeepClone(),
                    ["quote"] = (data["quote"] ?? known["quote"])?.DeepClone(),
                };
            }
        }

        return 204;
    }

    private async Task Inbox(HttpContext context, WebhookHeaders headers)
    {
        var now = SystemClock.Instance.GetCurrentInstant();
        var query = Encoding.UTF8.GetBytes(context.Request.QueryString.Value!.TrimStart('?'));
        if (slip != Slip.AnswersStrangers && !WebhookSignature.Verify([secret], headers, query, now).Genuine)
        {
            context.Response.StatusCode = 401;
            return;
        }

        var after = slip == Slip.InboxIgnoresAfter ? 0 : int.Parse(context.Request.Query["after"]!);
        var body = Encoding.UTF8.GetBytes($"[{string.Join(",", events.Skip(after).Take(int.Parse(context.Request.Query["limit"]!)).Select(one => one.Text))}]");
        context.Response.Headers["webhook-id"] = $"inbox-{after}";
        context.Response.Headers["webhook-timestamp"] = WebhookSignature.Seconds(now);
        context.Response.Headers["webhook-signature"] = WebhookSignature.Sign(secret, $"inbox-{after}", now, body);
        await context.Response.Body.WriteAsync(body);
    }

    private static WebhookSecret Read(JsonNode written) => WebhookSecret.TryRead(written.GetValue<string>(), out var read) ? read : throw new InvalidOperationException("This is no secret.");
}
