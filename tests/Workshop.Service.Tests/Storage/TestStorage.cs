using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Storage;

/// <summary>A migrated database of a test's own with its writer and reader, on either engine.</summary>
public sealed class TestStorage : IAsyncDisposable
{
    public const string Site = Migrations.FirstSite;

    /// <summary>Mon 2 Mar 2026, 10:00 in Zurich.</summary>
    public static readonly Instant Monday = Instant.FromUtc(2026, 3, 2, 9, 0);

    private static readonly Lazy<string> MigratedOnce = new(MigrateOnce);

    private readonly string folder;
    private readonly PostgresDatabase? postgres;
    private readonly List<IAsyncDisposable> others = [];

    private TestStorage(StorageEngine engine, string folder, PostgresDatabase? postgres)
    {
        this.folder = folder;
        this.postgres = postgres;
        Settings = new StorageSettings { Engine = engine, Path = folder, Postgres = postgres?.ConnectionString };
        Database = new Database(Settings);
        Reader = new Reader(Database);
        Writer = NewWriter(Database);
    }

    public StorageSettings Settings { get; }

    public FakeClock Clock { get; } = new(Monday);

    public Database Database { get; }

    public Writer Writer { get; }

    public Reader Reader { get; }

    public static async Task<TestStorage> Create(StorageEngine engine)
    {
        var storage = await CreateEmpty(engine);
        if (engine == StorageEngine.Sqlite)
        {
            ScratchFolder.CopyDatabase(MigratedOnce.Value, storage.folder);
        }
        else
        {
            storage.Migrate();
        }

        await storage.Writer.StartAsync(CancellationToken.None);
        return storage;
    }

    /// <summary>Not migrated, nothing running.</summary>
    public static async Task<TestStorage> CreateEmpty(StorageEngine engine)
    {
        var folder = ScratchFolder.New();
        var postgres = engine == StorageEngine.Postgres ? await PostgresDatabase.Create() : null;
        return new TestStorage(engine, folder, postgres);
    }

    private static string MigrateOnce()
    {
        var folder = ScratchFolder.New("migrated");
        using (var database = new Database(new StorageSettings { Path = folder }))
        {
            new Migrations(database, new FakeClock(Monday), new ShopSettings(), NullLogger<Migrations>.Instance).Run();
        }

        AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(folder, recursive: true);
        return folder;
    }

    public void Migrate() => new Migrations(Database, Clock, new ShopSettings(), NullLogger<Migrations>.Instance).Run();

    public CheckReport Check() => new CheckJournal(Database).Run(replay: true);

    /// <summary>A second instance on the same database, as a second server would be one.</summary>
    public async Task<Writer> StartAnotherInstance()
    {
        var database = new Database(Settings);
        var writer = NewWriter(database);
        await writer.StartAsync(CancellationToken.None);
        others.Add(new Running(writer, database));
        return writer;
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var other in others)
        {
            await other.DisposeAsync();
        }

        await Writer.StopAsync(CancellationToken.None);
        Writer.Dispose();
        Reader.Dispose();
        Database.Dispose();
        if (postgres is not null)
        {
            await postgres.DisposeAsync();
        }

        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private Writer NewWriter(Database database) => new(database, Clock, new WriterSettings(), NullLogger<Writer>.Instance);

    private sealed class Running(Writer writer, Database database) : IAsyncDisposable
    {
        public async ValueTask DisposeAsync()
        {
            await writer.StopAsync(CancellationToken.None);
            writer.Dispose();
            database.Dispose();
        }
    }
}
