using System.Collections.Immutable;
using System.Data.Common;
using System.Security.Cryptography;
using Dapper;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Casing;
using Workshop.Core.Corrections;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Shop;

namespace Workshop.Service.Storage;

/// <summary>
/// One request's turn at writing: nobody else writes meanwhile, what it reads is what it will be judged by, and everything it
/// writes is kept together or not at all. It lives on the writer's thread and is over when the work returns; do not keep it.
/// </summary>
/// <remarks>
/// The work may run twice: when another request of the same group fails, the group starts anew. So it changes nothing but the turn,
/// and awaits nothing.
/// </remarks>
public sealed partial class Turn
{
    private const string IntakeSql = """
        select intake as text, intake_version as version
        from job
        where site = @site
          and label = @label
        """;

    private const string SaveIntakeSql = """
        update job
        set intake = @intake,
            own_number = @own_number,
            own_number_key = @own_number_key,
            intake_version = intake_version + 1
        where site = @site
          and label = @label
        """;

    private const string OpenJobsSql = """
        select label
        from job
        where site = @site
          and closed = 0
        order by label
        """;

    private readonly Group group;
    private readonly HotStatements statements;
    private readonly DbConnection connection;
    private Func<LabelKind, Label> draw = Labels.Draw;

    internal Turn(Group group, HotStatements statements, DbConnection connection, Instant now)
    {
        this.group = group;
        this.statements = statements;
        this.connection = connection;
        Now = now;
    }

    public string Site => group.Site;

    /// <summary>Whoever tells outside what becomes of jobs.</summary>
    public Outside Outside => group.Outside;

    /// <summary>The moment of receipt, read once; whole microseconds.</summary>
    public Instant Now { get; }

    /// <summary>The same turn at another moment: a demo lives through weeks in few commits.</summary>
    /// <param name="draw">Where its labels come from instead of chance.</param>
    internal Turn At(Instant moment, Func<LabelKind, Label>? draw = null) =>
        new(group, statements, connection, Microseconds.Truncated(moment)) { draw = draw ?? this.draw };

    /// <summary>The shop's rules in force.</summary>
    public ShopRules Rules
    {
        get
        {
            if (group.Rules is null)
            {
                statements.Flush();
                group.Rules = ShopRulesReader.Read(connection, Site);
            }

            return group.Rules;
        }
    }

    /// <summary>The shop's rules as they were at an earlier version.</summary>
    public ShopRules RulesAsOf(long version)
    {
        statements.Flush();
        return ShopRulesReader.Read(connection, Site, version);
    }

    /// <summary>The next free position of the site.</summary>
    public long NextPosition => group.Position + 1;

    /// <summary>A job as it stands now, with what this turn and its group have done already; null where there is none.</summary>
    public JobHistory? History(Label job) => Held(job) is { } held ? new JobHistory(held.Job, () => Entries(job)) : null;

    /// <summary>The version the next entry of a job takes; 1 for a job that does not exist yet.</summary>
    public long NextStreamVersion(Label job) => (Held(job)?.Job.Version ?? 0) + 1;

    /// <summary>The version the next entry of a stream takes.</summary>
    public long NextStreamVersion(string stream) => JobOf(stream) is { } job ? NextStreamVersion(job) : LastVersion(stream) + 1;

    /// <summary>Writes what was decided.</summary>
    /// <param name="sent">The event as its sender wrote it; its data are kept byte for byte in the entry of the same identity.</param>
    public void Append(Decision decision, AsSent? sent = null)
    {
        foreach (var one in decision.Entries)
        {
            var stream = JobOf(one.Stream);
            Insert(one, sent);
            if (stream is { } job)
            {
                // The decision brings its own job along, folded; another one it speaks of is folded here.
                var held = Held(job) ?? HeldJob.New(job);
                group.Change(job == decision.Job.Label ? held with { Job = Upto(decision.Job, held.Job, one) } : held with { Job = Fold(held.Job, one) });
            }
        }

        if (decision.Entries.Length > 0 && Held(decision.Job.Label) is { } own && !ReferenceEquals(own.Job, decision.Job))
        {
            Same(own.Job.Version, decision.Job.Version, $"the job {decision.Job.Label} as decided");
            group.Change(own with { Job = decision.Job });
        }
    }

    /// <summary>Writes entries that no decision was needed for; jobs are folded, a new one begins with its first entry.</summary>
    public void Append(IReadOnlyList<StreamEntry> entries, AsSent? sent = null)
    {
        foreach (var one in entries)
        {
            var stream = JobOf(one.Stream);
            var held = stream is { } job ? Held(job) ?? HeldJob.New(job) : null;
            Insert(one, sent);
            if (held is not null)
            {
                group.Change(held with { Job = Fold(held.Job, one) });
            }
        }
    }

    /// <summary>An entry at the next free position and version, for <see cref="Append(IReadOnlyList{StreamEntry}, AsSent?)"/> one at a time.</summary>
    /// <param name="effective">When it happened; now when left out.</param>
    /// <param name="received">When it came; now when left out.</param>
    public StreamEntry Compose(
        string stream, EventId id, WorkshopEvent one, Judged? judged = null, Instant? effective = null, EventId? causedBy = null,
        long orderSequence = 0, Instant? received = null, ImmutableArray<string>? flags = null) =>
        new(stream, new Entry
        {
            Id = id,
            Place = new Place(effective ?? Now, id.Source, orderSequence, NextPosition),
            StreamVersion = NextStreamVersion(stream),
            Received = received ?? Now,
            Event = one,
            Judged = judged ?? Judged.Nothing,
            Flags = flags ?? [],
            RulesVersion = Rules.Version,
            CausedBy = causedBy,
        });

    public ReceivedEvent? FindReceived(EventId id) => group.Received(id) ?? ReceivedTable.Find(statements, Site, id);

    public void SaveReceived(ReceivedEvent one)
    {
        group.Remember(one);
        ReceivedTable.Save(statements, Site, one);
    }

    /// <summary>The event of a source that waits with the lowest number; null where none does.</summary>
    public ReceivedEvent? FirstHeld(string source) => ReceivedTable.FirstHeld(statements, Site, source);

    /// <summary>What is remembered of a source; one seen for the first time begins anew.</summary>
    public SourceState Source(string source)
    {
        if (group.Source(source) is { } known)
        {
            return known;
        }

        var state = SourceTable.Find(statements, Site, source);
        group.HoldSource(state);
        return state;
    }

    /// <summary>What is remembered of a source from now on; written once for all that the group says of it.</summary>
    public void SaveSource(SourceState state) => group.ChangeSource(state);

    /// <summary>The effective times of a source's entries with the numbers next below and above one; null where there is none.</summary>
    public (Instant? Below, Instant? Above) Neighbours(string source, long sequence) => SourceTable.Neighbours(statements, Site, source, sequence);

    /// <summary>Writes a message to be sent once this is committed; one of the same id that is there already stays as it is.</summary>
    /// <returns>Whether it is new.</returns>
    public bool Put(OutboxMessage message)
    {
        var isNew = Execute(Outbox.PutSql, new
        {
            site = Site,
            id = message.Id,
            type = message.Type,
            stream = message.Stream,
            body = message.Body,
            created = Microseconds.Of(Now),
            not_before = Microseconds.Of(message.NotBefore),
            storefront = message.Storefront,
        }) == 1;
        if (isNew)
        {
            Execute(Outbox.CountSql, new { site = Site });
            group.HasMessages = true;
        }

        return isNew;
    }

    /// <summary>Whoever sends messages looks again once this is committed.</summary>
    public void CallSender() => group.HasMessages = true;

    /// <summary>A message whose reason has passed is sent to nobody any more; whoever has it has it.</summary>
    public void Withdraw(string message) => Execute(Outbox.WithdrawSql, new { site = Site, id = message, now = Microseconds.Of(Now) });

    /// <summary>
    /// Who was signed on at a source, at a place in its own order: by effective time, then by its numbers. It ends with the day, or with
    /// whoever signs on or off there next. Null where nobody was.
    /// </summary>
    public SignedOn? SignedOn(string source, Instant effective, long orderSequence)
    {
        var at = Microseconds.Of(effective);
        using var reader = statements.Read(SignOns.At, Site, source, at, orderSequence);
        return SignOns.Read(reader, at);
    }

    /// <summary>Keeps that somebody signed on, or off: <paramref name="person"/> is null.</summary>
    /// <param name="until">The end of the day on which it was.</param>
    /// <param name="proof">When the proof that was told and found right had been given out.</param>
    public void SignOn(EventId id, Instant effective, long orderSequence, string? person, Instant until, Instant? proof) => Execute(SignOns.PutSql, new
    {
        site = Site,
        source = id.Source,
        effective = Microseconds.Of(effective),
        order_sequence = orderSequence,
        id = id.Id,
        person,
        until = Microseconds.Of(until),
        proof = Microseconds.Of(proof),
    });

    /// <summary>The part of a job that a person edits, and its version; null where there is no such job.</summary>
    public IntakePart? Intake(Label job) => QueryFirst<IntakePart>(IntakeSql, new { site = Site, label = job.ToString() });

    /// <summary>Saves the part of a job that a person edits; its version counts up by one.</summary>
    /// <param name="ownNumber">The number of the shop's own paper book, which it is found by.</param>
    public void SaveIntake(Label job, string intake, string? ownNumber = null)
    {
        if (Execute(SaveIntakeSql, new { site = Site, label = job.ToString(), intake, own_number = ownNumber, own_number_key = WatchNumber.Key(ownNumber) }) != 1)
        {
            throw new InvalidOperationException($"There is no job {job}.");
        }
    }

    /// <summary>Calendar, people, benches or figures have changed: what is due in open jobs and in the house is computed anew.</summary>
    public void RefreshAgendas()
    {
        HouseAgenda.Refresh(this);
        foreach (var label in OpenJobs())
        {
            group.Change(Held(label)!);
        }
    }

    /// <summary>Every job that is not closed, by label.</summary>
    public IReadOnlyList<Label> OpenJobs() => [.. Query<string>(OpenJobsSql, new { site = Site }).Select(Label.Read)];

    /// <summary>Writes the rows of a job anew, from its stream.</summary>
    internal void Refold(Label job) =>
        group.Change(Held(job)?.Doubted() ?? throw new InvalidOperationException($"There are no entries of the job {job}."));

    /// <summary>Runs a statement of a feature's own store, after all that this group has written.</summary>
    /// <returns>The number of rows it concerned.</returns>
    public int Execute(string sql, object? parameters = null)
    {
        Flush();
        return connection.Execute(sql, parameters);
    }

    public IReadOnlyList<T> Query<T>(string sql, object? parameters = null)
    {
        Flush();
        return connection.Query<T>(sql, parameters).AsList();
    }

    public T? QueryFirst<T>(string sql, object? parameters = null)
    {
        Flush();
        return connection.QueryFirstOrDefault<T>(sql, parameters);
    }

    /// <summary>Writes the rows of the jobs that were changed; on PostgreSQL they still wait to be sent.</summary>
    internal void SaveJobs()
    {
        if (group.Dirty.Count == 0)
        {
            return;
        }

        var rules = Rules;
        foreach (var label in group.Dirty)
        {
            var held = group.Find(label)!;
            var (saved, dueNow) = JobTable.Save(statements, Site, held, AgendaPlan.For(held.Job, rules), Now);
            group.Hold(saved);
            group.DueNow |= dueNow;
        }

        group.Saved();
    }

    /// <summary>Writes what is remembered of sources; nothing else reads it within the group.</summary>
    internal void SaveSources()
    {
        foreach (var source in group.ChangedSources)
        {
            SourceTable.Save(statements, Site, group.Source(source)!);
        }

        group.SavedSources();
    }

    private void Flush()
    {
        SaveJobs();
        statements.Flush();
    }

    private HeldJob? Held(Label job)
    {
        if (group.Find(job) is { } held)
        {
            return held;
        }

        var entries = Entries(job);
        if (entries.IsEmpty)
        {
            return null;
        }

        held = new HeldJob(Job.Replay(job, entries));
        group.Hold(held);
        return held;
    }

    /// <summary>The entries of a stream, in the order of their places.</summary>
    internal ImmutableArray<Entry> EntriesOf(string stream)
    {
        using var reader = statements.Read(JournalTable.Stream, Site, stream);
        return JournalTable.Read(reader);
    }

    /// <summary>Writes the agenda rows of the house where they differ.</summary>
    internal void SaveHouseAgenda(ImmutableArray<AgendaRow> rows) => group.DueNow |= JobTable.SaveAgendaOf(statements, Site, Core.House.House.Stream, rows, Now);

    private ImmutableArray<Entry> Entries(Label job) => EntriesOf(StreamEntry.OfJob(job));

    private void Insert(StreamEntry one, AsSent? sent)
    {
        var entry = one.Entry;
        Same(entry.Position, NextPosition, "position");
        Same(entry.StreamVersion, NextStreamVersion(one.Stream), $"version in {one.Stream}");
        var hash = JournalTable.Insert(statements, Site, one, sent, group.Hash, RandomNumberGenerator.GetBytes(ChainHash.Length));
        group.Wrote(entry.Position, hash);
        if (JobOf(one.Stream) is not null)
        {
            return;
        }

        group.SetStreamVersion(one.Stream, entry.StreamVersion);
        if (one.Stream == ShopDocuments.Stream)
        {
            group.RulesChanged();
        }
    }

    private Job Fold(Job job, StreamEntry one) =>
        Reckoning.Changes(one.Entry) || (job.Last is { } last && one.Entry.Place.CompareTo(last) < 0) ? Job.Replay(job.Label, Entries(job.Label)) : job.Apply(one.Entry);

    // Until the decision's last entry is written the versions count up without folding what the decision has folded already.
    private static Job Upto(Job decided, Job before, StreamEntry one) =>
        one.Entry.StreamVersion == decided.Version ? decided : before with { Version = one.Entry.StreamVersion };

    private long LastVersion(string stream)
    {
        if (group.StreamVersion(stream) is { } known)
        {
            return known;
        }

        using var reader = statements.Read(JournalTable.LastVersion, Site, stream);
        var version = reader.Read() ? reader.GetInt64(0) : 0;
        group.SetStreamVersion(stream, version);
        return version;
    }

    private static Label? JobOf(string stream) =>
        stream.StartsWith("job/", StringComparison.Ordinal) ? Label.Read(stream[4..]) : null;

    private static void Same(long given, long expected, string what)
    {
        if (given != expected)
        {
            throw new InvalidOperationException($"The {what} is {given}; the next is {expected}.");
        }
    }
}
