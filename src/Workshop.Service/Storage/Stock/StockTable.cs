using System.Data.Common;
using System.Text.Json;
using Dapper;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Parts;

namespace Workshop.Service.Storage.Stock;

/// <summary>A saved version of a part or of an order of parts. Moments in microseconds.</summary>
public sealed record StockDocument
{
    public required string Id { get; init; }

    /// <summary>1, 2, 3 …</summary>
    public required long Version { get; init; }

    /// <summary>JSON, as saved.</summary>
    public required string Document { get; init; }

    public required long Saved { get; init; }

    /// <summary>Who saved it.</summary>
    public required string Source { get; init; }

    public T Read<T>() => JsonSerializer.Deserialize<T>(Document, WorkshopJson.Options)!;
}

/// <summary>Parts and orders as they are kept, and what is on the shelf by the last count and all that came and went since.</summary>
public static class StockTable
{
    public const string Part = "part";
    public const string Order = "part-order";

    private const string NewestSql = """
        select id, version, document, saved, source
        from stock_document
        where site = @site
          and kind = @kind
          and id = @id
        order by version desc
        limit 1
        """;

    private const string VersionsSql = """
        select id, version, document, saved, source
        from stock_document
        where site = @site
          and kind = @kind
          and id = @id
        order by version
        limit 500
        """;

    private const string PageSql = """
        select id, version, document, saved, source
        from stock_document
        where site = @site
          and kind = @kind
          and id > @after
          and version = (
              select max(newer.version)
              from stock_document as newer
              where newer.site = stock_document.site
                and newer.kind = stock_document.kind
                and newer.id = stock_document.id)
        order by id
        limit @limit
        """;

    private const string SaveSql = """
        insert into stock_document (site, kind, id, version, document, saved, source)
        values (@site, @kind, @id, @version, @document, @saved, @source)
        """;

    // What happened before the shelf was counted was counted with it; what is set aside stays so.
    private const string MovesSql = """
        select job, cast(sum(case when at > @counted_at then on_shelf else 0 end) as bigint) as on_shelf, cast(sum(reserved) as bigint) as reserved
        from part_move
        where site = @site
          and part = @part
        group by job
        order by job
        """;

    public static StockDocument? Newest(Turn turn, string kind, string id) => turn.QueryFirst<StockDocument>(NewestSql, new { site = turn.Site, kind, id });

    public static StockDocument? Newest(DbConnection connection, string site, string kind, string id) =>
        connection.QueryFirstOrDefault<StockDocument>(NewestSql, new { site, kind, id });

    /// <summary>Every version of one, the first one first.</summary>
    public static IReadOnlyList<StockDocument> Versions(DbConnection connection, string site, string kind, string id) =>
        connection.Query<StockDocument>(VersionsSql, new { site, kind, id }).AsList();

    /// <summary>The newest version of those of a kind, in order of their ids, after one.</summary>
    public static IReadOnlyList<StockDocument> Page(DbConnection connection, string site, string kind, string after, int limit) =>
        connection.Query<StockDocument>(PageSql, new { site, kind, after, limit }).AsList();

    /// <summary>Saves a new version of what was found to be right, and says so in the journal.</summary>
    /// <returns>What was saved, and the entry that says so.</returns>
    public static (StockDocument Saved, Entry Entry) Put(Turn turn, string kind, string id, string document, string source)
    {
        var saved = new StockDocument { Id = id, Version = (Newest(turn, kind, id)?.Version ?? 0) + 1, Document = document, Saved = Microseconds.Of(turn.Now), Source = source };
        turn.Execute(SaveSql, new { site = turn.Site, kind, id, version = saved.Version, document, saved = saved.Saved, source });
        var said = turn.Compose(
            StockSaved.Stream, new EventId(source, $"stock.saved/{kind}/{id}/{saved.Version}"), new StockSaved { Kind = kind, Id = id, Version = saved.Version });
        turn.Append([said]);
        return (saved, said.Entry);
    }

    /// <summary>How many of a part there are and for whom; null for one that the shop has not written down.</summary>
    public static PartStock? StockOf(Turn turn, string part) =>
        Newest(turn, Part, part) is { } stored ? Sum(stored, turn.Query<MovedRow>(MovesSql, new { site = turn.Site, part, counted_at = CountedAt(stored) })) : null;

    /// <summary>The same beside the writer, of a part as it was read.</summary>
    public static PartStock StockOf(DbConnection connection, string site, StockDocument stored) =>
        Sum(stored, connection.Query<MovedRow>(MovesSql, new { site, part = stored.Id, counted_at = CountedAt(stored) }));

    private static long CountedAt(StockDocument stored) => stored.Read<PartDocument>().Counted is { } counted ? Microseconds.Of(counted.At) : long.MinValue;

    private static PartStock Sum(StockDocument stored, IEnumerable<MovedRow> moves)
    {
        var part = stored.Read<PartDocument>();
        var rows = moves.ToArray();
        return new PartStock(
            (part.Counted?.Pieces ?? 0) + (int)rows.Sum(row => row.OnShelf),
            [.. rows.Where(row => row.Reserved > 0).Select(row => new PartReservation(Label.Read(row.Job), (int)row.Reserved))],
            part.Essential,
            part.UsualWorkingDays);
    }

    private sealed record MovedRow
    {
        public required string Job { get; init; }

        public required long OnShelf { get; init; }

        public required long Reserved { get; init; }
    }
}
