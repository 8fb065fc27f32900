using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Storefront;

public sealed record StorefrontBody
{
    /// <summary>A short name; its events come under the source <c>/storefront/</c> and this.</summary>
    [StringLength(40, MinimumLength = 1), RegularExpression("[a-z0-9]+(-[a-z0-9]+)*")]
    public required string Id { get; init; }

    /// <summary>As people call it.</summary>
    [StringLength(100, MinimumLength = 1)]
    public required string Name { get; init; }
}

public sealed record SecretBody
{
    /// <summary>So long may messages still be signed with the secrets before it; a day where left out, thirty at most.</summary>
    public Duration? Overlap { get; init; }
}

/// <summary>A secret, by what tells it from others.</summary>
/// <param name="Id">The first eight hexadecimal digits of its SHA-256.</param>
/// <param name="Until">Until when it is taken; absent for the newest.</param>
public sealed record SecretView(string Id, Instant Since, Instant? Until);

/// <summary>A storefront.</summary>
/// <param name="Secrets">Those in force, the newest first.</param>
/// <param name="Inbox">How its inbox is read, where the machine's settings name one.</param>
public sealed record StorefrontView(string Id, string Source, string Name, Instant Since, ImmutableArray<SecretView> Secrets, InboxView? Inbox);

/// <param name="Position">The sequence of the last event that was read.</param>
/// <param name="HeardAt">When it was last read to its end.</param>
/// <param name="Fault">Why the last look came to nothing.</param>
public sealed record InboxView(long Position, Instant? HeardAt, string? Fault);

/// <summary>A secret that was drawn just now.</summary>
/// <param name="Secret">Shown this once; a repeat with the same Idempotency-Key does not show it.</param>
public sealed record DrawnSecret(string Storefront, string Source, string Id, string? Secret, ImmutableArray<SecretView> Secrets);

/// <summary>The storefronts whose orders the house takes, and the secrets by which their messages are known.</summary>
public static class ManageStorefronts
{
    private static readonly Duration OverlapUsually = Duration.FromDays(1);
    private static readonly Duration OverlapAtMost = Duration.FromDays(30);

    public static Task<Items<StorefrontView>> All(Caller caller, Reader reader, RealTime time, CancellationToken cancel) => reader.Read(
        connection => new Items<StorefrontView>([.. StorefrontStore.All(connection, caller.Site).Select(one => View(one, StorefrontStore.Secrets(connection, caller.Site, one.Id), time))]), cancel);

    public static async Task<Results<Ok<StorefrontView>, ProblemHttpResult>> One(string id, Caller caller, Reader reader, RealTime time, CancellationToken cancel) =>
        await reader.Read<Results<Ok<StorefrontView>, ProblemHttpResult>>(
            connection => StorefrontStore.Find(connection, caller.Site, id) is { } found
                ? TypedResults.Ok(View(found, StorefrontStore.Secrets(connection, caller.Site, id), time))
                : NoStorefront(), cancel);

    public static Task<Once<Results<Made<DrawnSecret>, ProblemHttpResult>>> Add(JsonBody<StorefrontBody> body, Once once, HttpContext context, RealTime time, Writer writer)
    {
        context.Response.Headers.CacheControl = "no-store";
        var secret = WebhookSecret.Draw();
        return once.Do(writer, body.Bytes, turn => Begin(turn, body.Value, secret, time), WithoutSecret);
    }

    public static async Task<Once<Results<Made<DrawnSecret>, ProblemHttpResult>>> Draw(string id, JsonBody<SecretBody> body, Once once, HttpContext context, RealTime time, Writer writer)
    {
        context.Response.Headers.CacheControl = "no-store";
        var secret = WebhookSecret.Draw();
        return await once.Do(writer, body.Bytes, turn => Rotate(turn, id, body.Value.Overlap ?? OverlapUsually, secret, time), WithoutSecret);
    }

    public static async Task<Results<NoContent, ProblemHttpResult>> Revoke(string id, string secret, Caller caller, RealTime time, Writer writer, CancellationToken cancel) =>
        await writer.Turn<Results<NoContent, ProblemHttpResult>>(caller.Site, turn => StorefrontStore.EndSecret(turn, id, secret, time.Now)
            ? TypedResults.NoContent()
            : Problems.Of(ProblemCatalogue.NoSuchThing, "The storefront has no such secret in force."), cancel);

    /// <summary>The source under which a storefront's events come.</summary>
    public static string SourceOf(string id) => $"/storefront/{id}";

    internal static Results<Made<DrawnSecret>, ProblemHttpResult> Begin(Turn turn, StorefrontBody body, WebhookSecret secret, RealTime time)
    {
        if (!StorefrontStore.Add(turn, body.Id, SourceOf(body.Id), body.Name))
        {
            return Problems.Of(ProblemCatalogue.StorefrontIsThere, $"There is a storefront '{body.Id}' already.", ("storefront", body.Id));
        }

        StorefrontStore.AddSecret(turn, body.Id, secret.Mark, secret.Written, time.Now);
        return Drawn(turn, body.Id, secret, time);
    }

    private static Results<Made<DrawnSecret>, ProblemHttpResult> Rotate(Turn turn, string id, Duration overlap, WebhookSecret secret, RealTime time)
    {
        if (StorefrontStore.Find(turn, id) is null)
        {
            return NoStorefront();
        }

        if (overlap < Duration.Zero || overlap > OverlapAtMost)
        {
            return Problems.BadFields(new Fault("/overlap", $"This is no span from nothing to {OverlapAtMost.Days} days"));
        }

        StorefrontStore.AddSecret(turn, id, secret.Mark, secret.Written, time.Now);
        StorefrontStore.EndOthers(turn, id, secret.Mark, time.Now + overlap);
        return Drawn(turn, id, secret, time);
    }

    private static Made<DrawnSecret> Drawn(Turn turn, string id, WebhookSecret secret, RealTime time) => Answer.Made(
        $"/v1/storefronts/{id}", 1, new DrawnSecret(id, SourceOf(id), secret.Mark, secret.Written, InForce(StorefrontStore.Secrets(turn, id), time)));

    private static StorefrontView View(StoredStorefront one, IReadOnlyList<StoredSecret> secrets, RealTime time) => new(
        one.Id, one.Source, one.Name, Microseconds.Read(one.Created), InForce(secrets, time),
        one is { InboxPosition: 0, InboxHeard: null, InboxFault: null } ? null : new InboxView(one.InboxPosition, Microseconds.Read(one.InboxHeard), one.InboxFault));

    private static ImmutableArray<SecretView> InForce(IEnumerable<StoredSecret> secrets, RealTime time) =>
        [.. secrets.Select(one => new SecretView(one.Id, Microseconds.Read(one.Created), Microseconds.Read(one.Until))).Where(one => one.Until is null || one.Until > time.Now)];

    private static IResult WithoutSecret(IResult answer) =>
        answer is INestedHttpResult { Result: Made<DrawnSecret> { Value: var shown } } ? Answer.Made($"/v1/storefronts/{shown.Storefront}", 1, shown with { Secret = null }) : answer;

    private static ProblemHttpResult NoStorefront() => Problems.Of(ProblemCatalogue.NoSuchThing, "There is no storefront of this name.");
}
