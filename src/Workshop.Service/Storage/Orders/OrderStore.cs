using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using Dapper;
using Workshop.Core.Orders;

namespace Workshop.Service.Storage.Orders;

/// <summary>What of an order belongs to persons; of its newest state. It can be erased without the order.</summary>
public sealed record OrderPeople
{
    /// <summary>Of the state it is from, as two states are compared.</summary>
    public required int Revision { get; init; }

    public required string Digest { get; init; }

    public ToldParty? BillTo { get; init; }

    public ToldParty? ShipTo { get; init; }

    /// <summary>For a gift: who gets the watch.</summary>
    public ToldParty? Recipient { get; init; }

    /// <summary>What the customer wrote about the watch, by line.</summary>
    public ImmutableSortedDictionary<string, string> Words { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

    /// <summary>Addresses of pictures at the storefront, by line.</summary>
    public ImmutableSortedDictionary<string, ImmutableArray<string>> Photos { get; init; } = ImmutableSortedDictionary<string, ImmutableArray<string>>.Empty;
}

/// <summary>An order as the table keeps it.</summary>
public sealed record StoredOrder
{
    public required string Storefront { get; init; }

    public required string OrderRef { get; init; }

    /// <summary>The storefront's name of the customer; null while only payments or parcels are known.</summary>
    public string? CustomerRef { get; init; }

    /// <summary><see cref="OrderFacts"/> as JSON.</summary>
    public required string Facts { get; init; }

    /// <summary><see cref="OrderPeople"/> as JSON; null before there is a state, and once it was erased.</summary>
    public string? Personal { get; init; }

    /// <summary>A list of <see cref="CarriedPayment"/> as JSON.</summary>
    public required string Carried { get; init; }

    public required long Version { get; init; }

    /// <summary>Microseconds.</summary>
    public required long Changed { get; init; }

    public OrderFacts ReadFacts() => JsonSerializer.Deserialize<OrderFacts>(Facts, WorkshopJson.Stored)!;

    public OrderPeople? ReadPeople() => Personal is null ? null : JsonSerializer.Deserialize<OrderPeople>(Personal, WorkshopJson.Stored);

    public ImmutableArray<CarriedPayment> ReadCarried() => JsonSerializer.Deserialize<ImmutableArray<CarriedPayment>>(Carried, WorkshopJson.Stored);

    public static StoredOrder New(string storefront, string order) => new()
    {
        Storefront = storefront,
        OrderRef = order,
        Facts = "{}",
        Carried = "[]",
        Version = 0,
        Changed = 0,
    };

    public StoredOrder With(OrderFacts facts) => this with { Facts = JsonSerializer.Serialize(facts, WorkshopJson.Stored) };

    public StoredOrder With(OrderPeople people) => this with { Personal = JsonSerializer.Serialize(people, WorkshopJson.Stored) };

    public StoredOrder With(ImmutableArray<CarriedPayment> carried) => this with { Carried = JsonSerializer.Serialize(carried, WorkshopJson.Stored) };
}

/// <summary>The table <c>storefront_order</c>.</summary>
public static class OrderStore
{
    private const string Columns = "storefront, order_ref, customer_ref, facts, personal, carried, version, changed";

    private const string FindSql = $"""
        select {Columns}
        from storefront_order
        where site = @site
          and storefront = @storefront
          and order_ref = @order_ref
        """;

    private const string ListSql = $"""
        select {Columns}
        from storefront_order
        where site = @site
          and storefront = @storefront
          and order_ref > @after
        order by order_ref
        limit @limit
        """;

    private const string SaveSql = """
        insert into storefront_order (site, storefront, order_ref, customer_ref, facts, personal, carried, version, changed)
        values (@site, @storefront, @order_ref, @customer_ref, @facts, @personal, @carried, 1, @changed)
        on conflict (site, storefront, order_ref) do update set
            customer_ref = excluded.customer_ref,
            facts = excluded.facts,
            personal = excluded.personal,
            carried = excluded.carried,
            version = storefront_order.version + 1,
            changed = excluded.changed
        """;

    private const string ForgetSql = """
        update storefront_order
        set personal = null
        where site = @site
          and storefront = @storefront
          and customer_ref = @customer_ref
        """;

    public static StoredOrder? Find(Turn turn, string storefront, string order) =>
        turn.QueryFirst<StoredOrder>(FindSql, new { site = turn.Site, storefront, order_ref = order });

    public static StoredOrder? Find(DbConnection connection, string site, string storefront, string order) =>
        connection.QueryFirstOrDefault<StoredOrder>(FindSql, new { site, storefront, order_ref = order });

    public static IReadOnlyList<StoredOrder> List(DbConnection connection, string site, string storefront, string after, int limit) =>
        connection.Query<StoredOrder>(ListSql, new { site, storefront, after, limit }).AsList();

    public static void Save(Turn turn, StoredOrder order) => turn.Execute(SaveSql, new
    {
        site = turn.Site,
        storefront = order.Storefront,
        order_ref = order.OrderRef,
        customer_ref = order.CustomerRef,
        facts = order.Facts,
        personal = order.Personal,
        carried = order.Carried,
        changed = Microseconds.Of(turn.Now),
    });

    /// <summary>Erases addresses and words of one customer's orders; whoever erases a customer calls it in the same turn.</summary>
    public static void Forget(Turn turn, string storefront, string customer) =>
        turn.Execute(ForgetSql, new { site = turn.Site, storefront, customer_ref = customer });
}
