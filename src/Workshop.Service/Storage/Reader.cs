using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Data.Common;
using Dapper;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Service.Storage;

/// <summary>Reads beside the writer, on a bounded number of connections that cannot write. What is committed is seen.</summary>
public sealed class Reader(Database database) : IDisposable
{
    /// <summary>The most rows one page may have, whoever asks.</summary>
    public const int LongestPage = 500;

    private const string StreamSql = """
        select position, stream_version, source, id, received, effective, order_source, order_sequence,
               type, data, judged, disposition, flags, rules_version, caused_by_source, caused_by_id, sequence
        from journal
        where site = @site
          and stream = @stream
        """;

    private const string PageSql = """
        select site, position, stream, stream_version, source, id, sequence, device_time, received, effective, order_source, order_sequence,
               person, type, schema, data, salt, digest, judged, disposition, flags, rules_version, caused_by_source, caused_by_id, hash
        from journal
        where site = @site
          and position > @after
        order by position
        limit @limit
        """;

    private readonly SemaphoreSlim free = new(database.Readers);
    private readonly ConcurrentBag<DbConnection> idle = [];

    /// <summary>Reads with a connection of its own for as long as the work lasts; the work must not keep it.</summary>
    /// <exception cref="StorageUnavailableException">The database is out of reach.</exception>
    public async Task<T> Read<T>(Func<DbConnection, T> work, CancellationToken cancel = default)
    {
        await free.WaitAsync(cancel);
        DbConnection? connection = null;
        try
        {
            connection = idle.TryTake(out var kept) ? kept : database.OpenReader();
            var answer = work(connection);
            GiveBack(connection);
            return answer;
        }
        catch (Exception failure) when (Database.SaysUnavailable(failure))
        {
            connection?.Dispose();
            throw new StorageUnavailableException(failure);
        }
        catch
        {
            connection?.Dispose();
            throw;
        }
        finally
        {
            free.Release();
        }
    }

    public Task<IReadOnlyList<T>> Query<T>(string sql, object? parameters = null, CancellationToken cancel = default) =>
        Read<IReadOnlyList<T>>(connection => connection.Query<T>(sql, parameters).AsList(), cancel);

    public Task<T?> QueryFirst<T>(string sql, object? parameters = null, CancellationToken cancel = default) =>
        Read(connection => connection.QueryFirstOrDefault<T>(sql, parameters), cancel);

    /// <summary>A job folded from its stream, with its entries in the order of their places; null where there is none.</summary>
    public async Task<JobHistory?> History(string site, Label job, CancellationToken cancel = default)
    {
        var entries = await Read(connection => Entries(connection, site, job), cancel);
        return entries.IsEmpty ? null : new JobHistory(Job.Replay(job, entries), () => entries);
    }

    /// <summary>Who is signed on at a source at a moment; null where nobody is.</summary>
    public Task<SignedOn?> SignedOn(string site, string source, Instant at, CancellationToken cancel = default) => Read(connection =>
    {
        var effective = Microseconds.Of(at);
        using var reader = connection.ExecuteReader(SignOns.AtSql, new { site, source, effective, order_sequence = long.MaxValue });
        return SignOns.Read((DbDataReader)reader, effective);
    }, cancel);

    /// <summary>The journal after a position, in order; at most <see cref="LongestPage"/> rows.</summary>
    public Task<IReadOnlyList<JournalRow>> Journal(string site, long after, int limit, CancellationToken cancel = default) =>
        Read(connection => JournalPage(connection, site, after, Math.Clamp(limit, 1, LongestPage)), cancel);

    public void Dispose()
    {
        while (idle.TryTake(out var connection))
        {
            connection.Dispose();
        }

        free.Dispose();
    }

    internal static ImmutableArray<Entry> Entries(DbConnection connection, string site, Label job) => Entries(connection, site, StreamEntry.OfJob(job));

    internal static ImmutableArray<Entry> Entries(DbConnection connection, string site, string stream)
    {
        using var reader = connection.ExecuteReader(StreamSql, new { site, stream });
        return JournalTable.Read((DbDataReader)reader);
    }

    internal static IReadOnlyList<JournalRow> JournalPage(DbConnection connection, string site, long after, int limit) =>
        connection.Query<JournalRow>(PageSql, new { site, after, limit }).AsList();

    // On PostgreSQL the driver has a pool; on SQLite opening costs the pragmas and a warm cache.
    private void GiveBack(DbConnection connection)
    {
        if (database.Engine == StorageEngine.Sqlite)
        {
            idle.Add(connection);
        }
        else
        {
            connection.Dispose();
        }
    }
}
