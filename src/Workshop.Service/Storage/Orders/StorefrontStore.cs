using System.Data.Common;
using Dapper;
using NodaTime;

namespace Workshop.Service.Storage.Orders;

/// <summary>A storefront as the table keeps one; moments in microseconds.</summary>
public sealed record StoredStorefront
{
    public required string Site { get; init; }

    public required string Id { get; init; }

    /// <summary>Under which its events come, for example <c>/storefront/shop</c>.</summary>
    public required string Source { get; init; }

    public required string Name { get; init; }

    public required long Created { get; init; }

    /// <summary>The sequence of the last event read from its inbox.</summary>
    public required long InboxPosition { get; init; }

    public long? InboxHeard { get; init; }

    /// <summary>Why the last look into its inbox came to nothing; null where it did not.</summary>
    public string? InboxFault { get; init; }
}

/// <summary>A secret of a storefront, as the table keeps one.</summary>
public sealed record StoredSecret
{
    public required string Site { get; init; }

    public required string Storefront { get; init; }

    public required string Id { get; init; }

    public required string Secret { get; init; }

    public required long Created { get; init; }

    public long? Until { get; init; }
}

/// <summary>The tables <c>storefront</c>, <c>storefront_secret</c> and <c>storefront_delivery</c>.</summary>
public static class StorefrontStore
{
    private const string AllSql = """
        select site, id, source, name, created, inbox_position, inbox_heard, inbox_fault
        from storefront
        where site = @site
        order by id
        """;

    private const string FindSql = """
        select site, id, source, name, created, inbox_position, inbox_heard, inbox_fault
        from storefront
        where site = @site
          and id = @id
        """;

    private const string AddSql = """
        insert into storefront (site, id, source, name, created, closed, inbox_position, inbox_heard, inbox_fault)
        values (@site, @id, @source, @name, @created, null, 0, null, null)
        on conflict (site, id) do nothing
        """;

    private const string InboxReadSql = """
        update storefront
        set inbox_position = @position,
            inbox_heard = @heard,
            inbox_fault = null
        where site = @site
          and id = @id
        """;

    private const string InboxFaultSql = """
        update storefront
        set inbox_fault = @fault
        where site = @site
          and id = @id
        """;

    // Whoever posts says only by a signature who they are: every secret in force is tried, and there are a handful.
    private const string SecretsInForceSql = """
        select site, storefront, id, secret, created, until
        from storefront_secret
        where until is null
           or until > @now
        order by site, storefront, created desc
        """;

    private const string SecretsSql = """
        select site, storefront, id, secret, created, until
        from storefront_secret
        where site = @site
          and storefront = @storefront
        order by created desc, id
        """;

    private const string AddSecretSql = """
        insert into storefront_secret (site, storefront, id, secret, created, until)
        values (@site, @storefront, @id, @secret, @created, null)
        on conflict (site, storefront, id) do nothing
        """;

    private const string EndSecretsSql = """
        update storefront_secret
        set until = @until
        where site = @site
          and storefront = @storefront
          and id <> @not_this
          and (until is null or until > @until)
        """;

    private const string EndSecretSql = """
        update storefront_secret
        set until = @until
        where site = @site
          and storefront = @storefront
          and id = @id
          and (until is null or until > @until)
        """;

    private const string DeliverySql = """
        select body_hash, answer
        from storefront_delivery
        where site = @site
          and storefront = @storefront
          and webhook_id = @webhook_id
        """;

    private const string KeepDeliverySql = """
        insert into storefront_delivery (site, storefront, webhook_id, body_hash, received, answer)
        values (@site, @storefront, @webhook_id, @body_hash, @received, @answer)
        on conflict (site, storefront, webhook_id) do nothing
        """;

    public static IReadOnlyList<StoredStorefront> All(DbConnection connection, string site) => connection.Query<StoredStorefront>(AllSql, new { site }).AsList();

    public static StoredStorefront? Find(DbConnection connection, string site, string id) => connection.QueryFirstOrDefault<StoredStorefront>(FindSql, new { site, id });

    public static StoredStorefront? Find(Turn turn, string id) => turn.QueryFirst<StoredStorefront>(FindSql, new { site = turn.Site, id });

    public static IReadOnlyList<StoredStorefront> All(Turn turn) => turn.Query<StoredStorefront>(AllSql, new { site = turn.Site });

    /// <returns>false: there is one of this id.</returns>
    public static bool Add(Turn turn, string id, string source, string name) =>
        turn.Execute(AddSql, new { site = turn.Site, id, source, name, created = Microseconds.Of(turn.Now) }) == 1;

    /// <summary>How far its inbox was read, in the turn that keeps what was read.</summary>
    /// <param name="heard">Real time.</param>
    public static void KeepPosition(Turn turn, string id, long position, Instant heard) =>
        turn.Execute(InboxReadSql, new { site = turn.Site, id, position, heard = Microseconds.Of(heard) });

    public static void KeepInboxFault(Turn turn, string id, string fault) => turn.Execute(InboxFaultSql, new { site = turn.Site, id, fault });

    /// <param name="now">Real time.</param>
    public static IReadOnlyList<StoredSecret> SecretsInForce(DbConnection connection, Instant now) =>
        connection.Query<StoredSecret>(SecretsInForceSql, new { now = Microseconds.Of(now) }).AsList();

    public static IReadOnlyList<StoredSecret> Secrets(DbConnection connection, string site, string storefront) =>
        connection.Query<StoredSecret>(SecretsSql, new { site, storefront }).AsList();

    public static IReadOnlyList<StoredSecret> Secrets(Turn turn, string storefront) => turn.Query<StoredSecret>(SecretsSql, new { site = turn.Site, storefront });

    /// <param name="now">Real time, as everything about secrets: a demo's clock has no say in what is valid.</param>
    /// <param name="id">By what it is told from others.</param>
    /// <param name="secret">As it is written.</param>
    public static void AddSecret(Turn turn, string storefront, string id, string secret, Instant now) => turn.Execute(
        AddSecretSql, new { site = turn.Site, storefront, id, secret, created = Microseconds.Of(now) });

    /// <summary>All others end then, unless they end before.</summary>
    public static void EndOthers(Turn turn, string storefront, string kept, Instant until) =>
        turn.Execute(EndSecretsSql, new { site = turn.Site, storefront, not_this = kept, until = Microseconds.Of(until) });

    /// <returns>false: there is none in force of this id.</returns>
    public static bool EndSecret(Turn turn, string storefront, string id, Instant now) =>
        turn.Execute(EndSecretSql, new { site = turn.Site, storefront, id, until = Microseconds.Of(now) }) == 1;

    /// <summary>What was answered to a delivery, and the hash of its body; null where it is new.</summary>
    public static KeptDelivery? FindDelivery(Turn turn, string storefront, string webhookId) =>
        turn.QueryFirst<KeptDelivery>(DeliverySql, new { site = turn.Site, storefront, webhook_id = webhookId });

    public static void KeepDelivery(Turn turn, string storefront, string webhookId, byte[] bodyHash, string answer) => turn.Execute(
        KeepDeliverySql, new { site = turn.Site, storefront, webhook_id = webhookId, body_hash = bodyHash, received = Microseconds.Of(turn.Now), answer });
}

/// <summary>A delivery that was answered.</summary>
public sealed record KeptDelivery
{
    public required byte[] BodyHash { get; init; }

    public required string Answer { get; init; }
}
