using System.Collections.Immutable;
using System.Data;
using System.Data.Common;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Charts;
using Workshop.Core.Cleaning;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Parts;
using Workshop.Core.Pieces;
using Workshop.Core.Stops;
using Workshop.Core.Words;

namespace Workshop.Service.Storage;

/// <summary>A job in the writer's hands: as it is now, and what of it its rows say, where that is known.</summary>
internal sealed record HeldJob(Job Job)
{
    public JobColumns? SavedColumns { get; init; }

    public ImmutableArray<Holding>? SavedHoldings { get; init; }

    public ImmutableArray<AgendaRow>? SavedAgenda { get; init; }

    /// <summary>The labels besides the first that are bound to it; what its entries fold to is what the table has.</summary>
    public ImmutableArray<AttachedLabel> SavedLabels { get; init; } = Job.Labels.Attached;

    /// <summary>What its parts did to the shelf, as the table has it; default where that is in doubt.</summary>
    public ImmutableArray<PartMove> SavedPartMoves { get; init; } = Job.Parts.Moves;

    /// <summary>The causes found behind its stops, as the table has them; default where that is in doubt.</summary>
    public ImmutableArray<CauseRow> SavedCauses { get; init; } = Job.Stops.Causes;

    /// <summary>What it adds to charts, as the tables have it; null where that is in doubt.</summary>
    public RateLedger? SavedRates { get; init; } = Job.Rates;

    /// <summary>A job without rows yet.</summary>
    public static HeldJob New(Label label) => new(new Job { Label = label }) { SavedHoldings = [], SavedAgenda = [] };

    /// <summary>A job whose rows are in doubt.</summary>
    public HeldJob Doubted() => this with { SavedColumns = null, SavedHoldings = null, SavedAgenda = null, SavedLabels = [], SavedPartMoves = default, SavedCauses = default, SavedRates = null };
}

/// <summary>The rows that are folded from a job: <c>job</c>, <c>holding</c>, <c>agenda</c>, <c>part_move</c>, <c>stop_cause</c>, <c>worn_rate</c>, <c>rate_mean</c>, and those of <c>label</c> for its further labels. Each is written only where it differs.</summary>
internal static class JobTable
{
    private const string SaveJobSql = """
        insert into job (
            site, label, version, intake_version, fold_version, stage, branch, variant, customer_id, watch_id, case_serial_key,
            movement_number_key, promised_on, taken_in_at, in_house, closed, ready_at, document, intake)
        values (
            @site, @label, @version, 0, @fold_version, @stage, @branch, @variant, @customer_id, @watch_id, @case_serial_key,
            @movement_number_key, @promised_on, @taken_in_at, @in_house, @closed, @ready_at, @document, '{}')
        on conflict (site, label) do update set
            version = excluded.version,
            fold_version = excluded.fold_version,
            stage = excluded.stage,
            branch = excluded.branch,
            variant = excluded.variant,
            customer_id = excluded.customer_id,
            watch_id = excluded.watch_id,
            case_serial_key = excluded.case_serial_key,
            movement_number_key = excluded.movement_number_key,
            promised_on = excluded.promised_on,
            taken_in_at = excluded.taken_in_at,
            in_house = excluded.in_house,
            closed = excluded.closed,
            ready_at = excluded.ready_at,
            document = excluded.document
        """;

    // Most events change nothing that is searched, or the stage alone. SQLite writes an index anew wherever its columns are named.
    private const string SaveStageSql = """
        update job
        set version = @version,
            fold_version = @fold_version,
            stage = @stage,
            branch = @branch,
            document = @document
        where site = @site
          and label = @label
        """;

    private const string SaveDocumentSql = """
        update job
        set version = @version,
            fold_version = @fold_version,
            document = @document
        where site = @site
          and label = @label
        """;

    private const string HoldingsSql = """
        select piece, holder, from_at, until_at, opened_by_source, opened_by_id, closed_by_source, closed_by_id, run
        from holding
        where site = @site
          and job = @job
        """;

    private const string SaveHoldingSql = """
        insert into holding (
            site, thing, opened_by_source, opened_by_id, job, piece, run, holder, from_at, until_at, closed_by_source, closed_by_id)
        values (
            @site, @thing, @opened_by_source, @opened_by_id, @job, @piece, @run, @holder, @from_at, @until_at, @closed_by_source, @closed_by_id)
        on conflict (site, thing, opened_by_source, opened_by_id) do update set
            holder = excluded.holder,
            from_at = excluded.from_at,
            until_at = excluded.until_at,
            closed_by_source = excluded.closed_by_source,
            closed_by_id = excluded.closed_by_id
        """;

    private const string DropHoldingSql = """
        delete from holding
        where site = @site
          and thing = @thing
          and opened_by_source = @opened_by_source
          and opened_by_id = @opened_by_id
        """;

    private const string AgendaSql = """
        select kind, ref, due, task, wake, level, line
        from agenda
        where site = @site
          and stream = @stream
        """;

    private const string SaveAgendaSql = """
        insert into agenda (site, stream, kind, ref, due, task, wake, level, line)
        values (@site, @stream, @kind, @ref, @due, @task, @wake, @level, @line)
        on conflict (site, stream, kind, ref) do update set
            due = excluded.due,
            task = excluded.task,
            wake = excluded.wake,
            level = excluded.level,
            line = excluded.line
        """;

    private const string DropAgendaSql = """
        delete from agenda
        where site = @site
          and stream = @stream
          and kind = @kind
          and ref = @ref
        """;

    public static readonly HotSql Holdings = new(HoldingsSql, ("site", DbType.String), ("job", DbType.String));

    public static readonly HotSql Agenda = new(AgendaSql, ("site", DbType.String), ("stream", DbType.String));

    private static readonly HotSql SaveJob = new(SaveJobSql,
        ("site", DbType.String), ("label", DbType.String), ("version", DbType.Int64), ("fold_version", DbType.Int64), ("stage", DbType.String),
        ("branch", DbType.String), ("variant", DbType.String), ("customer_id", DbType.String), ("watch_id", DbType.String),
        ("case_serial_key", DbType.String), ("movement_number_key", DbType.String), ("promised_on", DbType.String),
        ("taken_in_at", DbType.Int64), ("in_house", DbType.Int64), ("closed", DbType.Int64), ("ready_at", DbType.Int64), ("document", DbType.String));

    private static readonly HotSql SaveStage = new(SaveStageSql,
        ("version", DbType.Int64), ("fold_version", DbType.Int64), ("stage", DbType.String), ("branch", DbType.String), ("document", DbType.String),
        ("site", DbType.String), ("label", DbType.String));

    private static readonly HotSql SaveDocument = new(SaveDocumentSql,
        ("version", DbType.Int64), ("fold_version", DbType.Int64), ("document", DbType.String), ("site", DbType.String), ("label", DbType.String));

    private static readonly HotSql SaveHolding = new(SaveHoldingSql,
        ("site", DbType.String), ("thing", DbType.String), ("opened_by_source", DbType.String), ("opened_by_id", DbType.String),
        ("job", DbType.String), ("piece", DbType.String), ("run", DbType.String), ("holder", DbType.String), ("from_at", DbType.Int64), ("until_at", DbType.Int64),
        ("closed_by_source", DbType.String), ("closed_by_id", DbType.String));

    private static readonly HotSql DropHolding = new(DropHoldingSql,
        ("site", DbType.String), ("thing", DbType.String), ("opened_by_source", DbType.String), ("opened_by_id", DbType.String));

    private static readonly HotSql SaveAgenda = new(SaveAgendaSql,
        ("site", DbType.String), ("stream", DbType.String), ("kind", DbType.String), ("ref", DbType.String), ("due", DbType.Int64),
        ("task", DbType.Int64), ("wake", DbType.Int64), ("level", DbType.String), ("line", DbType.String));

    private static readonly HotSql DropAgenda = new(DropAgendaSql,
        ("site", DbType.String), ("stream", DbType.String), ("kind", DbType.String), ("ref", DbType.String));

    /// <summary>Writes what differs from the rows.</summary>
    /// <param name="now">To see whether a row is due by now.</param>
    /// <returns>The job with what its rows say now, and whether a row was written that is due.</returns>
    public static (HeldJob Saved, bool DueNow) Save(HotStatements statements, string site, HeldJob held, ImmutableArray<AgendaRow> agenda, Instant now)
    {
        var job = held.Job;
        var label = job.Label.ToString();
        var stream = StreamEntry.OfJob(job.Label);
        var columns = JobColumns.Of(job);
        var document = JobDocument.Of(job);
        if (columns == held.SavedColumns)
        {
            statements.Write(SaveDocument, job.Version, JobDocument.FoldVersion, document, site, label);
        }
        else if (held.SavedColumns is { } saved && columns == saved with { Stage = columns.Stage, Branch = columns.Branch })
        {
            statements.Write(SaveStage, job.Version, JobDocument.FoldVersion, columns.Stage, columns.Branch, document, site, label);
        }
        else
        {
            statements.Write(SaveJob,
                site, label, job.Version, JobDocument.FoldVersion, columns.Stage, columns.Branch, columns.Variant, columns.CustomerId,
                columns.WatchId, columns.CaseSerialKey, columns.MovementNumberKey, columns.PromisedOn, columns.TakenInAt, columns.InHouse,
                columns.Closed, columns.ReadyAt, document);
        }

        if (held.SavedHoldings != job.Holdings)
        {
            SaveHoldings(statements, site, job, held.SavedHoldings ?? Read(statements, site, label));
        }

        if (held.SavedPartMoves != job.Parts.Moves)
        {
            PartMoves.Save(statements, site, job);
        }

        if (held.SavedCauses != job.Stops.Causes)
        {
            StopCauses.Save(statements, site, job);
        }

        RateRows.Save(statements, site, job, held.SavedRates);
        if (held.SavedLabels != job.Labels.Attached)
        {
            Labels.Save(statements, site, job, held.SavedLabels, now);
        }

        var dueNow = SaveAgendaRows(statements, site, stream, held.SavedAgenda ?? ReadAgenda(statements, site, stream), agenda, now);
        return (new HeldJob(job) { SavedColumns = columns, SavedHoldings = job.Holdings, SavedAgenda = agenda, SavedLabels = job.Labels.Attached, SavedPartMoves = job.Parts.Moves, SavedCauses = job.Stops.Causes, SavedRates = job.Rates }, dueNow);
    }

    /// <summary>Writes the agenda rows of a stream where they differ.</summary>
    /// <returns>Whether a row was written that is due by now.</returns>
    public static bool SaveAgendaOf(HotStatements statements, string site, string stream, ImmutableArray<AgendaRow> agenda, Instant now) =>
        SaveAgendaRows(statements, site, stream, ReadAgenda(statements, site, stream), agenda, now);

    /// <summary>A piece with a label of its own is one thing wherever it is, and so is a cage; the others are things of their job.</summary>
    public static string ThingOf(string job, string piece) =>
        piece.StartsWith(LoadBook.ThingPrefix, StringComparison.Ordinal) ? piece :
        Label.TryRead(piece, out var label) && label.Value.Kind == LabelKind.Piece ? label.Value.ToString() : $"{job}/{piece}";

    public static ImmutableArray<Holding> ReadHoldings(DbDataReader reader)
    {
        var rows = ImmutableArray.CreateBuilder<Holding>();
        while (reader.Read())
        {
            rows.Add(new Holding(
                reader.GetString(0), reader.GetString(1), Microseconds.Read(reader.GetInt64(2)), MomentOrNull(reader, 3),
                new EventId(reader.GetString(4), reader.GetString(5)),
                reader.IsDBNull(6) ? null : new EventId(reader.GetString(6), reader.GetString(7)))
            {
                Run = reader.IsDBNull(8) ? null : reader.GetString(8),
            });
        }

        return rows.ToImmutable();
    }

    public static ImmutableArray<AgendaRow> ReadAgenda(DbDataReader reader)
    {
        var rows = ImmutableArray.CreateBuilder<AgendaRow>();
        while (reader.Read())
        {
            rows.Add(new AgendaRow
            {
                Kind = Word.Read<AgendaKind>(reader.GetString(0)) ?? throw new InvalidDataException($"The agenda holds the kind '{reader.GetString(0)}'."),
                Ref = reader.GetString(1),
                Due = MomentOrNull(reader, 2),
                Task = MomentOrNull(reader, 3),
                Wake = MomentOrNull(reader, 4),
                Level = Word.Read<AgendaLevel>(reader.GetString(5)) ?? throw new InvalidDataException($"The agenda holds the level '{reader.GetString(5)}'."),
                Line = reader.GetString(6),
            });
        }

        return rows.ToImmutable();
    }

    private static ImmutableArray<Holding> Read(HotStatements statements, string site, string label)
    {
        using var reader = statements.Read(Holdings, site, label);
        return ReadHoldings(reader);
    }

    private static ImmutableArray<AgendaRow> ReadAgenda(HotStatements statements, string site, string stream)
    {
        using var reader = statements.Read(Agenda, site, stream);
        return ReadAgenda(reader);
    }

    // A thing has one open holding: those that end are written before those that begin.
    private static void SaveHoldings(HotStatements statements, string site, Job job, ImmutableArray<Holding> saved)
    {
        var label = job.Label.ToString();
        var known = saved.ToDictionary(KeyOf);
        var changed = job.Holdings.Where(one => !(known.Remove(KeyOf(one), out var old) && old == one)).ToList();
        foreach (var gone in known.Values)
        {
            statements.Write(DropHolding, site, ThingOf(label, gone.Thing), gone.OpenedBy.Source, gone.OpenedBy.Id);
        }

        foreach (var one in changed.OrderBy(one => one.Until is null))
        {
            statements.Write(SaveHolding,
                site, ThingOf(label, one.Thing), one.OpenedBy.Source, one.OpenedBy.Id, label, one.Thing, one.Run, one.Holder,
                Microseconds.Of(one.From), Microseconds.Of(one.Until), one.ClosedBy?.Source, one.ClosedBy?.Id);
        }
    }

    private static bool SaveAgendaRows(HotStatements statements, string site, string stream, ImmutableArray<AgendaRow> saved, ImmutableArray<AgendaRow> agenda, Instant now)
    {
        if (saved.IsEmpty && agenda.IsEmpty)
        {
            return false;
        }

        var dueNow = false;
        var known = saved.ToDictionary(row => (row.Kind, row.Ref));
        foreach (var row in agenda)
        {
            if (known.Remove((row.Kind, row.Ref), out var old) && old == row)
            {
                continue;
            }

            dueNow |= row.Wake <= now;
            statements.Write(SaveAgenda,
                site, stream, Word.Of(row.Kind), row.Ref, Microseconds.Of(row.Due), Microseconds.Of(row.Task), Microseconds.Of(row.Wake),
                Word.Of(row.Level), row.Line);
        }

        foreach (var gone in known.Keys)
        {
            statements.Write(DropAgenda, site, stream, Word.Of(gone.Kind), gone.Ref);
        }

        return dueNow;
    }

    private static (string, EventId) KeyOf(Holding one) => (one.Thing, one.OpenedBy);

    private static Instant? MomentOrNull(DbDataReader reader, int column) =>
        reader.IsDBNull(column) ? null : Microseconds.Read(reader.GetInt64(column));
}
