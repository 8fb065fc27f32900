using System.Data.Common;
using Dapper;
using Microsoft.Data.Sqlite;
using Npgsql;

namespace Workshop.Service.Storage;

/// <summary>The database of this workshop: opens connections, each with what its engine needs to be durable.</summary>
public sealed class Database : IDisposable
{
    public const string FileName = "workshop.db";
    public const string LockName = "workshop.lock";

    /// <summary>How long a statement waits for a lock of somebody else, be it a key added by hand.</summary>
    private const int BusyMilliseconds = 5000;

    // A commit is on the disk before it is answered. The log is moved into the file by Checkpoints alone, so that no bench waits for it.
    private const string WriterPragmas = """
        pragma journal_mode = wal;
        pragma synchronous = full;
        pragma foreign_keys = on;
        pragma busy_timeout = 5000;
        pragma wal_autocheckpoint = 0;
        pragma cache_size = -16384;
        pragma temp_store = memory;
        """;

    private const string ShortWriterPragmas = """
        pragma synchronous = full;
        pragma foreign_keys = on;
        pragma busy_timeout = 5000;
        pragma wal_autocheckpoint = 0;
        """;

    private const string ReaderPragmas = """
        pragma foreign_keys = on;
        pragma busy_timeout = 5000;
        pragma query_only = on;
        pragma cache_size = -16384;
        pragma temp_store = memory;
        """;

    private readonly StorageSettings settings;
    private readonly Lazy<NpgsqlDataSource> postgresWriters;
    private readonly Lazy<NpgsqlDataSource> postgresReaders;
    private readonly Lock lockGate = new();
    private FileStream? lockFile;
    private long commits;
    private bool logIsLong;

    static Database() => DefaultTypeMap.MatchNamesWithUnderscores = true;

    public Database(StorageSettings settings)
    {
        if (settings.Faults().FirstOrDefault() is { } fault)
        {
            throw new StorageNotReadyException(fault);
        }

        this.settings = settings;
        postgresWriters = new(() => NpgsqlDataSource.Create(PostgresConnection(readOnly: false)));
        postgresReaders = new(() => NpgsqlDataSource.Create(PostgresConnection(readOnly: true)));
    }

    public StorageEngine Engine => settings.Engine;

    public int Readers => settings.Readers;

    /// <summary>Commits of this process, for whoever looks whether there is anything to move.</summary>
    internal long Commits => Interlocked.Read(ref commits);

    internal void CountCommit() => Interlocked.Increment(ref commits);

    /// <summary>SQLite's log has grown so long that the writer should wait for it to be moved.</summary>
    internal bool LogIsLong
    {
        get => Volatile.Read(ref logIsLong);
        set => Volatile.Write(ref logIsLong, value);
    }

    /// <summary>SQLite's file.</summary>
    public string FilePath => Path.Combine(settings.Path, FileName);

    /// <summary>Keeps every other process from writing to this directory for as long as this object lives. PostgreSQL needs no such thing.</summary>
    /// <exception cref="StorageNotReadyException">Somebody else has it.</exception>
    public void TakeLock()
    {
        if (Engine != StorageEngine.Sqlite)
        {
            return;
        }

        lock (lockGate)
        {
            if (lockFile is not null)
            {
                return;
            }

            Directory.CreateDirectory(settings.Path);
            try
            {
                lockFile = new FileStream(Path.Combine(settings.Path, LockName), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            }
            catch (IOException cause)
            {
                throw new StorageNotReadyException($"Another workshop process works in '{Path.GetFullPath(settings.Path)}'; stop it first, or give this one another Storage:Path.", cause);
            }
        }
    }

    /// <summary>The writer's own connection, to be kept open. On SQLite the file is made when it is missing.</summary>
    public DbConnection OpenWriter() =>
        Engine == StorageEngine.Postgres ? postgresWriters.Value.OpenConnection() : OpenSqlite(SqliteOpenMode.ReadWriteCreate, pooled: false, WriterPragmas);

    /// <summary>For a short write beside the writer, such as a key added by hand, or a checkpoint.</summary>
    public DbConnection OpenShortWriter() =>
        Engine == StorageEngine.Postgres ? postgresWriters.Value.OpenConnection() : OpenSqlite(SqliteOpenMode.ReadWrite, pooled: false, ShortWriterPragmas);

    /// <summary>A connection that cannot write.</summary>
    /// <exception cref="StorageNotReadyException">On SQLite: there is no database yet.</exception>
    public DbConnection OpenReader()
    {
        if (Engine == StorageEngine.Postgres)
        {
            return postgresReaders.Value.OpenConnection();
        }

        return File.Exists(FilePath)
            ? OpenSqlite(SqliteOpenMode.ReadOnly, pooled: false, ReaderPragmas)
            : throw new StorageNotReadyException($"There is no database in '{Path.GetFullPath(settings.Path)}' yet; run the sub-command migrate first.");
    }

    /// <summary>For the migrations, which open and close connections of their own.</summary>
    internal string ConnectionString =>
        Engine == StorageEngine.Postgres ? PostgresConnection(readOnly: false) : SqliteConnectionString(SqliteOpenMode.ReadWriteCreate, pooled: false);

    /// <summary>Whether a failure says that the database is out of reach or busy, not that the request was wrong.</summary>
    internal static bool SaysUnavailable(Exception failure) => failure switch
    {
        SqliteException { SqliteErrorCode: SqliteBusy or SqliteLocked or SqliteInputOutput or SqliteFull } => true,
        PostgresException refused => refused.IsTransient || refused.SqlState.StartsWith("57P", StringComparison.Ordinal),
        NpgsqlException => true,
        _ => false,
    };

    public void Dispose()
    {
        lockFile?.Dispose();
        if (postgresWriters.IsValueCreated)
        {
            postgresWriters.Value.Dispose();
        }

        if (postgresReaders.IsValueCreated)
        {
            postgresReaders.Value.Dispose();
        }
    }

    private const int SqliteBusy = 5;
    private const int SqliteLocked = 6;
    private const int SqliteInputOutput = 10;
    private const int SqliteFull = 13;

    private SqliteConnection OpenSqlite(SqliteOpenMode mode, bool pooled, string pragmas)
    {
        if (mode == SqliteOpenMode.ReadWriteCreate)
        {
            Directory.CreateDirectory(settings.Path);
        }

        var connection = new SqliteConnection(SqliteConnectionString(mode, pooled));
        try
        {
            connection.Open();
            using var command = connection.CreateCommand();
            command.CommandText = pragmas;
            command.ExecuteNonQuery();
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private string SqliteConnectionString(SqliteOpenMode mode, bool pooled) => new SqliteConnectionStringBuilder
    {
        DataSource = FilePath,
        Mode = mode,
        Pooling = pooled,
        DefaultTimeout = BusyMilliseconds / 1000,
    }.ConnectionString;

    private string PostgresConnection(bool readOnly)
    {
        var wanted = new NpgsqlConnectionStringBuilder(settings.Postgres) { Enlist = false };

        // What is asked again and again is prepared by itself.
        wanted.MaxAutoPrepare = wanted.MaxAutoPrepare == 0 ? 200 : wanted.MaxAutoPrepare;
        wanted.AutoPrepareMinUsages = 2;
        wanted.ApplicationName ??= "workshop";
        if (readOnly)
        {
            wanted.Options = $"{wanted.Options} -c default_transaction_read_only=on".Trim();
            wanted.MaxPoolSize = Math.Min(wanted.MaxPoolSize, settings.Readers + 2);
        }

        return wanted.ConnectionString;
    }
}
