using System.Collections.Immutable;
using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json;
using Workshop.Core.Orders;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.Signatures;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Storefront;

/// <summary>
/// Fetches a storefront's events, for a workshop that nobody can reach from outside: <c>GET ?after=&amp;limit=</c>, signed over the query, answered
/// with a signed batch. How far it was read is kept in the turn that keeps what was read, so that nothing is missed and nothing counts twice.
/// </summary>
public sealed partial class AskInbox(StorefrontSettings settings, RealTime time, Writer writer, ILogger<AskInbox> log) : IDisposable
{
    /// <summary>Events asked for at once.</summary>
    public const int Limit = 100;

    // A day's events of a busy shop are a few hundred; whoever always has more is looked at again half a minute later.
    private const int BatchesAtOnce = 50;

    private const int BytesAtMost = 8 * 1024 * 1024;

    private static readonly TimeSpan AnswerWithin = TimeSpan.FromSeconds(20);

    // The address was written by whoever runs the machine, and no answer may lead anywhere else.
    private readonly HttpClient client = new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false, ConnectTimeout = AnswerWithin })
    {
        Timeout = AnswerWithin,
        MaxResponseContentBufferSize = BytesAtMost,
    };

    private readonly SemaphoreSlim one = new(1);

    /// <summary>Reads the inbox to its end, unless somebody does already.</summary>
    /// <returns>Batches that held something.</returns>
    public async Task<int> Run(CancellationToken cancel)
    {
        if (settings is not { Inbox: { } inbox, Secret: { } secret } || !await one.WaitAsync(0, cancel))
        {
            return 0;
        }

        try
        {
            var storefront = await writer.Turn(Migrations.FirstSite, turn => StorefrontStore.Find(turn, settings.Id) ?? Begin(turn), cancel);
            var batches = 0;
            while (batches < BatchesAtOnce)
            {
                var (position, more, fault) = await Fetch(inbox, secret, storefront, cancel);
                if (fault is not null)
                {
                    CannotBeRead(settings.Id, fault);
                    await writer.Turn(storefront.Site, turn => StorefrontStore.KeepInboxFault(turn, storefront.Id, fault), cancel);
                    break;
                }

                batches += position > storefront.InboxPosition ? 1 : 0;
                storefront = storefront with { InboxPosition = position };
                if (!more)
                {
                    break;
                }
            }

            return batches;
        }
        finally
        {
            one.Release();
        }
    }

    public void Dispose()
    {
        client.Dispose();
        one.Dispose();
    }

    private StoredStorefront Begin(Turn turn)
    {
        StorefrontStore.Add(turn, settings.Id, ManageStorefronts.SourceOf(settings.Id), settings.Id);
        return StorefrontStore.Find(turn, settings.Id)!;
    }

    private async Task<(long Position, bool More, string? Fault)> Fetch(Uri inbox, WebhookSecret secret, StoredStorefront from, CancellationToken cancel)
    {
        var query = string.Create(CultureInfo.InvariantCulture, $"after={from.InboxPosition}&limit={Limit}");
        using var request = new HttpRequestMessage(HttpMethod.Get, new UriBuilder(inbox) { Query = query }.Uri);
        var id = $"inbox-{Guid.CreateVersion7(time.Now.ToDateTimeOffset())}";
        request.Headers.Add(WebhookHeaders.IdName, id);
        request.Headers.Add(WebhookHeaders.TimestampName, WebhookSignature.Seconds(time.Now));
        request.Headers.Add(WebhookHeaders.SignatureName, WebhookSignature.Sign(secret, id, time.Now, Encoding.UTF8.GetBytes(query)));
        byte[] bytes;
        WebhookHeaders headers;
        try
        {
            using var answer = await client.SendAsync(request, cancel);
            if (answer.StatusCode != HttpStatusCode.OK)
            {
                return (from.InboxPosition, false, $"It answered {(int)answer.StatusCode}.");
            }

            bytes = await answer.Content.ReadAsByteArrayAsync(cancel);
            headers = new WebhookHeaders(One(answer, WebhookHeaders.IdName), One(answer, WebhookHeaders.TimestampName), One(answer, WebhookHeaders.SignatureName));
        }
        catch (HttpRequestException failure)
        {
            return (from.InboxPosition, false, $"It cannot be reached: {failure.HttpRequestError}.");
        }
        catch (TaskCanceledException) when (!cancel.IsCancellationRequested)
        {
            return (from.InboxPosition, false, $"It gave no answer within {AnswerWithin.TotalSeconds:0} s.");
        }

        var verdict = WebhookSignature.Verify([secret], headers, bytes, time.Now);
        if (!verdict.Genuine)
        {
            return (from.InboxPosition, false, verdict.Sentence);
        }

        var (count, last) = Sequences(bytes);
        var position = Math.Max(from.InboxPosition, last ?? 0);

        // What is there and cannot be passed is kept all the same: it is flagged, and somebody sees why the inbox stands still.
        await HearDelivery.Hear(writer, new Delivery(from, StorefrontDoor.Inbox, headers.Id!, bytes) { AtLast = turn => StorefrontStore.KeepPosition(turn, from.Id, position, time.Now) }, cancel);
        return count != 0 && position == from.InboxPosition
            ? (position, false, "No event of the batch has a sequence beyond the one asked for: the inbox cannot be read on.")
            : (position, count == Limit, null);
    }

    private static string? One(HttpResponseMessage answer, string name) => answer.Headers.TryGetValues(name, out var values) ? string.Join(',', values) : null;

    /// <summary>How many elements a batch has, and the highest sequence among them; a body that cannot be read counts as one without.</summary>
    private static (int Count, long? Last) Sequences(byte[] bytes)
    {
        try
        {
            using var batch = JsonDocument.Parse(bytes);
            if (batch.RootElement.ValueKind != JsonValueKind.Array)
            {
                return (1, null);
            }

            var sequences = batch.RootElement.EnumerateArray().Select(SequenceOf).OfType<long>().ToImmutableArray();
            return (batch.RootElement.GetArrayLength(), sequences.IsEmpty ? null : sequences.Max());
        }
        catch (JsonException)
        {
            return (1, null);
        }
    }

    private static long? SequenceOf(JsonElement told) =>
        told.ValueKind == JsonValueKind.Object && told.TryGetProperty("sequence", out var sequence) && sequence.ValueKind == JsonValueKind.String
        && long.TryParse(sequence.GetString(), NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;

    [LoggerMessage(Level = LogLevel.Warning, Message = "The inbox of the storefront {Storefront} was not read: {Fault}")]
    private partial void CannotBeRead(string storefront, string fault);
}
