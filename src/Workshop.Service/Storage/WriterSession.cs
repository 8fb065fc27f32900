using System.Data;
using System.Data.Common;
using System.Diagnostics;
using Dapper;
using NodaTime;

namespace Workshop.Service.Storage;

/// <summary>A request for a turn, with its answer.</summary>
internal abstract class TurnRequest(string site, CancellationToken cancel)
{
    public string Site => site;

    public bool GivenUp => cancel.IsCancellationRequested;

    /// <summary>Does the work; the answer is kept until the commit.</summary>
    public abstract void Work(Turn turn);

    /// <summary>It is committed: tells the caller.</summary>
    public abstract void Answer();

    public abstract void Fail(Exception failure);

    public abstract void GiveUp();

    protected CancellationToken Cancel => cancel;
}

internal sealed class TurnRequest<T>(string site, Func<Turn, T> work, CancellationToken cancel) : TurnRequest(site, cancel)
{
    private readonly TaskCompletionSource<T> done = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private T? answer;

    public Task<T> Done => done.Task;

    public override void Work(Turn turn) => answer = work(turn);

    public override void Answer() => done.TrySetResult(answer!);

    public override void Fail(Exception failure) => done.TrySetException(failure);

    public override void GiveUp() => done.TrySetCanceled(Cancel);
}

/// <summary>What a commit brought.</summary>
/// <param name="Position">The site's last position now.</param>
/// <param name="DueNow">A row was written that falls due by now.</param>
/// <param name="HasMessages">Something is to be told outside.</param>
/// <param name="Turns">How many turns shared it.</param>
/// <param name="Entries">How many entries were written.</param>
public readonly record struct Commit(string Site, long Position, bool DueNow, bool HasMessages = false, int Turns = 0, long Entries = 0);

/// <summary>
/// The writer's connection and what it remembers. Runs groups of requests: one transaction, the site's row locked once, one commit,
/// then the answers. Used by one thread at a time.
/// </summary>
internal sealed class WriterSession(Database database, IClock clock, int jobsInMemory) : IDisposable
{
    // Requests in one transaction, and the time after which no more are taken in. With larger groups all benches of a workshop would
    // wait for the same commit and the writer then for all of them; so one half is on its way while the other is written.
    private const int LargestGroup = 32;
    private static readonly TimeSpan LongestWork = TimeSpan.FromMilliseconds(20);

    // One text for both engines: on PostgreSQL it orders several instances, on SQLite it finds the site.
    private const string LockSiteSql = """
        update site
        set turns = turns + 1
        where id = @site
        returning last_position, last_hash, turns
        """;

    private const string SaveSiteSql = """
        update site
        set last_position = @last_position,
            last_hash = @last_hash
        where id = @site
        """;

    private static readonly HotSql LockSite = new(LockSiteSql, ("site", DbType.String));

    private static readonly HotSql SaveSite = new(SaveSiteSql, ("last_position", DbType.Int64), ("last_hash", DbType.Binary), ("site", DbType.String));

    private readonly Dictionary<string, SiteMemory> sites = new(StringComparer.Ordinal);
    private DbConnection? connection;
    private HotStatements? statements;
    private DbTransaction? transaction;

    public Outside Outside { get; init; } = Outside.Nobody;

    /// <summary>Told when everything of a group is written and nothing of it committed; where it throws, nothing is kept.</summary>
    public Action? AboutToCommit { get; set; }

    /// <summary>The last commit; its time is the answers' time.</summary>
    public Action<Commit>? Committed { get; set; }

    /// <summary>Requests that failed where nobody expected it.</summary>
    public Action<Exception>? Unexpected { get; set; }

    public DbConnection Connection => connection ??= database.OpenWriter();

    /// <summary>Runs a request and, with it, what <paramref name="next"/> has waiting for the same site. Never throws.</summary>
    public void Run(TurnRequest first, Func<string, TurnRequest?> next)
    {
        var group = new List<TurnRequest>(LargestGroup);
        try
        {
            Attempt(first, next, group);
        }
        catch (Exception failure)
        {
            RollBack();
            var cause = Unavailable(failure);
            if (cause is not null || group.Count == 1)
            {
                FailAll(group, cause ?? failure);
            }
            else
            {
                // No savepoints: each runs again by itself, and only the guilty one hears of it.
                foreach (var one in group)
                {
                    RunAlone(one);
                }
            }
        }
    }

    public void Dispose() => Close();

    private void RunAlone(TurnRequest one)
    {
        try
        {
            Attempt(one, _ => null, []);
        }
        catch (Exception failure)
        {
            RollBack();
            FailAll([one], Unavailable(failure) ?? failure);
        }
    }

    private void Attempt(TurnRequest first, Func<string, TurnRequest?> next, List<TurnRequest> taken)
    {
        taken.Add(first);
        var began = Stopwatch.GetTimestamp();
        var site = first.Site;
        var memory = sites.TryGetValue(site, out var known) ? known : sites[site] = new SiteMemory(jobsInMemory);
        var group = Begin(site, memory);
        var before = group.Position;

        var answered = new List<TurnRequest>(LargestGroup);
        for (var request = first; request is not null;)
        {
            if (request.GivenUp)
            {
                request.GiveUp();
            }
            else
            {
                request.Work(TurnOf(group));
                answered.Add(request);
            }

            request = taken.Count < LargestGroup && Stopwatch.GetElapsedTime(began) < LongestWork ? next(site) : null;
            if (request is not null)
            {
                taken.Add(request);
            }
        }

        CommitAll(group);
        foreach (var request in answered)
        {
            request.Answer();
        }

        Tell(new Commit(site, group.Position, group.DueNow, group.HasMessages, answered.Count, group.Position - before));
    }

    // It is committed and answered: whoever listens can no longer make it undone.
    private void Tell(Commit commit)
    {
        try
        {
            Committed?.Invoke(commit);
        }
        catch (Exception failure)
        {
            Unexpected?.Invoke(failure);
        }
    }

    private Turn TurnOf(Group group) => new(group, statements!, connection!, Microseconds.Truncated(clock.GetCurrentInstant()));

    private Group Begin(string site, SiteMemory memory)
    {
        var (position, hash, turns) = LockedSite(site);
        if (turns != memory.Turns + 1)
        {
            memory.Forget();
        }

        return new Group(site, memory, position, hash, turns) { Outside = Outside };
    }

    private (long Position, byte[] Hash, long Turns) LockedSite(string site)
    {
        // A connection that went stale while nobody wrote is found out here, where nothing is lost by beginning again.
        var fresh = connection is null;
        try
        {
            return BeginAndLock(site);
        }
        catch (Exception failure) when (!fresh && Unavailable(failure) is not null)
        {
            Close();
            return BeginAndLock(site);
        }
    }

    private (long Position, byte[] Hash, long Turns) BeginAndLock(string site)
    {
        statements ??= new HotStatements(Connection);
        if (database.Engine == StorageEngine.Postgres)
        {
            transaction = connection!.BeginTransaction(IsolationLevel.ReadCommitted);
        }
        else
        {
            // As statements, so that Dapper's commands need not carry a transaction object along.
            connection!.Execute("begin immediate");
        }

        using var reader = statements.Read(LockSite, site);
        return reader.Read()
            ? (reader.GetInt64(0), reader.GetFieldValue<byte[]>(1), reader.GetInt64(2))
            : throw new StorageNotReadyException($"There is no site '{site}' in the database.");
    }

    private void CommitAll(Group group)
    {
        var last = TurnOf(group);
        last.SaveJobs();
        last.SaveSources();
        if (group.HasEntries)
        {
            statements!.Write(SaveSite, group.Position, group.Hash, group.Site);
        }

        statements!.Flush();
        AboutToCommit?.Invoke();
        if (transaction is not null)
        {
            transaction.Commit();
            transaction.Dispose();
            transaction = null;
        }
        else
        {
            connection!.Execute("commit");
        }

        group.Commit();
    }

    private void RollBack()
    {
        try
        {
            statements?.Forget();
            if (transaction is not null)
            {
                transaction.Rollback();
                transaction.Dispose();
                transaction = null;
            }
            else if (connection is not null)
            {
                connection.Execute("rollback");
            }
        }
        catch (Exception)
        {
            // There was no transaction any more, or no connection: a new one is opened for the next group.
            Close();
        }
    }

    private void FailAll(List<TurnRequest> group, Exception failure)
    {
        if (failure is not StorageUnavailableException)
        {
            Unexpected?.Invoke(failure);
        }

        foreach (var one in group)
        {
            one.Fail(failure);
        }
    }

    private static StorageUnavailableException? Unavailable(Exception failure) =>
        Database.SaysUnavailable(failure) ? new StorageUnavailableException(failure) : null;

    private void Close()
    {
        try
        {
            transaction?.Dispose();
            statements?.Dispose();
            connection?.Dispose();
        }
        catch (Exception)
        {
            // It was broken; that is why it is closed. Whatever it says about that, the next group opens another.
        }

        transaction = null;
        statements = null;
        connection = null;
    }
}
