using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Signatures;

namespace Workshop.Service.Trial.Storefronts;

/// <summary>Something a storefront's connector meets sooner or later, and has to come through.</summary>
/// <param name="Name">In lower case with hyphens; the page for authors of storefronts lists it.</param>
/// <param name="Asks">What is asked of the connector, in one sentence.</param>
internal sealed record StorefrontSituation(string Name, string Asks, Func<StorefrontPlay, Task> Plays);

/// <summary>One situation being played: the trial is the customers of the shop, and the workshop at the other end.</summary>
internal sealed class StorefrontPlay(TriedStorefront shop, StorefrontStandIn service)
{
    public const string Source = "/storefront/trial";
    public const string Job = "J7K3MQ4T";

    private int orders;
    private int messages;

    public TriedStorefront Shop => shop;

    public StorefrontStandIn Service => service;

    /// <summary>By what the connector knows our messages.</summary>
    public WebhookSecret Hook { get; private set; } = WebhookSecret.Draw();

    public async Task Begin()
    {
        (orders, messages) = (0, 0);
        service.Begin();
        Hook = WebhookSecret.Draw();
        await shop.Reset(service.Address, Source, service.Secret.Written, Hook.Written);
    }

    /// <summary>Customers order so many times; nothing is sent yet.</summary>
    public async Task Order(int times = 1)
    {
        for (var i = 0; i < times; i++)
        {
            orders++;
            await shop.Tell("order.created", new
            {
                order = $"o-{orders}",
                revision = 1,
                placedAt = "2026-03-02T08:00:00Z",
                currency = "GBP",
                customer = new { @ref = "c-1", name = "Zoë Müller", email = "zoe@example.com", language = "en" },
                lines = new[] { new { line = "1", product = "service-automatic", quantity = 1, options = Array.Empty<string>(), amountMinor = 48_000, taxMinor = 8_000 } },
            });
        }
    }

    /// <summary>Every order that was placed has arrived, each once and in order, under a right signature and our source, and nothing waits.</summary>
    public async Task EverythingArrived()
    {
        var kept = service.Kept.Where(one => one.Type == "order.created").Select(OrderOf).ToArray();
        var placed = Enumerable.Range(1, orders).Select(number => $"o-{number}").ToArray();
        Expect(kept.SequenceEqual(placed), $"placed were {Some(placed)}, arrived {Some(kept)}");
        Expect(service.Kept.TrueForAll(one => one.Source == Source), $"it speaks as '{service.Kept.Find(one => one.Source != Source)?.Source}' instead of '{Source}'");
        var waiting = (await shop.State()).Waiting;
        Expect(waiting.IsEmpty, $"{Some(waiting)} still waits");
    }

    /// <summary>Sends the connector a message as the workshop would.</summary>
    /// <param name="id">Of the message; a new one where left out.</param>
    public async Task<int> Message(string type, object data, string? id = null, Instant? at = null, string? sent = null, params WebhookSecret[] by)
    {
        var number = id ?? $"msg_{++messages}";
        var moment = at ?? SystemClock.Instance.GetCurrentInstant();
        var body = JsonSerializer.Serialize(
            new { specversion = "1.0", id = number, source = "/service", type, time = "2026-03-02T09:00:00Z", subject = Job, data }, Storage.WorkshopJson.Options);
        using var request = new HttpRequestMessage(HttpMethod.Post, (await shop.State()).Hook) { Content = new ByteArrayContent(Encoding.UTF8.GetBytes(sent ?? body)) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue("application/cloudevents+json");
        request.Headers.Add(WebhookHeaders.IdName, number);
        request.Headers.Add(WebhookHeaders.TimestampName, WebhookSignature.Seconds(moment));
        request.Headers.Add(WebhookHeaders.SignatureName, WebhookSignature.Sign(by.Length == 0 ? [Hook] : by, number, moment, Encoding.UTF8.GetBytes(body)));
        using var answer = await shop.Send(request);
        return (int)answer.StatusCode;
    }

    public static object Stage(string stage, long version) => new { job = Job, order = "o-1", version, at = "2026-03-02T09:00:00Z", publicStage = stage, @public = new { reference = Job, stage } };

    /// <summary>Asks the inbox as the service does.</summary>
    public async Task<(int Status, byte[] Bytes, SignatureVerdict Verdict)> Inbox(string query, WebhookSecret? by = null)
    {
        var now = SystemClock.Instance.GetCurrentInstant();
        var id = $"inbox-{++messages}";
        using var request = new HttpRequestMessage(HttpMethod.Get, new UriBuilder((await shop.State()).Inbox) { Query = query }.Uri);
        request.Headers.Add(WebhookHeaders.IdName, id);
        request.Headers.Add(WebhookHeaders.TimestampName, WebhookSignature.Seconds(now));
        request.Headers.Add(WebhookHeaders.SignatureName, WebhookSignature.Sign(by ?? service.Secret, id, now, Encoding.UTF8.GetBytes(query)));
        using var answer = await shop.Send(request);
        var bytes = await answer.Content.ReadAsByteArrayAsync();
        string? One(string name) => answer.Headers.TryGetValues(name, out var values) ? string.Join(',', values) : null;
        var headers = new WebhookHeaders(One(WebhookHeaders.IdName), One(WebhookHeaders.TimestampName), One(WebhookHeaders.SignatureName));
        return ((int)answer.StatusCode, bytes, WebhookSignature.Verify([service.Secret], headers, bytes, now));
    }

    /// <summary>A page of the inbox; it has to be signed and readable.</summary>
    public async Task<CloudEvent[]> Page(long after, int limit)
    {
        var (status, bytes, verdict) = await Inbox($"after={after}&limit={limit}");
        Expect(status == 200, $"the inbox answered {status}");
        Expect(verdict.Genuine, $"the inbox's answer: {verdict.Sentence}");
        if (Encoding.UTF8.GetString(bytes).Trim() == "[]")
        {
            return [];
        }

        var (events, refusal) = CloudEventReader.Read(bytes, isBatch: true);
        Expect(refusal is null && events.All(one => one.Event is not null), "the inbox's answer is no batch of events");
        return [.. events.Select(one => one.Event!)];
    }

    /// <exception cref="NotHandledException">It is not so.</exception>
    public void Expect(bool holds, string otherwise)
    {
        if (!holds)
        {
            throw new NotHandledException(otherwise);
        }
    }

    private static string OrderOf(CloudEvent one)
    {
        using var data = JsonDocument.Parse(one.Data);
        return data.RootElement.TryGetProperty("order", out var order) ? order.GetString() ?? "?" : "?";
    }

    private static string Some(IReadOnlyCollection<string> names) => names.Count switch
    {
        0 => "nothing",
        <= 6 => string.Join(", ", names),
        _ => $"{string.Join(", ", names.Take(4))} … ({names.Count})",
    };
}
