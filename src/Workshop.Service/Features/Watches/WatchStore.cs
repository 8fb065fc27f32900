using System.Data.Common;
using System.Text.Json;
using Dapper;
using Workshop.Core.Casing;
using Workshop.Core.Search;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Watches;

/// <summary>A watch as the table keeps one.</summary>
public sealed record StoredWatch
{
    public required string Id { get; init; }

    public string? CustomerId { get; init; }

    public string? Maker { get; init; }

    public string? Model { get; init; }

    public string? Reference { get; init; }

    public string? CaseSerial { get; init; }

    public string? MovementNumber { get; init; }

    /// <summary><see cref="WatchFacts"/> as JSON.</summary>
    public required string Facts { get; init; }

    public required long Version { get; init; }

    public WatchFacts ReadFacts() => JsonSerializer.Deserialize<WatchFacts>(Facts, WorkshopJson.Options)!;
}

/// <summary>A job of a watch, in short.</summary>
public sealed record WatchJobRow
{
    public required string Label { get; init; }

    public string? Variant { get; init; }

    public string? Stage { get; init; }

    /// <summary>Microseconds.</summary>
    public long? TakenInAt { get; init; }

    public required long InHouse { get; init; }

    public required long Closed { get; init; }
}

/// <summary>The table <c>watch</c>.</summary>
public static class WatchStore
{
    private const string FindSql = """
        select id, customer_id, maker, model, reference, case_serial, movement_number, facts, version
        from watch
        where site = @site
          and id = @id
        """;

    private const string AddSql = """
        insert into watch (
            site, id, customer_id, maker, model, reference, case_serial, case_serial_key, movement_number, movement_number_key, facts, gram_version, created, version)
        values (
            @site, @id, @customer_id, @maker, @model, @reference, @case_serial, @case_serial_key, @movement_number, @movement_number_key, @facts, @gram_version, @now, 1)
        """;

    private const string ChangeSql = """
        update watch
        set customer_id = @customer_id,
            maker = @maker,
            model = @model,
            reference = @reference,
            case_serial = @case_serial,
            case_serial_key = @case_serial_key,
            movement_number = @movement_number,
            movement_number_key = @movement_number_key,
            facts = @facts,
            gram_version = @gram_version,
            version = version + 1
        where site = @site
          and id = @id
        """;

    private const string ListSql = """
        select id, customer_id, maker, model, reference, case_serial, movement_number, facts, version
        from watch
        where site = @site
          and id < @before
        order by id desc
        limit @limit
        """;

    private const string ChangeOwnerSql = """
        update watch
        set customer_id = @customer_id,
            version = version + 1
        where site = @site
          and id = @id
        """;

    private const string JobsSql = """
        select label, variant, stage, taken_in_at, in_house, closed
        from job
        where site = @site
          and watch_id = @id
        order by taken_in_at desc, label
        """;

    public static StoredWatch? Find(DbConnection connection, string site, string id) =>
        connection.QueryFirstOrDefault<StoredWatch>(FindSql, new { site, id });

    public static StoredWatch? Find(Turn turn, string id) => turn.QueryFirst<StoredWatch>(FindSql, new { site = turn.Site, id });

    public static IReadOnlyList<WatchJobRow> Jobs(Turn turn, string id) => turn.Query<WatchJobRow>(JobsSql, new { site = turn.Site, id });

    public static IReadOnlyList<WatchJobRow> Jobs(DbConnection connection, string site, string id) =>
        connection.Query<WatchJobRow>(JobsSql, new { site, id }).AsList();

    /// <summary>Newest first: ids sort by when they were made.</summary>
    public static IReadOnlyList<StoredWatch> List(DbConnection connection, string site, string before, int limit) =>
        connection.Query<StoredWatch>(ListSql, new { site, before, limit }).AsList();

    public static void Add(Turn turn, string id, string customer, WatchDetails details) => Write(turn, AddSql, id, customer, details);

    /// <summary>Its version counts up by one.</summary>
    public static void Change(Turn turn, StoredWatch before, WatchDetails details) => Write(turn, ChangeSql, before.Id, before.CustomerId, details);

    private static void Write(Turn turn, string sql, string id, string? customer, WatchDetails details)
    {
        var (caseSerialKey, movementNumberKey) = (WatchNumber.Key(details.CaseSerial), WatchNumber.Key(details.MovementNumber));
        turn.Execute(sql, new
        {
            site = turn.Site,
            id,
            customer_id = customer,
            maker = Said(details.Maker),
            model = Said(details.Model),
            reference = Said(details.Reference),
            case_serial = Said(details.CaseSerial),
            case_serial_key = caseSerialKey,
            movement_number = Said(details.MovementNumber),
            movement_number_key = movementNumberKey,
            facts = JsonSerializer.Serialize(WatchFacts.Of(details), WorkshopJson.Options),
            gram_version = FoldedText.Version,
            now = Microseconds.Of(turn.Now),
        });
        GramTable.Put(turn, GramTable.OfNumbers, id, GramTable.OfNumberKeys(caseSerialKey, movementNumberKey));
    }

    /// <summary>Somebody else brings it now.</summary>
    public static void ChangeOwner(Turn turn, string id, string customer) =>
        turn.Execute(ChangeOwnerSql, new { site = turn.Site, id, customer_id = customer });

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
