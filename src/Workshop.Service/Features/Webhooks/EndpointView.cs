using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Data.Common;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Words;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Webhooks;

/// <summary>Where messages go, as a person edits it.</summary>
public sealed record EndpointBody
{
    /// <summary>An address that begins with https://.</summary>
    [StringLength(1_000, MinimumLength = 1)]
    public string? Url { get; init; }

    /// <summary>What people know it by.</summary>
    [StringLength(100, MinimumLength = 1)]
    public string? Description { get; init; }

    /// <summary>The types of messages it gets; all of them where left out.</summary>
    [Length(1, 100)]
    public ImmutableArray<string>? Types { get; init; }

    /// <summary>The storefront whose orders it hears of, for example <c>/storefront/shop</c>; every watch of the house where left out.</summary>
    [StringLength(200, MinimumLength = 1)]
    public string? Storefront { get; init; }

    /// <summary><c>disabled</c> is what a receiver makes of itself; by hand it is <c>paused</c>, and <c>enabled</c> again.</summary>
    public EndpointState State { get; init; }

    public IEnumerable<Fault> Faults(TargetGuard guard, EndpointBody? before = null)
    {
        if (Url is null)
        {
            yield return new Fault("/url", "An endpoint has an address");
        }
        else if (Url != before?.Url && guard.Fault(Url) is { } refused)
        {
            yield return new Fault("/url", refused);
        }

        foreach (var (i, type) in (Types ?? []).Index())
        {
            if (!MessageTypes.All.Contains(type))
            {
                yield return new Fault($"/types/{i}", $"There is no such message; there are {string.Join(", ", MessageTypes.All)}");
            }
        }

        if (Storefront is { } storefront && !storefront.StartsWith("/storefront/", StringComparison.Ordinal))
        {
            yield return new Fault("/storefront", "A storefront is named by its source, /storefront/…");
        }

        if (State == EndpointState.Disabled && before?.State != EndpointState.Disabled)
        {
            yield return new Fault("/state", "By hand an endpoint is paused or enabled");
        }
    }
}

/// <summary>The words that may follow <c>"type":</c> in a message that leaves the house.</summary>
public static class MessageTypes
{
    public static readonly ImmutableArray<string> All =
    [
        "arrival.expected", "arrival.overdue", "job.received", "job.stage-changed",
        "quote.issued", "quote.expired", "quote.superseded", "promise.made", "promise.moved",
        "payment.asked", "refund.owed", "job.ready", "job.dispatched", "job.handed-over", "job.returned-unrepaired",
        "claim.decided", "warranty.ends-soon", "service.due", "wear.asked", "shop.closed", "message.due",
    ];

    /// <summary>Sent by the endpoint's own address alone, to try it.</summary>
    public const string Test = "webhook.test";
}

/// <summary>A secret by what may be seen of it.</summary>
/// <param name="Mark">The first eight hexadecimal digits of its SHA-256.</param>
/// <param name="EndsAt">Until when it signs beside a newer one; absent for the one in force.</param>
public sealed record EndpointSecretView(string Mark, Instant CreatedAt, Instant? EndsAt);

/// <summary>Where messages go, and how far it is.</summary>
/// <param name="Types">Absent for all types.</param>
/// <param name="Reason">Why nothing is sent.</param>
/// <param name="StateSince">By the workshop's clock.</param>
/// <param name="TakenThrough">The position up to which messages were taken up for it.</param>
/// <param name="LastPosition">The position of the newest message of the house.</param>
/// <param name="Waiting">Taken up and not delivered yet.</param>
/// <param name="NextAttemptAt">When the first of them is sent again at the earliest.</param>
/// <param name="HeldUntil">Until when nothing at all is sent, since the receiver did not answer or asked for it.</param>
/// <param name="Secret">The secret in full: in the answer that made it, and never again.</param>
public sealed record EndpointView(
    string Id, string Url, string? Description, ImmutableArray<string>? Types, string? Storefront, EndpointState State, StopReason? Reason, Instant StateSince, Instant CreatedAt,
    long TakenThrough, long LastPosition, long Waiting, Instant? NextAttemptAt, Instant? HeldUntil, ImmutableArray<EndpointSecretView> Secrets, string? Secret, long Version)
{
    internal static EndpointView Of(Turn turn, StoredEndpoint stored, string? secret = null) =>
        Of(stored, DeliveryStore.Backlog(turn, stored.Id), Outbox.Last(turn), WebhookStore.Secrets(turn, stored.Id), secret);

    internal static EndpointView Of(DbConnection connection, string site, StoredEndpoint stored) =>
        Of(stored, DeliveryStore.Backlog(connection, site, stored.Id), Outbox.Last(connection, site), WebhookStore.Secrets(connection, site, stored.Id), null);

    private static EndpointView Of(StoredEndpoint stored, Backlog backlog, long last, IReadOnlyList<StoredSecret> secrets, string? secret) => new(
        stored.Id, stored.Url, stored.Description, stored.TypesAsked(), stored.Storefront,
        Word.Read<EndpointState>(stored.State)!.Value, stored.Reason is { } reason ? Word.Read<StopReason>(reason) : null,
        Microseconds.Read(stored.StateSince), Microseconds.Read(stored.Created), stored.TakenThrough, last, backlog.Waiting,
        Microseconds.Read(backlog.NextAttempt), Microseconds.Read(stored.HeldUntil),
        [.. secrets.Select(one => new EndpointSecretView(one.Read().Mark, Microseconds.Read(one.Created), Microseconds.Read(one.Ends)))], secret, stored.Version);

    internal static ProblemHttpResult NoEndpoint() => Problems.Of(ProblemCatalogue.NoSuchThing, "There is no such endpoint.");
}
