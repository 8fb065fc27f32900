using System.Collections.Immutable;
using System.Data.Common;
using Dapper;
using Workshop.Core.Agenda;
using Workshop.Core.Gates;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Service.Storage;

/// <summary>What a check found; a sentence for each thing that is not as it should be.</summary>
public sealed record CheckReport(long Entries, long Jobs, IReadOnlyList<string> Differences)
{
    public bool Clean => Differences.Count == 0;
}

/// <summary>
/// Reads the whole journal again: is the chain whole, are positions and versions dense, do the digests hold? With <c>replay</c> also:
/// does every job fold to what its rows say? Opens the database for reading only, in one view of it, so also beside a running service.
/// </summary>
public sealed class CheckJournal(Database database)
{
    private const string SitesSql = """
        select id, last_position, last_hash
        from site
        order by id
        """;

    private const string JobsSql = """
        select label, version, fold_version, stage, branch, variant, customer_id, watch_id, case_serial_key, movement_number_key,
               promised_on, taken_in_at, in_house, closed, ready_at, document
        from job
        where site = @site
          and label > @after
        order by label
        limit @limit
        """;

    private const string HoldingsSql = """
        select piece, holder, from_at, until_at, opened_by_source, opened_by_id, closed_by_source, closed_by_id, run
        from holding
        where site = @site
          and job = @job
        """;

    private const string AgendaSql = """
        select kind, ref, due, task, wake, level, line
        from agenda
        where site = @site
          and stream = @stream
        """;

    private const string LabelsSql = """
        select label, names
        from label
        where site = @site
          and names like 'job/%'
        """;

    private const string RowsWithoutJobSql = """
        select 'holding of ' || job as what
        from holding
        where site = @site
          and not exists (select 1 from job where job.site = holding.site and job.label = holding.job)
        union all
        select 'part moved for ' || job
        from part_move
        where site = @site
          and not exists (select 1 from job where job.site = part_move.site and job.label = part_move.job)
        union all
        select 'worn rate of ' || job
        from worn_rate
        where site = @site
          and not exists (select 1 from job where job.site = worn_rate.site and job.label = worn_rate.job)
        union all
        select 'rate mean of ' || job
        from rate_mean
        where site = @site
          and not exists (select 1 from job where job.site = rate_mean.site and job.label = rate_mean.job)
        union all
        select 'agenda row of ' || stream
        from agenda
        where site = @site
          and stream like 'job/%'
          and not exists (select 1 from job where job.site = agenda.site and job.label = substr(agenda.stream, 5))
        """;

    public CheckReport Run(bool replay)
    {
        using var connection = database.OpenReader();

        // One view of the whole database, whatever is written meanwhile.
        connection.Execute(database.Engine == StorageEngine.Postgres ? "begin isolation level repeatable read, read only" : "begin deferred");
        var findings = new List<string>();
        var entries = 0L;
        var jobs = 0L;
        foreach (var site in connection.Query<SiteRow>(SitesSql).AsList())
        {
            var streams = CheckChain(connection, site, findings);
            entries += streams.Values.Sum();
            if (replay)
            {
                jobs += CheckFolds(connection, site.Id, streams, findings);
                CheckRuns(connection, site.Id, streams, findings);
            }
        }

        connection.Execute("rollback");
        return new CheckReport(entries, jobs, findings);
    }

    private static Dictionary<string, long> CheckChain(DbConnection connection, SiteRow site, List<string> findings)
    {
        var streams = new Dictionary<string, long>(StringComparer.Ordinal);
        var position = 0L;
        var hash = ChainHash.Beginning;
        while (Reader.JournalPage(connection, site.Id, position, Reader.LongestPage) is [_, ..] page)
        {
            foreach (var row in page)
            {
                if (row.Position != position + 1)
                {
                    findings.Add($"Site {site.Id}: after position {position} comes {row.Position}.");
                }

                position = row.Position;
                CheckEntry(row, hash, streams.GetValueOrDefault(row.Stream), findings);
                streams[row.Stream] = row.StreamVersion;
                hash = row.Hash;
            }
        }

        if (position != site.LastPosition)
        {
            findings.Add($"Site {site.Id}: the journal ends at position {position}, the site says {site.LastPosition}.");
        }

        if (!hash.AsSpan().SequenceEqual(site.LastHash))
        {
            findings.Add($"Site {site.Id}: the last hash of the journal is not the one the site keeps.");
        }

        return streams;
    }

    private static void CheckEntry(JournalRow row, byte[] previousHash, long previousVersion, List<string> findings)
    {
        if (row.StreamVersion != previousVersion + 1)
        {
            findings.Add($"Position {row.Position}: in {row.Stream} version {row.StreamVersion} follows {previousVersion}.");
        }

        // Without salt the data were erased; the digest stays, so that the chain stays whole.
        if (row.Salt is { } salt && !ChainHash.Digest(salt, row.Data).AsSpan().SequenceEqual(row.Digest))
        {
            findings.Add($"Position {row.Position}: the data are not those that were accepted.");
        }

        if (!ChainHash.Next(previousHash, row.ToLink()).AsSpan().SequenceEqual(row.Hash))
        {
            findings.Add($"Position {row.Position}: the hash does not follow from this entry and the one before it.");
        }
    }

    private static long CheckFolds(DbConnection connection, string site, Dictionary<string, long> streams, List<string> findings)
    {
        var rules = ShopRulesReader.Read(connection, site);
        var unseen = streams.Keys.Where(stream => stream.StartsWith("job/", StringComparison.Ordinal)).ToHashSet(StringComparer.Ordinal);
        var jobs = 0L;
        var labels = connection.Query<(string Label, string Names)>(LabelsSql, new { site }).ToDictionary(row => row.Label, row => row.Names, StringComparer.Ordinal);
        var after = "";
        while (connection.Query<JobRow>(JobsSql, new { site, after, limit = Reader.LongestPage }).AsList() is [_, ..] page)
        {
            foreach (var row in page)
            {
                jobs++;
                after = row.Label;
                var label = Label.Read(row.Label);
                var stream = StreamEntry.OfJob(label);
                unseen.Remove(stream);
                var job = Job.Replay(label, Reader.Entries(connection, site, label));
                Compare(row, job, findings);
                CompareHoldings(job, connection, site, findings);
                ComparePartMoves(job, connection, site, findings);
                CompareCauses(job, connection, site, findings);
                Compare(job, RateRows.WornOf(connection, site, job.Label), job.Rates.Worn, findings);
                Compare(job, RateRows.MeansOf(connection, site, job.Label), job.Rates.Means, findings);
                CompareLabels(job, labels, findings);
                CompareAgenda(job, AgendaPlan.For(job, rules), connection, site, findings);
            }
        }

        findings.AddRange(labels.OrderBy(row => row.Key, StringComparer.Ordinal).Select(row => $"The label {row.Key} is bound to {row.Value}, of which no entry says so."));
        findings.AddRange(unseen.Order(StringComparer.Ordinal).Select(stream => $"{stream} has entries and no row."));
        findings.AddRange(connection.Query<string>(RowsWithoutJobSql, new { site }).Select(what => $"There is a {what}, which does not exist."));
        return jobs;
    }

    private static void CheckRuns(DbConnection connection, string site, Dictionary<string, long> streams, List<string> findings)
    {
        var unseen = streams.Keys.Where(stream => stream.StartsWith("run/", StringComparison.Ordinal)).ToHashSet(StringComparer.Ordinal);
        foreach (var row in RunTable.All(connection, site).ToArray())
        {
            unseen.Remove($"run/{row.Id}");
            if (RunTable.Folded(connection, site, row.Id) is var folded && folded != row)
            {
                findings.Add($"Run {row.Id}: its row says {row}, its entries {folded}.");
            }
        }

        findings.AddRange(unseen.Order(StringComparer.Ordinal).Select(stream => $"{stream} has entries and no row."));
    }

    private static void Compare(JobRow row, Job job, List<string> findings)
    {
        if (row.Version != job.Version)
        {
            findings.Add($"Job {row.Label}: its row is at version {row.Version}, its stream at {job.Version}.");
        }

        if (row.FoldVersion != JobDocument.FoldVersion)
        {
            findings.Add($"Job {row.Label}: folded as of {row.FoldVersion}; this program folds as of {JobDocument.FoldVersion}.");
        }

        if (row.Document != JobDocument.Of(job))
        {
            findings.Add($"Job {row.Label}: its document is not what its entries fold to.");
        }

        if (row.Columns != JobColumns.Of(job))
        {
            findings.Add($"Job {row.Label}: its columns say {row.Columns}, its entries {JobColumns.Of(job)}.");
        }
    }

    private static void CompareHoldings(Job job, DbConnection connection, string site, List<string> findings)
    {
        using var reader = connection.ExecuteReader(HoldingsSql, new { site, job = job.Label.ToString() });
        var rows = JobTable.ReadHoldings((DbDataReader)reader);
        findings.AddRange(rows.Except(job.Holdings).Select(one => $"Job {job.Label}: the row {one} is not in the fold."));
        findings.AddRange(job.Holdings.Except(rows).Select(one => $"Job {job.Label}: {one} has no row."));
    }

    private static void ComparePartMoves(Job job, DbConnection connection, string site, List<string> findings)
    {
        using var reader = connection.ExecuteReader(PartMoves.OfJobSql, new { site, job = job.Label.ToString() });
        Compare(job, PartMoves.Read((DbDataReader)reader), job.Parts.Moves, findings);
    }

    private static void CompareCauses(Job job, DbConnection connection, string site, List<string> findings)
    {
        using var reader = connection.ExecuteReader(StopCauses.OfJobSql, new { site, job = job.Label.ToString() });
        Compare(job, StopCauses.Read((DbDataReader)reader), job.Stops.Causes, findings);
    }

    private static void Compare<T>(Job job, ImmutableArray<T> rows, ImmutableArray<T> folded, List<string> findings)
    {
        findings.AddRange(rows.Except(folded).Select(one => $"Job {job.Label}: the row {one} is not in the fold."));
        findings.AddRange(folded.Except(rows).Select(one => $"Job {job.Label}: {one} has no row."));
    }

    // What is left over when all jobs have been asked follows from nothing.
    private static void CompareLabels(Job job, Dictionary<string, string> rows, List<string> findings)
    {
        var own = job.Label.ToString();
        if (rows.GetValueOrDefault(own) == LabelGates.NameOf(job.Label, piece: null))
        {
            rows.Remove(own);
        }

        foreach (var one in job.Labels.Attached.Where(one => one.Label != job.Label))
        {
            var names = LabelGates.NameOf(job.Label, one.Piece);
            if (!rows.Remove(one.Label.ToString(), out var bound) || bound != names)
            {
                findings.Add($"Job {job.Label}: its label {one.Label} is bound to '{bound}'; its entries say {names}.");
            }
        }
    }

    private static void CompareAgenda(Job job, ImmutableArray<AgendaRow> agenda, DbConnection connection, string site, List<string> findings)
    {
        using var reader = connection.ExecuteReader(AgendaSql, new { site, stream = StreamEntry.OfJob(job.Label) });
        var rows = JobTable.ReadAgenda((DbDataReader)reader);
        findings.AddRange(rows.Except(agenda).Select(row => $"Job {job.Label}: the row {row} does not follow from the job."));
        findings.AddRange(agenda.Except(rows).Select(row => $"Job {job.Label}: {row} has no row."));
    }

    private sealed record SiteRow
    {
        public required string Id { get; init; }

        public required long LastPosition { get; init; }

        public required byte[] LastHash { get; init; }
    }

    private sealed record JobRow
    {
        public required string Label { get; init; }

        public required long Version { get; init; }

        public required long FoldVersion { get; init; }

        public string? Stage { get; init; }

        public string? Branch { get; init; }

        public string? Variant { get; init; }

        public string? CustomerId { get; init; }

        public string? WatchId { get; init; }

        public string? CaseSerialKey { get; init; }

        public string? MovementNumberKey { get; init; }

        public string? PromisedOn { get; init; }

        public long? TakenInAt { get; init; }

        public required long InHouse { get; init; }

        public required long Closed { get; init; }

        public long? ReadyAt { get; init; }

        public required string Document { get; init; }

        public JobColumns Columns => new()
        {
            Stage = Stage,
            Branch = Branch,
            Variant = Variant,
            CustomerId = CustomerId,
            WatchId = WatchId,
            CaseSerialKey = CaseSerialKey,
            MovementNumberKey = MovementNumberKey,
            PromisedOn = PromisedOn,
            TakenInAt = TakenInAt,
            InHouse = InHouse,
            Closed = Closed,
            ReadyAt = ReadyAt,
        };
    }
}
