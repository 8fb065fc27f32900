using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using Dapper;
using Workshop.Core.Orders;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Storefront;

/// <summary>A message of a storefront as the table keeps it; moments in microseconds.</summary>
public sealed record StoredMessage
{
    public required long Number { get; init; }

    public required string Storefront { get; init; }

    public required string Door { get; init; }

    public required string Source { get; init; }

    public required string Id { get; init; }

    public required byte[] Digest { get; init; }

    public required string Type { get; init; }

    public string? OrderRef { get; init; }

    public string? CustomerRef { get; init; }

    public string? Job { get; init; }

    /// <summary>As it was sent; null once it was emptied.</summary>
    public string? Body { get; init; }

    /// <summary>A list of <see cref="StorefrontFlag"/> as JSON.</summary>
    public required string Flags { get; init; }

    /// <summary>A list of sentences as JSON.</summary>
    public required string Details { get; init; }

    public required long Received { get; init; }

    public long? Seen { get; init; }

    public string? SeenBy { get; init; }

    public string? Note { get; init; }

    public ImmutableArray<StorefrontFlag> ReadFlags() => JsonSerializer.Deserialize<ImmutableArray<StorefrontFlag>>(Flags, WorkshopJson.Options);

    public ImmutableArray<string> ReadDetails() => JsonSerializer.Deserialize<ImmutableArray<string>>(Details, WorkshopJson.Options);
}

/// <summary>The table <c>storefront_message</c>: everything well signed, whatever it says.</summary>
public static class MessageStore
{
    private const string Columns = "number, storefront, door, source, id, digest, type, order_ref, customer_ref, job, body, flags, details, received, seen, seen_by, note";

    private const string SameIdentitySql = $"""
        select {Columns}
        from storefront_message
        where site = @site
          and storefront = @storefront
          and source = @source
          and id = @id
        order by digest
        limit 100
        """;

    private const string FindSql = $"""
        select {Columns}
        from storefront_message
        where site = @site
          and number = @number
        """;

    private const string AllSql = $"""
        select {Columns}
        from storefront_message
        where site = @site
          and number < @before
        order by number desc
        limit @limit
        """;

    private const string FlaggedSql = $"""
        select {Columns}
        from storefront_message
        where site = @site
          and flagged = 1
          and seen is null
          and number < @before
        order by number desc
        limit @limit
        """;

    private const string OpenOfOrderSql = $"""
        select {Columns}
        from storefront_message
        where site = @site
          and storefront = @storefront
          and order_ref = @order_ref
          and flagged = 1
          and seen is null
        order by number
        """;

    private const string OpenOfCustomerSql = $"""
        select {Columns}
        from storefront_message
        where site = @site
          and flagged = 1
          and seen is null
          and storefront = @storefront
          and customer_ref = @customer_ref
        order by number
        """;

    private const string LastSql = """
        select coalesce(max(number), 0)
        from storefront_message
        where site = @site
          and number > 0
        """;

    private const string AddSql = """
        insert into storefront_message (
            site, number, storefront, door, source, id, digest, type, order_ref, customer_ref, job, body, flags, details, flagged, received, seen, seen_by, note)
        values (
            @site, @number, @storefront, @door, @source, @id, @digest, @type, @order_ref, @customer_ref, @job, @body, @flags, @details, @flagged, @received, null, null, null)
        """;

    private const string FlagSql = """
        update storefront_message
        set flags = @flags,
            details = @details,
            flagged = @flagged
        where site = @site
          and number = @number
        """;

    private const string SeenSql = """
        update storefront_message
        set seen = @seen,
            seen_by = @seen_by,
            note = @note
        where site = @site
          and number = @number
        """;

    private const string EmptySql = """
        update storefront_message
        set body = null,
            note = null,
            details = '[]'
        where site = @site
          and storefront = @storefront
          and customer_ref = @customer_ref
        """;

    private const string EmptyOfOrdersSql = """
        update storefront_message
        set body = null,
            note = null,
            details = '[]'
        where site = @site
          and storefront = @storefront
          and order_ref in (
              select order_ref
              from storefront_order
              where storefront_order.site = @site
                and storefront_order.storefront = @storefront
                and storefront_order.customer_ref = @customer_ref)
        """;

    /// <summary>Messages under this identity: one, unless a sender used it twice for different things.</summary>
    public static IReadOnlyList<StoredMessage> OfIdentity(Turn turn, string storefront, string source, string id) =>
        turn.Query<StoredMessage>(SameIdentitySql, new { site = turn.Site, storefront, source, id });

    public static StoredMessage? Find(Turn turn, long number) => turn.QueryFirst<StoredMessage>(FindSql, new { site = turn.Site, number });

    public static StoredMessage? Find(DbConnection connection, string site, long number) => connection.QueryFirstOrDefault<StoredMessage>(FindSql, new { site, number });

    /// <summary>Newest first.</summary>
    /// <param name="flagged">Those alone that somebody has to look at.</param>
    public static IReadOnlyList<StoredMessage> List(DbConnection connection, string site, bool flagged, long before, int limit) =>
        connection.Query<StoredMessage>(flagged ? FlaggedSql : AllSql, new { site, before, limit }).AsList();

    public static IReadOnlyList<StoredMessage> OpenOfOrder(Turn turn, string storefront, string order) =>
        turn.Query<StoredMessage>(OpenOfOrderSql, new { site = turn.Site, storefront, order_ref = order });

    public static IReadOnlyList<StoredMessage> OpenOfCustomer(Turn turn, string storefront, string customer) =>
        turn.Query<StoredMessage>(OpenOfCustomerSql, new { site = turn.Site, storefront, customer_ref = customer });

    /// <returns>The number under which it is kept.</returns>
    public static long Add(Turn turn, string storefront, StorefrontDoor door, string source, string id, byte[] digest, string type, string? body, Followed followed)
    {
        var number = turn.QueryFirst<long>(LastSql, new { site = turn.Site }) + 1;
        turn.Execute(AddSql, new
        {
            site = turn.Site,
            number,
            storefront,
            door = Word.Of(door),
            source,
            id,
            digest,
            type,
            order_ref = followed.Order,
            customer_ref = followed.Customer,
            job = followed.Job,

            // PostgreSQL keeps no such character in a text.
            body = body?.Replace('\0', '\uFFFD'),
            flags = Text(followed.Flags),
            details = Text(followed.Details),
            flagged = followed.Flags.IsEmpty ? 0 : 1,
            received = Microseconds.Of(turn.Now),
        });
        return number;
    }

    /// <summary>Other flags than before; without any it is off the list.</summary>
    public static void Flag(Turn turn, long number, ImmutableArray<StorefrontFlag> flags, ImmutableArray<string> details) =>
        turn.Execute(FlagSql, new { site = turn.Site, number, flags = Text(flags), details = Text(flags.IsEmpty ? [] : details), flagged = flags.IsEmpty ? 0 : 1 });

    /// <summary>Somebody has looked at it.</summary>
    public static void See(Turn turn, long number, string? by, string? note) =>
        turn.Execute(SeenSql, new { site = turn.Site, number, seen = Microseconds.Of(turn.Now), seen_by = by, note });

    /// <summary>Empties what a storefront's messages say of one customer; whoever erases a customer calls it in the same turn.</summary>
    public static void Forget(Turn turn, string storefront, string customer)
    {
        // What was said of a job or a parcel names the order alone.
        turn.Execute(EmptyOfOrdersSql, new { site = turn.Site, storefront, customer_ref = customer });
        turn.Execute(EmptySql, new { site = turn.Site, storefront, customer_ref = customer });
    }

    private static string Text<T>(ImmutableArray<T> list) => JsonSerializer.Serialize(list, WorkshopJson.Options);
}

/// <summary>What came of a message: whom and what it concerns, and what somebody has to look at.</summary>
public sealed record Followed
{
    public string? Order { get; init; }

    /// <summary>The storefront's own name of the customer.</summary>
    public string? Customer { get; init; }

    public string? Job { get; init; }

    public ImmutableArray<StorefrontFlag> Flags { get; init; } = [];

    /// <summary>Sentences; no name, address or amount.</summary>
    public ImmutableArray<string> Details { get; init; } = [];

    /// <summary>What the agenda of the house says has changed.</summary>
    public bool AgendaChanged { get; init; }

    public Followed Flagged(StorefrontFlag flag, params ReadOnlySpan<string> details) => this with
    {
        Flags = Flags.Contains(flag) ? Flags : Flags.Add(flag),
        Details = [.. Details.AddRange(details).Distinct()],
        AgendaChanged = true,
    };
}
