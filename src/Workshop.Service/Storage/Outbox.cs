using System.Buffers;
using System.Data.Common;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Dapper;
using NodaTime;

namespace Workshop.Service.Storage;

/// <summary>Something to be told outside, written in the turn that gave rise to it and sent afterwards.</summary>
public sealed record OutboxMessage
{
    /// <summary>What it is about and what caused it, so that the same cause says it once: <c>&lt;type&gt;/&lt;stream&gt;/&lt;cause&gt;</c>.</summary>
    public required string Id { get; init; }

    /// <summary>For example <c>job.ready</c>.</summary>
    public required string Type { get; init; }

    /// <summary>Messages of one stream reach a receiver in the order of their positions.</summary>
    public required string Stream { get; init; }

    /// <summary>JSON: the event's <c>data</c>.</summary>
    public required string Body { get; init; }

    /// <summary>By the workshop's clock. One that waits keeps no other from being sent.</summary>
    public Instant? NotBefore { get; init; }

    /// <summary>
    /// Whose order it is about, for example <c>/storefront/shop</c>: it reads this message among its own. Null for what is about no order;
    /// <see cref="Outbox.EveryStorefront"/> for what is about the shop as a whole.
    /// </summary>
    public string? Storefront { get; init; }
}

/// <summary>A message as it was written down.</summary>
public sealed record StoredMessage
{
    /// <summary>1, 2, 3 … within the site, in the order of the commits.</summary>
    public required long Position { get; init; }

    public required string Id { get; init; }

    public required string Type { get; init; }

    public required string Stream { get; init; }

    public required string Body { get; init; }

    /// <summary>Microseconds, as the one that follows.</summary>
    public required long Created { get; init; }

    public long? NotBefore { get; init; }

    public string? Storefront { get; init; }
}

/// <summary>The table <c>outbox</c>, and the event each of its rows is.</summary>
public static class Outbox
{
    public const string EveryStorefront = "*";

    internal const string PutSql = """
        insert into outbox (site, id, type, stream, body, created, not_before, attempts, storefront, position)
        select @site, @id, @type, @stream, @body, @created, @not_before, 0, @storefront, last_message + 1
        from site
        where id = @site
        on conflict (site, id) do nothing
        """;

    internal const string CountSql = """
        update site
        set last_message = last_message + 1
        where id = @site
        """;

    internal const string WithdrawSql = """
        update outbox
        set done = @now
        where site = @site
          and id = @id
          and done is null
        """;

    private const string LastSql = """
        select last_message
        from site
        where id = @site
        """;

    private const string AfterSql = """
        select position, id, type, stream, body, created, not_before, storefront
        from outbox
        where site = @site
          and position > @after
          and done is null
        order by position
        limit @limit
        """;

    private const string OfStorefrontSql = """
        select position, id, type, stream, body, created, not_before, storefront
        from outbox
        where site = @site
          and storefront in (@storefront, @every_storefront)
          and position > @after
          and done is null
        order by position
        limit @limit
        """;

    /// <summary>The position of the newest message; 0 before the first.</summary>
    public static long Last(Turn turn) => turn.QueryFirst<long>(LastSql, new { site = turn.Site });

    public static long Last(DbConnection connection, string site) => connection.QueryFirst<long>(LastSql, new { site });

    public static IReadOnlyList<StoredMessage> After(DbConnection connection, string site, long after, int limit) =>
        connection.Query<StoredMessage>(AfterSql, new { site, after, limit }).AsList();

    /// <summary>As a turn sees them.</summary>
    public static IReadOnlyList<StoredMessage> After(Turn turn, long after, int limit) => turn.Query<StoredMessage>(AfterSql, new { site = turn.Site, after, limit });

    /// <summary>What is about a storefront's orders, and what is about the shop as a whole.</summary>
    public static IReadOnlyList<StoredMessage> After(DbConnection connection, string site, string storefront, long after, int limit) =>
        connection.Query<StoredMessage>(OfStorefrontSql, new { site, storefront, every_storefront = EveryStorefront, after, limit }).AsList();

    /// <summary>
    /// The name of a message outside: the event's id and the header <c>webhook-id</c>, the same however often it is sent. Without full
    /// stops, since they separate what is signed.
    /// </summary>
    public static string MessageId(string site, StoredMessage message) => MessageId(site, message.Id, message.Created);

    /// <summary>The same of a message's own members.</summary>
    /// <param name="created">Microseconds: what was told of a workshop that was made anew is something else.</param>
    public static string MessageId(string site, string id, long created) => "msg_" + Convert.ToHexStringLower(
        SHA256.HashData(Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{site}\n{id}\n{created}"))))[..32];

    /// <summary>A structured event by CloudEvents 1.0, the same bytes however often it is sent; <c>sequence</c> is its position here.</summary>
    public static byte[] Event(string site, StoredMessage message)
    {
        var bytes = new ArrayBufferWriter<byte>(message.Body.Length + 400);
        using (var json = new Utf8JsonWriter(bytes, new JsonWriterOptions { Encoder = WorkshopJson.Options.Encoder }))
        {
            json.WriteStartObject();
            json.WriteString("specversion", "1.0");
            json.WriteString("id", MessageId(site, message));
            json.WriteString("source", SourceOf(site));
            json.WriteString("type", message.Type);
            if (message.Stream.IndexOf('/') is > 0 and var slash)
            {
                json.WriteString("subject", message.Stream[(slash + 1)..]);
            }

            json.WriteString("time", Microseconds.Read(message.Created).ToString());
            json.WriteString("datacontenttype", "application/json");
            json.WriteString("sequence", message.Position.ToString(CultureInfo.InvariantCulture));
            json.WritePropertyName("data");
            json.WriteRawValue(message.Body);
            json.WriteEndObject();
        }

        return bytes.WrittenSpan.ToArray();
    }

    /// <summary>With one site nobody sees the word.</summary>
    internal static string SourceOf(string site) => site == Migrations.FirstSite ? "/workshop" : $"/workshop/{site}";
}
