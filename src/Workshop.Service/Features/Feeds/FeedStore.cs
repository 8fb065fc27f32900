using System.Buffers.Text;
using System.Data.Common;
using System.Security.Cryptography;
using System.Text;
using Dapper;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Feeds;

/// <summary>A calendar that somebody subscribed to; moments in microseconds.</summary>
public sealed record StoredFeed
{
    public required string Site { get; init; }

    public required string Id { get; init; }

    public string? Bench { get; init; }

    public string? Person { get; init; }

    public required long Created { get; init; }
}

/// <summary>Something that a feed has shown.</summary>
public sealed record StoredFeedEvent
{
    public required string Uid { get; init; }

    /// <summary>Microseconds, as those that follow.</summary>
    public required long Starts { get; init; }

    public required string Line { get; init; }

    /// <summary>Counts up with each change (RFC 5545, 3.8.7.4).</summary>
    public required long Sequence { get; init; }

    /// <summary>When it was changed last.</summary>
    public required long Stamped { get; init; }

    /// <summary>When it was called off; null while it stands.</summary>
    public long? Cancelled { get; init; }
}

/// <summary>The tables <c>calendar_feed</c> and <c>calendar_event</c>. A token is 32 random bytes, of which the SHA-256 is kept.</summary>
public static class FeedStore
{
    private const string AddSql = """
        insert into calendar_feed (site, id, token_hash, bench, person, created, revoked)
        values (@site, @id, @token_hash, @bench, @person, @created, null)
        """;

    private const string ListSql = """
        select site, id, bench, person, created
        from calendar_feed
        where site = @site
          and revoked is null
        order by created, id
        """;

    private const string OfTokenSql = """
        select site, id, bench, person, created
        from calendar_feed
        where token_hash = @token_hash
          and revoked is null
        """;

    private const string RevokeSql = """
        update calendar_feed
        set revoked = @now
        where site = @site
          and id = @id
          and revoked is null
        """;

    private const string ForgetSql = """
        delete from calendar_event
        where site = @site
          and feed = @feed
        """;

    private const string EventsSql = """
        select uid, starts, line, sequence, stamped, cancelled
        from calendar_event
        where site = @site
          and feed = @feed
        order by starts, uid
        """;

    private const string PutEventSql = """
        insert into calendar_event (site, feed, uid, starts, line, sequence, stamped, cancelled)
        values (@site, @feed, @uid, @starts, @line, @sequence, @stamped, @cancelled)
        on conflict (site, feed, uid) do update
        set starts = excluded.starts,
            line = excluded.line,
            sequence = excluded.sequence,
            stamped = excluded.stamped,
            cancelled = excluded.cancelled
        """;

    private const string DropEventSql = """
        delete from calendar_event
        where site = @site
          and feed = @feed
          and uid = @uid
        """;

    /// <returns>The feed, and its token, which is shown this once.</returns>
    public static (StoredFeed Feed, string Token) Add(Turn turn, string? bench, string? person)
    {
        var token = Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));
        var feed = new StoredFeed { Site = turn.Site, Id = Guid.CreateVersion7(turn.Now.ToDateTimeOffset()).ToString("n"), Bench = bench, Person = person, Created = Microseconds.Of(turn.Now) };
        turn.Execute(AddSql, new { site = feed.Site, id = feed.Id, token_hash = HashOf(token), bench, person, created = feed.Created });
        return (feed, token);
    }

    /// <summary>The oldest first; without their tokens.</summary>
    public static IReadOnlyList<StoredFeed> List(DbConnection connection, string site) => connection.Query<StoredFeed>(ListSql, new { site }).AsList();

    public static StoredFeed? OfToken(DbConnection connection, string token) => connection.QueryFirstOrDefault<StoredFeed>(OfTokenSql, new { token_hash = HashOf(token) });

    /// <returns>false: there is no such feed, or it is revoked already.</returns>
    public static bool Revoke(Turn turn, string id)
    {
        turn.Execute(ForgetSql, new { site = turn.Site, feed = id });
        return turn.Execute(RevokeSql, new { site = turn.Site, id, now = Microseconds.Of(turn.Now) }) == 1;
    }

    /// <summary>What a feed has shown, in the order of its beginnings.</summary>
    public static IReadOnlyList<StoredFeedEvent> Events(DbConnection connection, string site, string feed) => connection.Query<StoredFeedEvent>(EventsSql, new { site, feed }).AsList();

    /// <inheritdoc cref="Events(DbConnection, string, string)"/>
    public static IReadOnlyList<StoredFeedEvent> Events(Turn turn, string feed) => turn.Query<StoredFeedEvent>(EventsSql, new { site = turn.Site, feed });

    public static void Put(Turn turn, string feed, StoredFeedEvent one) => turn.Execute(PutEventSql, new
    {
        site = turn.Site,
        feed,
        uid = one.Uid,
        starts = one.Starts,
        line = one.Line,
        sequence = one.Sequence,
        stamped = one.Stamped,
        cancelled = one.Cancelled,
    });

    public static void Drop(Turn turn, string feed, string uid) => turn.Execute(DropEventSql, new { site = turn.Site, feed, uid });

    private static byte[] HashOf(string token) => SHA256.HashData(Encoding.UTF8.GetBytes(token));
}
