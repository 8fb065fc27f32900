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
    private const long WorthIt = 4 * 1024 * 1024;
    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan AtLatestEvery = TimeSpan.FromMinutes(1);

    protected override async Task ExecuteAsync(CancellationToken stop)
    {
        if (database.Engine != StorageEngine.Sqlite)
        {
            return;
        }

        using var timer = new PeriodicTimer(LookEvery);
        var looks = 0;
        while (await timer.WaitForNextTickAsync(stop))
        {
            looks++;
            if (LogLength(database) is var length and > 0 && (length >= WorthIt || looks * LookEvery >= AtLatestEvery))
            {
                looks = 0;
                try
                {
                    using var connection = database.OpenShortWriter();
                    Move(connection);
                }
                catch (DbException failure)
                {
                    CheckpointFailed(failure);
                }
            }
        }
    }

    /// <summary>Bytes in the log.</summary>
    internal static long LogLength(Database database) =>
        new FileInfo(database.FilePath + "-wal") is { Exists: true } file ? file.Length : 0;

    /// <returns>Pages in the log, and how many of them are in the file now.</returns>
    internal static (long Pages, long Moved) Move(DbConnection connection)
    {
        var (_, pages, moved) = connection.QuerySingle<(long Busy, long Pages, long Moved)>(Passive);
        return (pages, moved);
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "The database's log was not moved into its file; the next attempt follows.")]
    private partial void CheckpointFailed(Exception failure);
}
