using System.Collections.Immutable;
using System.Data;
using System.Data.Common;
using Dapper;
using Workshop.Core.Jobs;
using Workshop.Core.Stops;
using Workshop.Core.Words;

namespace Workshop.Service.Storage;

/// <summary>The rows of the table <c>stop_cause</c>: folded from a job and written with it, so that causes can be counted over all jobs.</summary>
internal static class StopCauses
{
    public const string OfJobSql = """
        select source, id, calibre, cause, at
        from stop_cause
        where site = @site
          and job = @job
        """;

    private const string OfCalibreSql = """
        select cause, count(*) as stops
        from stop_cause
        where site = @site
          and calibre = @calibre
        group by cause
        """;

    private const string OfShopSql = """
        select cause, count(*) as stops
        from stop_cause
        where site = @site
        group by cause
        """;

    private const string DropSql = """
        delete from stop_cause
        where site = @site
          and job = @job
        """;

    private const string SaveSql = """
        insert into stop_cause (site, job, source, id, calibre, cause, at)
        values (@site, @job, @source, @id, @calibre, @cause, @at)
        """;

    private static readonly HotSql Drop = new(DropSql, ("site", DbType.String), ("job", DbType.String));

    private static readonly HotSql Put = new(SaveSql,
        ("site", DbType.String), ("job", DbType.String), ("source", DbType.String), ("id", DbType.String), ("calibre", DbType.String), ("cause", DbType.String), ("at", DbType.Int64));

    /// <summary>Writes a job's rows anew; they are few.</summary>
    public static void Save(HotStatements statements, string site, Job job)
    {
        var label = job.Label.ToString();
        statements.Write(Drop, site, label);
        foreach (var row in job.Stops.Causes)
        {
            statements.Write(Put, site, label, row.Stop.Source, row.Stop.Id, row.Calibre, Word.Of(row.Cause), Microseconds.Of(row.At));
        }
    }

    public static ImmutableArray<CauseRow> Read(DbDataReader reader)
    {
        var rows = ImmutableArray.CreateBuilder<CauseRow>();
        while (reader.Read())
        {
            rows.Add(new CauseRow(
                new EventId(reader.GetString(0), reader.GetString(1)), reader.GetString(2), Word.Read<StopCause>(reader.GetString(3))!.Value, Microseconds.Read(reader.GetInt64(4))));
        }

        return rows.ToImmutable();
    }

    /// <summary>How often each cause was found.</summary>
    /// <param name="calibre">Of this one; of all where it is null.</param>
    public static CauseCounts Count(DbConnection connection, string site, string? calibre) => new(
        connection.Query<CountedRow>(calibre is null ? OfShopSql : OfCalibreSql, new { site, calibre })
            .Where(row => Word.Read<StopCause>(row.Cause) is not null)
            .ToImmutableSortedDictionary(row => Word.Read<StopCause>(row.Cause)!.Value, row => (int)row.Stops),
        calibre is not null);

    private sealed record CountedRow
    {
        public required string Cause { get; init; }

        public required long Stops { get; init; }
    }
}
