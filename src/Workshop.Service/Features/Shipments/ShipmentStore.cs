using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using Dapper;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Shipments;

/// <summary>A parcel as the table keeps one. Moments in microseconds.</summary>
public sealed record StoredShipment
{
    public required string Id { get; init; }

    public required string Direction { get; init; }

    public required string Carrier { get; init; }

    public string? Number { get; init; }

    public long? InsuredMinor { get; init; }

    public string? Currency { get; init; }

    public required long SentAt { get; init; }

    /// <summary>YYYY-MM-DD.</summary>
    public string? DeliveredOn { get; init; }

    public long? LostAt { get; init; }
}

/// <summary>A job in a parcel.</summary>
/// <param name="Pieces">None for all of it.</param>
public sealed record JobInShipment(Label Job, ImmutableArray<string> Pieces);

/// <summary>The tables <c>shipment</c> and <c>shipment_job</c>; what happened to each watch stands in its job's own stream.</summary>
public static class ShipmentStore
{
    private const string FindSql = """
        select id, direction, carrier, number, insured_minor, currency, sent_at, delivered_on, lost_at
        from shipment
        where site = @site
          and id = @id
        """;

    private const string JobsSql = """
        select job, pieces
        from shipment_job
        where site = @site
          and shipment = @id
        order by job
        """;

    private const string AddSql = """
        insert into shipment (site, id, direction, carrier, number, insured_minor, currency, sent_at)
        values (@site, @id, @direction, @carrier, @number, @insured_minor, @currency, @sent_at)
        """;

    private const string AddJobSql = """
        insert into shipment_job (site, shipment, job, pieces)
        values (@site, @id, @job, @pieces)
        """;

    private const string ChangeSql = """
        update shipment
        set delivered_on = @delivered_on,
            lost_at = @lost_at
        where site = @site
          and id = @id
        """;

    public static StoredShipment? Find(DbConnection connection, string site, string id) => connection.QueryFirstOrDefault<StoredShipment>(FindSql, new { site, id });

    public static StoredShipment? Find(Turn turn, string id) => turn.QueryFirst<StoredShipment>(FindSql, new { site = turn.Site, id });

    public static ImmutableArray<JobInShipment> Jobs(DbConnection connection, string site, string id) => Read(connection.Query<(string Job, string Pieces)>(JobsSql, new { site, id }));

    public static ImmutableArray<JobInShipment> Jobs(Turn turn, string id) => Read(turn.Query<(string Job, string Pieces)>(JobsSql, new { site = turn.Site, id }));

    public static void Add(Turn turn, StoredShipment one, IEnumerable<JobInShipment> jobs)
    {
        turn.Execute(AddSql, new
        {
            site = turn.Site,
            id = one.Id,
            direction = one.Direction,
            carrier = one.Carrier,
            number = one.Number,
            insured_minor = one.InsuredMinor,
            currency = one.Currency,
            sent_at = one.SentAt,
        });
        foreach (var (job, pieces) in jobs)
        {
            turn.Execute(AddJobSql, new { site = turn.Site, id = one.Id, job = job.ToString(), pieces = JsonSerializer.Serialize(pieces, WorkshopJson.Options) });
        }
    }

    public static void Change(Turn turn, StoredShipment one) =>
        turn.Execute(ChangeSql, new { site = turn.Site, id = one.Id, delivered_on = one.DeliveredOn, lost_at = one.LostAt });

    private static ImmutableArray<JobInShipment> Read(IEnumerable<(string Job, string Pieces)> rows) =>
        [.. rows.Select(row => new JobInShipment(Label.Read(row.Job), JsonSerializer.Deserialize<ImmutableArray<string>>(row.Pieces, WorkshopJson.Options)))];
}
