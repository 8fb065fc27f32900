using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using Dapper;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Webhooks;

/// <summary>Whether messages are sent to an endpoint.</summary>
public enum EndpointState
{
    Enabled,

    /// <summary>By hand, or since every attempt failed: what comes meanwhile waits and is sent once it is enabled again.</summary>
    Paused,

    /// <summary>The receiver said that it wants nothing any more.</summary>
    Disabled,
}

/// <summary>Why nothing is sent to an endpoint.</summary>
public enum StopReason
{
    ByHand,
    AttemptsExhausted,
    Gone,
}

/// <summary>An endpoint as it stands in the table; moments in microseconds, all of real time but the first.</summary>
public sealed record StoredEndpoint
{
    public required string Id { get; init; }

    public required long Version { get; init; }

    public required string Url { get; init; }

    public string? Description { get; init; }

    /// <summary>A list as JSON; null for all types.</summary>
    public string? Types { get; init; }

    public string? Storefront { get; init; }

    public required string State { get; init; }

    public string? Reason { get; init; }

    /// <summary>By the workshop's clock, as <see cref="Created"/>.</summary>
    public required long StateSince { get; init; }

    public required long Created { get; init; }

    /// <summary>The position up to which messages were taken up for it.</summary>
    public required long TakenThrough { get; init; }

    public long? HeldUntil { get; init; }

    public required long Failures { get; init; }

    public string? LeasedBy { get; init; }

    public long? LeasedUntil { get; init; }

    public ImmutableArray<string>? TypesAsked() => Types is null ? null : JsonSerializer.Deserialize<ImmutableArray<string>>(Types, WorkshopJson.Options);

    /// <summary>Whether a message is for it.</summary>
    public bool Wants(StoredMessage message) =>
        (TypesAsked() is not { } types || types.Contains(message.Type))
        && (Storefront is null || message.Storefront == Storefront || message.Storefront == Outbox.EveryStorefront);
}

/// <summary>A secret of an endpoint; moments of real time in microseconds.</summary>
public sealed record StoredSecret
{
    public required long Number { get; init; }

    public required string Secret { get; init; }

    public required long Created { get; init; }

    /// <summary>From when on it signs nothing any more; null for the one in force.</summary>
    public long? Ends { get; init; }

    public WebhookSecret Read() => WebhookSecret.TryRead(Secret, out var secret) ? secret : throw new InvalidDataException("A secret in the database is none.");
}

/// <summary>The tables <c>webhook_endpoint</c> and <c>webhook_secret</c>.</summary>
internal static class WebhookStore
{
    private const string Columns = """
        id, version, url, description, types, storefront, state, reason, state_since, created, taken_through, held_until, failures, leased_by, leased_until
        """;

    private const string ListSql = $"""
        select {Columns}
        from webhook_endpoint
        where site = @site
          and id > @after
        order by id
        limit @limit
        """;

    private const string FindSql = $"""
        select {Columns}
        from webhook_endpoint
        where site = @site
          and id = @id
        """;

    private const string EnabledSql = """
        select id
        from webhook_endpoint
        where site = @site
          and state = 'enabled'
        order by id
        """;

    private const string CountSql = """
        select count(*)
        from webhook_endpoint
        where site = @site
        """;

    private const string AddSql = """
        insert into webhook_endpoint
            (site, id, version, url, description, types, storefront, state, reason, state_since, created, taken_through, held_until, failures, leased_by, leased_until)
        values
            (@site, @id, @version, @url, @description, @types, @storefront, @state, @reason, @state_since, @created, @taken_through, @held_until, @failures, @leased_by, @leased_until)
        """;

    private const string SaveSql = """
        update webhook_endpoint
        set version = @version,
            url = @url,
            description = @description,
            types = @types,
            storefront = @storefront,
            state = @state,
            reason = @reason,
            state_since = @state_since,
            taken_through = @taken_through,
            held_until = @held_until,
            failures = @failures,
            leased_by = @leased_by,
            leased_until = @leased_until
        where site = @site
          and id = @id
        """;

    private const string RemoveSql = """
        delete from webhook_endpoint
        where site = @site
          and id = @id
        """;

    private const string RemoveSecretsSql = """
        delete from webhook_secret
        where site = @site
          and endpoint = @id
        """;

    private const string SecretsSql = """
        select number, secret, created, ends
        from webhook_secret
        where site = @site
          and endpoint = @endpoint
        order by number
        """;

    private const string AddSecretSql = """
        insert into webhook_secret (site, endpoint, number, secret, created, ends)
        values (@site, @endpoint, @number, @secret, @created, null)
        """;

    private const string EndSecretsSql = """
        update webhook_secret
        set ends = @ends
        where site = @site
          and endpoint = @endpoint
          and number < @number
          and (ends is null or ends > @ends)
        """;

    private const string ForgetSecretsSql = """
        delete from webhook_secret
        where site = @site
          and endpoint = @endpoint
          and ends <= @now
        """;

    public static IReadOnlyList<StoredEndpoint> List(DbConnection connection, string site, string after, int limit) =>
        connection.Query<StoredEndpoint>(ListSql, new { site, after, limit }).AsList();

    public static StoredEndpoint? Find(Turn turn, string id) => turn.QueryFirst<StoredEndpoint>(FindSql, new { site = turn.Site, id });

    public static StoredEndpoint? Find(DbConnection connection, string site, string id) => connection.QueryFirstOrDefault<StoredEndpoint>(FindSql, new { site, id });

    public static Task<IReadOnlyList<string>> Enabled(Reader reader, string site, CancellationToken cancel) => reader.Query<string>(EnabledSql, new { site }, cancel);

    public static long Count(Turn turn) => turn.QueryFirst<long>(CountSql, new { site = turn.Site });

    public static void Add(Turn turn, StoredEndpoint endpoint) => turn.Execute(AddSql, Row(turn, endpoint));

    public static void Save(Turn turn, StoredEndpoint endpoint) => turn.Execute(SaveSql, Row(turn, endpoint));

    public static void Remove(Turn turn, string id)
    {
        turn.Execute(RemoveSecretsSql, new { site = turn.Site, id });
        turn.Execute(RemoveSql, new { site = turn.Site, id });
    }

    public static IReadOnlyList<StoredSecret> Secrets(Turn turn, string endpoint) => turn.Query<StoredSecret>(SecretsSql, new { site = turn.Site, endpoint });

    public static IReadOnlyList<StoredSecret> Secrets(DbConnection connection, string site, string endpoint) =>
        connection.Query<StoredSecret>(SecretsSql, new { site, endpoint }).AsList();

    /// <summary>Adds a secret; those before it go on signing until a moment of real time.</summary>
    public static void AddSecret(Turn turn, string endpoint, WebhookSecret secret, Instant now, Instant others)
    {
        turn.Execute(ForgetSecretsSql, new { site = turn.Site, endpoint, now = Microseconds.Of(now) });
        var number = Secrets(turn, endpoint).Select(one => one.Number).DefaultIfEmpty().Max() + 1;
        turn.Execute(AddSecretSql, new { site = turn.Site, endpoint, number, secret = secret.Written, created = Microseconds.Of(now) });
        turn.Execute(EndSecretsSql, new { site = turn.Site, endpoint, number, ends = Microseconds.Of(others) });
    }

    /// <summary>Those that sign at a moment of real time.</summary>
    public static IReadOnlyList<WebhookSecret> InForce(IEnumerable<StoredSecret> secrets, Instant now) =>
        [.. secrets.Where(one => one.Ends is null || one.Ends > Microseconds.Of(now)).OrderByDescending(one => one.Number).Select(one => one.Read())];

    private static object Row(Turn turn, StoredEndpoint endpoint) => new
    {
        site = turn.Site,
        id = endpoint.Id,
        version = endpoint.Version,
        url = endpoint.Url,
        description = endpoint.Description,
        types = endpoint.Types,
        storefront = endpoint.Storefront,
        state = endpoint.State,
        reason = endpoint.Reason,
        state_since = endpoint.StateSince,
        created = endpoint.Created,
        taken_through = endpoint.TakenThrough,
        held_until = endpoint.HeldUntil,
        failures = endpoint.Failures,
        leased_by = endpoint.LeasedBy,
        leased_until = endpoint.LeasedUntil,
    };
}
