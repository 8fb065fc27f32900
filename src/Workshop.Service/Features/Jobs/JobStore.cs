using System.Collections.Immutable;
using Dapper;
using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Watches;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>A job as lists show it. Moments in microseconds.</summary>
public sealed record JobRow
{
    public required string Label { get; init; }

    public required long Version { get; init; }

    public string? Stage { get; init; }

    public string? Branch { get; init; }

    public string? Variant { get; init; }

    public string? PromisedOn { get; init; }

    public long? TakenInAt { get; init; }

    public required long InHouse { get; init; }

    public required long Closed { get; init; }

    public string? Maker { get; init; }

    public string? Model { get; init; }
}

/// <summary>One line of a job's history, in the order of places. Moments in microseconds.</summary>
public sealed record HistoryRow
{
    public required long Position { get; init; }

    public required string Source { get; init; }

    public required string Id { get; init; }

    public long? Sequence { get; init; }

    public required long Received { get; init; }

    public required long Effective { get; init; }

    public required string OrderSource { get; init; }

    public required long OrderSequence { get; init; }

    public string? Person { get; init; }

    public required string Type { get; init; }

    public required string Data { get; init; }

    public required string Judged { get; init; }

    public required string Disposition { get; init; }

    public required string Flags { get; init; }

    public string? CausedBySource { get; init; }

    public string? CausedById { get; init; }
}

/// <summary>Everything about one job that is read to show it.</summary>
public sealed record JobReading
{
    public required Job Job { get; init; }

    /// <summary>In the order of their places.</summary>
    public required ImmutableArray<Entry> Entries { get; init; }

    public required IntakePart Intake { get; init; }

    public StoredCustomer? Customer { get; init; }

    public StoredWatch? Watch { get; init; }
}

/// <summary>Reads jobs beside the writer.</summary>
public sealed class JobStore(Reader reader)
{
    // A filter that is not set is null, and null alone does not tell PostgreSQL of what kind it would be.
    private const string ListSql = """
        select job.label, job.version, job.stage, job.branch, job.variant, job.promised_on, job.taken_in_at, job.in_house, job.closed,
               watch.maker, watch.model
        from job
        left join watch on watch.site = job.site and watch.id = job.watch_id
        where job.site = @site
          and (cast(@stage as text) is null or job.stage = @stage)
          and (cast(@branch as text) is null or job.branch = @branch)
          and (cast(@variant as text) is null or job.variant = @variant)
          and (cast(@closed as bigint) is null or job.closed = @closed)
          and (cast(@in_house as bigint) is null or job.in_house = @in_house)
          and (job.taken_in_at, job.label) < (@before, @before_label)
        order by job.taken_in_at desc, job.label desc
        limit @limit
        """;

    // What is at risk by now stands in the agenda, and only open jobs stand there.
    private const string AtRiskSql = """
        select job.label, job.version, job.stage, job.branch, job.variant, job.promised_on, job.taken_in_at, job.in_house, job.closed,
               watch.maker, watch.model
        from agenda
        join job on job.site = agenda.site and job.label = substr(agenda.stream, 5)
        left join watch on watch.site = job.site and watch.id = job.watch_id
        where agenda.site = @site
          and agenda.due <= @now
          and agenda.kind = 'promise-at-risk'
          and (cast(@stage as text) is null or job.stage = @stage)
          and (cast(@branch as text) is null or job.branch = @branch)
          and (cast(@variant as text) is null or job.variant = @variant)
          and (cast(@closed as bigint) is null or job.closed = @closed)
          and (cast(@in_house as bigint) is null or job.in_house = @in_house)
          and (job.taken_in_at, job.label) < (@before, @before_label)
        order by job.taken_in_at desc, job.label desc
        limit @limit
        """;

    private const string IntakeSql = """
        select intake as text, intake_version as version
        from job
        where site = @site
          and label = @label
        """;

    private const string HistorySql = """
        select position, source, id, sequence, received, effective, order_source, order_sequence, person, type, data, judged,
               disposition, flags, caused_by_source, caused_by_id
        from journal
        where site = @site
          and stream = @stream
          and (effective, order_source, order_sequence, position) > (@effective, @order_source, @order_sequence, @position)
        order by effective, order_source, order_sequence, position
        limit @limit
        """;

    /// <summary>Newest first.</summary>
    /// <param name="atRiskAt">Only those whose promise is at risk by this moment; all where null.</param>
    /// <param name="before">Taken in before this moment (microseconds), or then and with a label before this one.</param>
    public Task<IReadOnlyList<JobRow>> List(
        string site, Instant? atRiskAt, string? stage, string? branch, string? variant, long? closed, long? inHouse, (long At, string Label) before, int limit, CancellationToken cancel) =>
        reader.Query<JobRow>(
            atRiskAt is null ? ListSql : AtRiskSql,
            new { site, now = Microseconds.Of(atRiskAt ?? default), stage, branch, variant, closed, in_house = inHouse, before = before.At, before_label = before.Label, limit },
            cancel);

    public Task<IntakePart?> Intake(string site, Label label, CancellationToken cancel) =>
        reader.QueryFirst<IntakePart>(IntakeSql, new { site, label = label.ToString() }, cancel);

    /// <summary>Entries after a place, in the order of places.</summary>
    public Task<IReadOnlyList<HistoryRow>> History(string site, Label label, (long Effective, string Source, long Sequence, long Position) after, int limit, CancellationToken cancel) =>
        reader.Query<HistoryRow>(
            HistorySql,
            new
            {
                site,
                stream = StreamEntry.OfJob(label),
                effective = after.Effective,
                order_source = after.Source,
                order_sequence = after.Sequence,
                position = after.Position,
                limit,
            },
            cancel);

    /// <summary>What each entry of a job counts as by now.</summary>
    public Task<Reckoning> Reckoned(string site, Label label, CancellationToken cancel) =>
        reader.Read(connection => Reckoning.Of(Reader.Entries(connection, site, label)), cancel);

    /// <summary>A job folded from its stream, with what stands in tables of its own; null where there is none.</summary>
    public Task<JobReading?> Find(string site, Label label, CancellationToken cancel) => reader.Read(
        connection =>
        {
            var entries = Reader.Entries(connection, site, label);
            if (entries.IsEmpty || connection.QueryFirstOrDefault<IntakePart>(IntakeSql, new { site, label = label.ToString() }) is not { } intake)
            {
                return null;
            }

            var job = Job.Replay(label, entries);
            return new JobReading
            {
                Job = job,
                Entries = entries,
                Intake = intake,
                Customer = CustomerStore.Find(connection, site, job.Intake.Customer),
                Watch = WatchStore.Find(connection, site, job.Intake.Watch),
            };
        },
        cancel);
}
