using System.Data.Common;
using Dapper;

namespace Workshop.Service.Storage;

/// <summary>
/// Moves SQLite's log into the database file, on a connection of its own, so that no bench waits for it. PASSIVE asks nobody to
/// step aside: what a reader still needs is left for the next time.
/// </summary>
public sealed partial class Checkpoints(Database database, ILogger<Checkpoints> log) : BackgroundService
{
    private const string Passive = "pragma wal_checkpoint(passive)";

    /// <summary>Pages of 4 KiB that may wait before the writer itself is asked to let them be moved: 64 MiB.</summary>
    private const long LongLog = 16_384;

    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(1);

    protected override async Task ExecuteAsync(CancellationToken stop)
    {
        if (database.Engine != StorageEngine.Sqlite)
        {
            return;
        }

        using var timer = new PeriodicTimer(LookEvery);
        var moved = 0L;
        DbConnection? connection = null;
        try
        {
            while (await timer.WaitForNextTickAsync(stop))
            {
                var commits = database.Commits;
                if (commits == moved)
                {
                    continue;
                }

                try
                {
                    connection ??= database.OpenShortWriter();
                    var (pages, _) = Move(connection);
                    database.LogIsLong = pages > LongLog;
                    moved = commits;
                }
                catch (DbException failure)
                {
                    CheckpointFailed(failure);
                }
            }
        }
        finally
        {
            connection?.Dispose();
        }
    }

    /// <returns>Pages in the log, and how many of them are in the file now.</returns>
    internal static (long Pages, long Moved) Move(DbConnection connection)
    {
        var (_, pages, moved) = connection.QuerySingle<(long Busy, long Pages, long Moved)>(Passive);
        return (pages, moved);
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "The database's log was not moved into its file; the next attempt follows.")]
    private partial void CheckpointFailed(Exception failure);
}
