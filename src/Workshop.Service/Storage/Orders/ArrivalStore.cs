using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using Dapper;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Labels;
using Workshop.Core.Orders;
using Workshop.Core.Words;

namespace Workshop.Service.Storage.Orders;

/// <summary>What is known of an expected watch and of its order, without anything that belongs to a person.</summary>
public sealed record OrderedThing
{
    /// <summary>What the storefront sold, by its own name.</summary>
    public string? Product { get; init; }

    public ImmutableArray<string> Options { get; init; } = [];

    /// <summary>The kind of work, as the desk said it; behind a product it is looked up when it is asked for.</summary>
    public string? Variant { get; init; }

    /// <summary>Minor units, tax included.</summary>
    public long AmountMinor { get; init; }

    /// <summary>ISO 4217.</summary>
    public string? Currency { get; init; }

    /// <summary>As the customer wrote it.</summary>
    public string? Serial { get; init; }

    public LocalDate? FixedDate { get; init; }

    public PolishWish? Polish { get; init; }

    public bool? OldPartsBack { get; init; }

    /// <summary>Before this day whoever gets the watch as a gift hears nothing.</summary>
    public LocalDate? NotBefore { get; init; }
}

/// <summary>An expected watch as the table keeps it; moments in microseconds.</summary>
public sealed record StoredArrival
{
    public required string Label { get; init; }

    /// <summary>The storefront's id; null where the desk expects it.</summary>
    public string? Storefront { get; init; }

    public string? OrderRef { get; init; }

    public string? Line { get; init; }

    public long? Piece { get; init; }

    public string? CustomerId { get; init; }

    /// <summary><see cref="OrderedThing"/> as JSON.</summary>
    public required string Ordered { get; init; }

    /// <summary>What the customer wrote or said of the watch.</summary>
    public string? Words { get; init; }

    public required string State { get; init; }

    /// <summary>Why it ended; with one that has arrived, what the order said of it afterwards.</summary>
    public string? Reason { get; init; }

    public string? Note { get; init; }

    public required long WaitsFrom { get; init; }

    public string? Job { get; init; }

    public required long Created { get; init; }

    public required long Version { get; init; }

    public Label ReadLabel() => Core.Labels.Label.Read(Label);

    public Label? BecameJob() => Job is null ? null : Core.Labels.Label.Read(Job);

    public ArrivalStanding ReadState() => Word.Read<ArrivalStanding>(State)!.Value;

    public ArrivalEnd? ReadReason() => Reason is null ? null : Word.Read<ArrivalEnd>(Reason);

    public OrderedThing ReadOrdered() => JsonSerializer.Deserialize<OrderedThing>(Ordered, WorkshopJson.Options)!;
}

/// <summary>The table <c>arrival</c>.</summary>
public static class ArrivalStore
{
    private const string Columns = "label, storefront, order_ref, line, piece, customer_id, ordered, words, state, reason, note, waits_from, job, created, version";

    private const string FindSql = $"""
        select {Columns}
        from arrival
        where site = @site
          and label = @label
        """;

    private const string OfOrderSql = $"""
        select {Columns}
        from arrival
        where site = @site
          and storefront = @storefront
          and order_ref = @order_ref
        order by line, piece
        """;

    private const string OfCustomerSql = $"""
        select {Columns}
        from arrival
        where site = @site
          and customer_id = @customer_id
        order by created, label
        limit 100
        """;

    private const string ExpectedSql = $"""
        select {Columns}
        from arrival
        where site = @site
          and state = 'expected'
          and label > @after
        order by label
        limit @limit
        """;

    private const string AllSql = $"""
        select {Columns}
        from arrival
        where site = @site
          and label > @after
        order by label
        limit @limit
        """;

    private const string AddSql = """
        insert into arrival (site, label, storefront, order_ref, line, piece, customer_id, ordered, words, state, reason, note, waits_from, job, created, version)
        values (@site, @label, @storefront, @order_ref, @line, @piece, @customer_id, @ordered, @words, @state, @reason, null, @waits_from, null, @created, 1)
        """;

    private const string ChangeSql = """
        update arrival
        set customer_id = @customer_id,
            ordered = @ordered,
            words = @words,
            state = @state,
            reason = @reason,
            note = @note,
            waits_from = @waits_from,
            job = @job,
            version = version + 1
        where site = @site
          and label = @label
        """;

    private const string ForgetWordsSql = """
        update arrival
        set words = null,
            note = null
        where site = @site
          and customer_id = @customer_id
        """;

    public static StoredArrival? Find(Turn turn, Label label) => turn.QueryFirst<StoredArrival>(FindSql, new { site = turn.Site, label = label.ToString() });

    public static StoredArrival? Find(DbConnection connection, string site, Label label) =>
        connection.QueryFirstOrDefault<StoredArrival>(FindSql, new { site, label = label.ToString() });

    public static IReadOnlyList<StoredArrival> OfOrder(Turn turn, string storefront, string order) =>
        turn.Query<StoredArrival>(OfOrderSql, new { site = turn.Site, storefront, order_ref = order });

    public static IReadOnlyList<StoredArrival> OfOrder(DbConnection connection, string site, string storefront, string order) =>
        connection.Query<StoredArrival>(OfOrderSql, new { site, storefront, order_ref = order }).AsList();

    public static IReadOnlyList<StoredArrival> OfCustomer(Turn turn, string customer) =>
        turn.Query<StoredArrival>(OfCustomerSql, new { site = turn.Site, customer_id = customer });

    /// <summary>By label.</summary>
    /// <param name="expected">Those alone that are still waited for.</param>
    public static IReadOnlyList<StoredArrival> List(DbConnection connection, string site, bool expected, string after, int limit) =>
        connection.Query<StoredArrival>(expected ? ExpectedSql : AllSql, new { site, after, limit }).AsList();

    /// <summary>A watch is expected from now on, under a new label.</summary>
    /// <param name="arrival">All but its label.</param>
    public static StoredArrival Add(Turn turn, StoredArrival arrival)
    {
        var label = turn.DrawLabel(LabelKind.Expected, drawn => $"arrivals/{drawn}");
        var added = arrival with { Label = label.ToString(), Created = Microseconds.Of(turn.Now), Version = 1 };
        turn.Execute(AddSql, Row(turn, added));
        return added;
    }

    /// <summary>Its version counts up by one; what is the same stays as it is.</summary>
    /// <returns>Whether anything was another one.</returns>
    public static bool Change(Turn turn, StoredArrival before, StoredArrival after)
    {
        if (before == after)
        {
            return false;
        }

        turn.Execute(ChangeSql, Row(turn, after));
        return true;
    }

    /// <summary>Empties what was written of watches of one customer; whoever erases a customer calls it in the same turn.</summary>
    public static void ForgetWords(Turn turn, string customer) => turn.Execute(ForgetWordsSql, new { site = turn.Site, customer_id = customer });

    public static string Write(OrderedThing ordered) => JsonSerializer.Serialize(ordered, WorkshopJson.Options);

    private static object Row(Turn turn, StoredArrival one) => new
    {
        site = turn.Site,
        label = one.Label,
        storefront = one.Storefront,
        order_ref = one.OrderRef,
        line = one.Line,
        piece = one.Piece,
        customer_id = one.CustomerId,
        ordered = one.Ordered,
        words = one.Words,
        state = one.State,
        reason = one.Reason,
        note = one.Note,
        waits_from = one.WaitsFrom,
        job = one.Job,
        created = one.Created,
    };
}
