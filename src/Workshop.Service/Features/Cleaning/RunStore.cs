using System.Data.Common;
using Dapper;
using Workshop.Core.Cleaning;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Cleaning;

/// <summary>Reads runs, and the jobs whose groups may wait for one.</summary>
public static class RunStore
{
    // The parameters that were left out are told apart by their type on PostgreSQL.
    internal const string PageSql = """
        select id, version, state, machine, programme, planned_at, started_at, ended_at
        from cleaning_run
        where site = @site
          and (planned_at, id) < (@at, @id)
          and (cast(@state as text) is null or state = @state)
          and (cast(@machine as text) is null or machine = @machine)
        order by planned_at desc, id desc
        limit @limit
        """;

    private const string AtTheMovementSql = """
        select label
        from job
        where site = @site
          and stage in ('intake', 'diagnosis', 'quote', 'queue', 'takedown', 'cleaning', 'inspection', 'rebuild', 'case-strip')
          and in_house = 1
        """;

    /// <summary>A run folded from its stream; one that nobody has heard of has version 0.</summary>
    public static Run Read(DbConnection connection, string site, string run) => Run.Replay(run, Reader.Entries(connection, site, Run.StreamOf(run)));

    /// <summary>Jobs that may have groups to wash, folded.</summary>
    public static IEnumerable<Job> AtTheMovement(DbConnection connection, string site) =>
        connection.Query<string>(AtTheMovementSql, new { site }).AsList()
            .Select(Label.Read)
            .Select(label => Job.Replay(label, Reader.Entries(connection, site, label)));
}
