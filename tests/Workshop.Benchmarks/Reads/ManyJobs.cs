using Dapper;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Notes;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;

namespace Workshop.Benchmarks.Reads;

/// <summary>
/// A workshop with many jobs. The first thousand went through the writer; further ones are copies of their rows under labels of their
/// own, so that a database of years is made in a minute. Its chain of hashes is not whole: it is for reading alone.
/// </summary>
internal static class ManyJobs
{
    public const int Written = 1_000;
    public const int EntriesOfAJob = 20;

    private const string Site = Migrations.FirstSite;

    private const string CopyJournalSql = """
        insert into journal (
            site, position, stream, stream_version, source, id, sequence, device_time, received, effective, order_source, order_sequence,
            person, type, schema, data, salt, digest, judged, disposition, flags, rules_version, caused_by_source, caused_by_id, hash)
        select site, position + @step * @positions, 'job/' || copy.label, stream_version, source, id || '#' || @step, sequence, device_time, received, effective,
               order_source, order_sequence, person, type, schema, data, salt, digest, judged, disposition, flags, rules_version, caused_by_source,
               caused_by_id, hash
        from journal
        join copy on copy.step = @step and journal.stream = 'job/' || copy.of
        where site = @site
        """;

    private const string CopyJobsSql = """
        insert into job (
            site, label, version, intake_version, fold_version, stage, branch, variant, customer_id, watch_id, case_serial_key, movement_number_key,
            promised_on, taken_in_at, in_house, closed, document, intake)
        select site, copy.label, version, intake_version, fold_version, stage, branch, variant, customer_id || '-' || @step, watch_id || '-' || @step,
               case_serial_key || @step, movement_number_key || @step, promised_on, taken_in_at, in_house, closed, document, intake
        from job
        join copy on copy.step = @step and job.label = copy.of
        where site = @site
        """;

    /// <summary>Makes a thousand jobs of twenty entries or a little more.</summary>
    public static async Task<IReadOnlyList<Label>> Write(StorageSettings storage)
    {
        var prepared = await PreparedWorkshop.Make(storage, benches: 0, jobs: Written);
        using var database = new Database(storage);
        using var writer = new Writer(database, SystemClock.Instance, new WriterSettings(), NullLogger<Writer>.Instance);
        await writer.StartAsync(CancellationToken.None);
        foreach (var jobs in prepared.Jobs.Chunk(20))
        {
            await writer.Turn(Site, turn => Array.ForEach(jobs, job => Note(turn, job.Label)));
        }

        await writer.StopAsync(CancellationToken.None);
        return [.. prepared.Jobs.Select(job => job.Label)];
    }

    /// <summary>Copies each job so often.</summary>
    /// <returns>The labels of all jobs.</returns>
    public static IReadOnlyList<Label> Copy(StorageSettings storage, IReadOnlyList<Label> jobs, int times)
    {
        using var database = new Database(storage);
        using var connection = database.OpenWriter();
        var positions = connection.QuerySingle<long>("select max(position) from journal");
        var used = jobs.ToHashSet();
        using var fresh = Labels().Where(label => !used.Contains(label)).GetEnumerator();
        var all = jobs.ToList();
        connection.Execute("create temp table copy (step integer not null, of text not null, label text not null, primary key (step, of))");
        for (var step = 1; step <= times; step++)
        {
            using var transaction = connection.BeginTransaction();
            foreach (var of in jobs)
            {
                fresh.MoveNext();
                all.Add(fresh.Current);
                connection.Execute("insert into copy (step, of, label) values (@step, @of, @label)", new { step, of = $"{of}", label = $"{fresh.Current}" });
            }

            connection.Execute(CopyJournalSql, new { site = Site, step, positions });
            connection.Execute(CopyJobsSql, new { site = Site, step });
            transaction.Commit();
        }

        connection.Execute("update site set last_position = (select max(position) from journal)");
        connection.Execute("pragma wal_checkpoint(truncate)");
        return all;
    }

    private static void Note(Turn turn, Label label)
    {
        turn.SaveIntake(label, new IntakeSheet { Members = new IntakeMembers { Condition = "running, scratch at four o'clock" }, Accessories = [] }.Write());
        while (turn.History(label) is { } history && history.Job.Version < EntriesOfAJob)
        {
            var number = history.Job.Version;
            JobTurn.Decide(
                turn, history,
                new Incoming
                {
                    Id = new EventId("/devices/bench-1/1", $"{label}/{number}"),
                    Job = label,
                    Event = new NoteWritten { Text = "Pivot polished, jewel sound, end shake a touch more than it should be" },
                    Effective = turn.Now,
                    Received = turn.Now,
                    Live = true,
                },
                role: "bench");
        }
    }

    private static IEnumerable<Label> Labels()
    {
        var size = Label.Alphabet.Length;
        for (var number = 0; ; number++)
        {
            if (Label.Complete(LabelKind.Job, [1, 1 + number / (size * size * size) % (size - 1), number / (size * size) % size, number / size % size, number % size, 7]) is { } label)
            {
                yield return label;
            }
        }
    }
}
