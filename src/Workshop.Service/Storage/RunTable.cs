using System.Collections.Immutable;
using System.Data.Common;
using Dapper;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Labels;
using Workshop.Core.Words;

namespace Workshop.Service.Storage;

/// <summary>A row of the table <c>cleaning_run</c>. Moments in microseconds.</summary>
public sealed record RunRow
{
    public required string Id { get; init; }

    public required long Version { get; init; }

    public required string State { get; init; }

    public string? Machine { get; init; }

    public string? Programme { get; init; }

    public required long PlannedAt { get; init; }

    public long? StartedAt { get; init; }

    public long? EndedAt { get; init; }

    public static RunRow Of(Run run) => new()
    {
        Id = run.Id,
        Version = run.Version,
        State = Word.Of(run.State),
        Machine = run.Machine,
        Programme = run.Programme,
        PlannedAt = Microseconds.Of(run.PlannedAt ?? Instant.FromUnixTimeTicks(0)),
        StartedAt = Microseconds.Of(run.Started?.Effective),
        EndedAt = Microseconds.Of(run.EndedAt),
    };
}

/// <summary>The rows that are folded from runs, and whose a cage is.</summary>
public static class RunTable
{
    private const string SaveSql = """
        insert into cleaning_run (site, id, version, state, machine, programme, planned_at, started_at, ended_at)
        values (@site, @id, @version, @state, @machine, @programme, @planned_at, @started_at, @ended_at)
        on conflict (site, id) do update set
            version = excluded.version,
            state = excluded.state,
            machine = excluded.machine,
            programme = excluded.programme,
            planned_at = excluded.planned_at,
            started_at = excluded.started_at,
            ended_at = excluded.ended_at
        """;

    private const string GoingSql = """
        select id, version, state, machine, programme, planned_at, started_at, ended_at
        from cleaning_run
        where site = @site
          and machine = @machine
          and state = 'running'
        order by id
        """;

    private const string AllSql = """
        select id, version, state, machine, programme, planned_at, started_at, ended_at
        from cleaning_run
        where site = @site
        order by id
        """;

    private const string BindingsSql = """
        select job, holder, run, from_at, until_at, opened_by_source, opened_by_id
        from holding
        where site = @site
          and thing = @thing
          and (until_at is null or until_at > @at)
        order by from_at
        """;

    /// <summary>Folds a run anew and writes its row.</summary>
    public static Run Save(Turn turn, string id)
    {
        var run = Read(turn, id);
        var row = RunRow.Of(run);
        turn.Execute(SaveSql, new
        {
            site = turn.Site,
            id,
            version = row.Version,
            state = row.State,
            machine = row.Machine,
            programme = row.Programme,
            planned_at = row.PlannedAt,
            started_at = row.StartedAt,
            ended_at = row.EndedAt,
        });
        return run;
    }

    /// <summary>A run as this turn sees it; one that nobody has heard of is empty.</summary>
    public static Run Read(Turn turn, string id) => Run.Replay(id, turn.EntriesOf(Run.StreamOf(id)));

    /// <summary>The fillings of a machine as this turn sees them.</summary>
    public static FluidLedger Fluids(Turn turn, string machine) => FluidLedger.Replay(machine, turn.EntriesOf(FluidLedger.StreamOf(machine)));

    /// <summary>The run that is going on in a machine; null where none is.</summary>
    /// <param name="except">Not this one.</param>
    public static RunningRun? Going(Turn turn, string machine, string except) =>
        turn.Query<RunRow>(GoingSql, new { site = turn.Site, machine }).FirstOrDefault(row => row.Id != except) is { } going
            ? new RunningRun(going.Id, Microseconds.Read(going.StartedAt!.Value))
            : null;

    /// <summary>Whose a cage is at a moment or later.</summary>
    public static ImmutableArray<CageBinding> Bindings(Turn turn, string cage, Instant at) =>
    [
        .. turn.Query<BindingRow>(BindingsSql, new { site = turn.Site, thing = LoadBook.ThingPrefix + cage, at = Microseconds.Of(at) })
            .Select(row => new CageBinding(Label.Read(row.Job), row.Holder.Split('/', 2)[1], row.Run, Microseconds.Read(row.FromAt), Microseconds.Read(row.UntilAt), new EventId(row.OpenedBySource, row.OpenedById))),
    ];

    /// <summary>The row that a run's entries fold to.</summary>
    internal static RunRow Folded(DbConnection connection, string site, string id) => RunRow.Of(Run.Replay(id, Reader.Entries(connection, site, Run.StreamOf(id))));

    internal static IEnumerable<RunRow> All(DbConnection connection, string site) => connection.Query<RunRow>(AllSql, new { site });

    private sealed record BindingRow
    {
        public required string Job { get; init; }

        public required string Holder { get; init; }

        public required string Run { get; init; }

        public required long FromAt { get; init; }

        public long? UntilAt { get; init; }

        public required string OpenedBySource { get; init; }

        public required string OpenedById { get; init; }
    }
}
