using System.Data.Common;
using Dapper;

namespace Workshop.Service.Storage;

/// <summary>
/// Moves SQLite's log into the database file, on a connection of its own, so that no bench waits for it. PASSIVE asks nobody to
/// step aside: what a reader still needs is left for the next time. The log begins anew once all of it is in the file and nobody has
/// written meanwhile; with writes in every second that is so at the writer alone, which therefore moves the last few pages of a long log.
/// </summary>
public sealed partial class Checkpoints(Database database, ILogger<Checkpoints> log) : BackgroundService
{
    private const string Passive = "pragma wal_checkpoint(passive)";

    /// <summary>Pages of 4 KiB from which on a log is to begin anew: 64 MiB.</summary>
    private const long LongLog = 16_384;

    /// <summary>So few pages are left to the writer, or what is left after so many rounds: 4 MiB.</summary>
    private const long Few = 1024;
    private const int RoundsAtMost = 8;

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
                    database.LogIsLong = MoveMost(connection);
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

    // Each round moves what was written during the one before, which is less each time.
    private static bool MoveMost(DbConnection connection)
    {
        var (pages, moved) = Move(connection);
        for (var (round, before) = (1, 0L); pages > LongLog && pages - before > Few && round < RoundsAtMost; round++)
        {
            before = moved;
            (pages, moved) = Move(connection);
        }

        return pages > LongLog;
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
