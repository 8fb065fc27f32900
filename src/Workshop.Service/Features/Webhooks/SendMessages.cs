using System.Collections.Immutable;
using System.Security.Cryptography;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Core.Words;
using Workshop.Service.Meters;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Webhooks;

/// <summary>
/// Works through what waits at one endpoint: in order within a job, several jobs at a time. Everything it knows stands in the database,
/// so that a process that dies loses nothing; what was on its way then is sent again under the same id. On PostgreSQL several
/// instances may run: an endpoint is one instance's as long as its lease, which is longer than any attempt.
/// </summary>
public sealed partial class SendMessages(Database database, Writer writer, Reader reader, IClock clock, RealTime realTime, WebhookSettings settings, PostMessage post, WorkshopMeters meters, ILogger<SendMessages> log)
{
    // Back-pressure: no more are taken up for an endpoint while so many wait there. The outbox keeps the others.
    private const int WaitingAtMost = 1_000;
    private const int TakenAtOnce = 200;
    private const int LooksAtOnce = 20;

    // Beyond the longest attempt. Should it be too short all the same, a message goes out twice, still in its order.
    private static readonly Duration LeaseMargin = Duration.FromSeconds(5);

    private readonly string instance = RandomNumberGenerator.GetHexString(16, lowercase: true);

    /// <summary>Which attempts come together again is left to chance.</summary>
    internal Func<double> Chance { get; init; } = () => RandomNumberGenerator.GetInt32(1_000) / 1_000.0;

    /// <summary>Sends what can be sent now to every endpoint of a site, and returns when nothing more can.</summary>
    public async Task Run(string site, CancellationToken cancel)
    {
        var endpoints = await WebhookStore.Enabled(reader, site, cancel);
        await Task.WhenAll(endpoints.Select(endpoint => Run(site, endpoint, cancel)));
    }

    /// <summary>Sends what can be sent now to one endpoint, and returns when nothing more can.</summary>
    public async Task Run(string site, string endpoint, CancellationToken cancel)
    {
        if (!await IsWorthATurn(site, endpoint, cancel))
        {
            return;
        }

        var results = ImmutableArray<(WaitingMessage Message, Attempt? Attempt)>.Empty;
        while (await writer.Turn(site, turn => Next(turn, endpoint, results), cancel) is { } round)
        {
            results = [.. await Task.WhenAll(round.Messages.Select(message => Send(site, round, message, cancel)))];
        }
    }

    // A look beside the writer: most of the time there is nothing to do.
    private Task<bool> IsWorthATurn(string site, string id, CancellationToken cancel) => reader.Read(
        connection => WebhookStore.Find(connection, site, id) is { } endpoint
            && MayWork(endpoint, realTime.Now)
            && (Outbox.After(connection, site, endpoint.TakenThrough, 1).Count > 0
                || DeliveryStore.AnyNext(connection, site, id, realTime.Now, clock.GetCurrentInstant())),
        cancel);

    private bool MayWork(StoredEndpoint endpoint, Instant now) =>
        endpoint.State == Word.Of(EndpointState.Enabled)
        && (endpoint.HeldUntil is not { } held || held <= Microseconds.Of(now))
        && (endpoint.LeasedBy is null || endpoint.LeasedBy == instance || endpoint.LeasedUntil <= Microseconds.Of(now) || IsAlone);

    // A file is one process's: whoever had a lease there is no more.
    private bool IsAlone => database.Engine == StorageEngine.Sqlite;

    private async Task<(WaitingMessage Message, Attempt? Attempt)> Send(string site, Round round, WaitingMessage message, CancellationToken cancel)
    {
        if (message.Withdrawn is not null)
        {
            return (message, null);
        }

        var stored = message.Message;
        var attempt = await post.Send(round.Url, round.Secrets, Outbox.MessageId(site, stored), Outbox.Event(site, stored), cancel);
        meters.Delivered(Word.Of(RetryPlan.Of(attempt.Status, attempt.Wish is not null)));
        return (message, attempt);
    }

    // One turn keeps what came of the last round and takes up the next one; null where there is none now.
    private Round? Next(Turn turn, string id, ImmutableArray<(WaitingMessage Message, Attempt? Attempt)> results)
    {
        if (WebhookStore.Find(turn, id) is not { } endpoint)
        {
            return null;
        }

        var now = realTime.Now;
        var after = results.Aggregate(endpoint, (before, one) => Keep(turn, before, one.Message, one.Attempt, now));
        if (after.State != endpoint.State)
        {
            Stopped(id, after.Reason!);
        }

        IReadOnlyList<WaitingMessage> next = [];
        if (MayWork(after, now))
        {
            after = TakeUp(turn, after, now);
            next = DeliveryStore.Next(turn, id, now, turn.Now, settings.AtOnce);
        }

        after = next.Count > 0 ? after with { LeasedBy = instance, LeasedUntil = Microseconds.Of(now + settings.Timeout + LeaseMargin) }
            : after.LeasedBy == instance ? after with { LeasedBy = null, LeasedUntil = null }
            : after;
        if (after != endpoint)
        {
            WebhookStore.Save(turn, after);
        }

        if (after.State != endpoint.State)
        {
            HouseAgenda.Refresh(turn);
        }

        return next.Count == 0 ? null : new Round(new Uri(after.Url), WebhookStore.InForce(WebhookStore.Secrets(turn, id), now), next);
    }

    private static StoredEndpoint TakeUp(Turn turn, StoredEndpoint endpoint, Instant now)
    {
        if (DeliveryStore.Backlog(turn, endpoint.Id).Waiting >= WaitingAtMost)
        {
            return endpoint;
        }

        // An endpoint that wants few types passes over many messages.
        for (var looks = 0; looks < LooksAtOnce; looks++)
        {
            var messages = Outbox.After(turn, endpoint.TakenThrough, TakenAtOnce);
            var wanted = messages.Where(endpoint.Wants).ToArray();
            foreach (var message in wanted)
            {
                DeliveryStore.Take(turn, endpoint.Id, message, now);
            }

            endpoint = messages is [.., var last] ? endpoint with { TakenThrough = last.Position } : endpoint;
            if (wanted.Length > 0 || messages.Count < TakenAtOnce)
            {
                break;
            }
        }

        return endpoint;
    }

    private StoredEndpoint Keep(Turn turn, StoredEndpoint endpoint, WaitingMessage message, Attempt? attempt, Instant now)
    {
        if (attempt is null)
        {
            DeliveryStore.End(turn, endpoint.Id, message.Position, delivered: false, now);
            return endpoint;
        }

        var number = (int)message.Attempts + 1;
        var verdict = RetryPlan.Of(attempt.Status, attempt.Wish is not null);
        if (verdict == SendingVerdict.Delivered)
        {
            DeliveryStore.Note(turn, endpoint.Id, message.Position, number, attempt, null);
            DeliveryStore.End(turn, endpoint.Id, message.Position, delivered: true, now);
            return endpoint with { Failures = 0 };
        }

        var next = verdict == SendingVerdict.Gone ? null : RetryPlan.Next(number, now, Chance(), attempt.Wish);
        DeliveryStore.Note(turn, endpoint.Id, message.Position, number, attempt, next);

        // Whoever enables it again has it sent at once, with a plan that begins anew.
        DeliveryStore.Later(turn, endpoint.Id, message.Position, next is null ? 0 : number, next ?? now);
        if (next is null)
        {
            var gone = verdict == SendingVerdict.Gone;
            return endpoint.State == Word.Of(EndpointState.Disabled) ? endpoint : endpoint with
            {
                Version = endpoint.Version + 1,
                State = Word.Of(gone ? EndpointState.Disabled : EndpointState.Paused),
                Reason = Word.Of(gone ? StopReason.Gone : StopReason.AttemptsExhausted),
                StateSince = Microseconds.Of(turn.Now),
            };
        }

        if (verdict != SendingVerdict.HoldBack)
        {
            return endpoint;
        }

        // Several that failed at the same time are one failure of the receiver.
        var failures = endpoint.HeldUntil > Microseconds.Of(now) ? endpoint.Failures : endpoint.Failures + 1;
        var until = Microseconds.Of(now + RetryPlan.Hold((int)failures, attempt.Wish));
        return endpoint with { Failures = failures, HeldUntil = Math.Max(endpoint.HeldUntil ?? 0, until) };
    }

    private sealed record Round(Uri Url, IReadOnlyList<WebhookSecret> Secrets, IReadOnlyList<WaitingMessage> Messages);

    [LoggerMessage(Level = LogLevel.Warning, Message = "Nothing more is sent to the endpoint {Endpoint}: {Reason}.")]
    private partial void Stopped(string endpoint, string reason);
}
