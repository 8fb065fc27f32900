using System.Collections.Immutable;
using System.Data;
using System.Data.Common;
using Workshop.Core.Jobs;
using Workshop.Core.Parts;

namespace Workshop.Service.Storage;

/// <summary>The rows of the table <c>part_move</c>: folded from a job and written with it, so that what lies on the shelf is a sum over all jobs.</summary>
internal static class PartMoves
{
    public const string OfJobSql = """
        select source, id, part, on_shelf, reserved, at
        from part_move
        where site = @site
          and job = @job
        """;

    private const string DropSql = """
        delete from part_move
        where site = @site
          and job = @job
        """;

    private const string SaveSql = """
        insert into part_move (site, job, part, source, id, on_shelf, reserved, at)
        values (@site, @job, @part, @source, @id, @on_shelf, @reserved, @at)
        """;

    private static readonly HotSql Drop = new(DropSql, ("site", DbType.String), ("job", DbType.String));

    private static readonly HotSql Put = new(SaveSql,
        ("site", DbType.String), ("job", DbType.String), ("part", DbType.String), ("source", DbType.String), ("id", DbType.String),
        ("on_shelf", DbType.Int64), ("reserved", DbType.Int64), ("at", DbType.Int64));

    /// <summary>Writes a job's rows anew; they are few.</summary>
    public static void Save(HotStatements statements, string site, Job job)
    {
        var label = job.Label.ToString();
        statements.Write(Drop, site, label);
        foreach (var move in job.Parts.Moves)
        {
            statements.Write(Put, site, label, move.Part, move.Entry.Source, move.Entry.Id, (long)move.OnShelf, (long)move.Reserved, Microseconds.Of(move.At));
        }
    }

    public static ImmutableArray<PartMove> Read(DbDataReader reader)
    {
        var rows = ImmutableArray.CreateBuilder<PartMove>();
        while (reader.Read())
        {
            rows.Add(new PartMove(
                new EventId(reader.GetString(0), reader.GetString(1)), reader.GetString(2), (int)reader.GetInt64(3), (int)reader.GetInt64(4), Microseconds.Read(reader.GetInt64(5))));
        }

        return rows.ToImmutable();
    }
}
