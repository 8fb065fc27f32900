using System.Net.Http.Headers;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;
using Workshop.Core.Words;
using Workshop.Service.Http;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Tasks;

namespace Workshop.Service.Tests;

/// <summary>
/// The whole service within the test, listening on a loopback port of its own, with a database of its own on either engine and
/// a clock that the test sets. Nothing happens by itself: the test runs the tasks it wants.
/// </summary>
public sealed class WorkshopHost : IAsyncDisposable
{
    public const string Site = Migrations.FirstSite;

    /// <summary>Mon 2 Mar 2026, 10:00 in Zurich.</summary>
    public static readonly Instant Monday = Instant.FromUtc(2026, 3, 2, 9, 0);

    private static readonly IReadOnlyDictionary<Role, (string Source, string? Bench)> Places = new Dictionary<Role, (string, string?)>
    {
        [Role.Bench] = ("/devices/bench-1/1", "bench-1"),
        [Role.Desk] = ("/desk/front", null),
        [Role.Manager] = ("/desk/office", null),
        [Role.Storefront] = ("/storefront/shop", null),
        [Role.Wall] = ("/devices/wall/1", null),
        [Role.Operator] = ("/operator/monitor", null),
    };

    // What the service leaves in a new database after its first start takes half a second to make, and a twentieth of that to copy.
    private static readonly Lazy<Task<PostgresDatabase>> StartedOnce = new(StartOnce);
    private static readonly Lazy<Task<string>> StartedOnceInFolder = new(StartOnceInFolder);

    private readonly string folder;
    private readonly PostgresDatabase? postgres;
    private readonly Dictionary<string, string?> set;
    private readonly Action<IEndpointRouteBuilder>? besides;
    private readonly Dictionary<Role, HttpClient> clients = [];
    private readonly bool awake;
    private readonly RealTime? realTime;
    private WebApplication? app;

    private WorkshopHost(string folder, PostgresDatabase? postgres, Dictionary<string, string?> set, Action<IEndpointRouteBuilder>? besides, bool awake, RealTime? realTime)
    {
        this.awake = awake;
        this.realTime = realTime;
        this.folder = folder;
        this.postgres = postgres;
        this.set = set;
        this.besides = besides;
    }

    /// <summary>The workshop's clock. It stands still until the test moves it.</summary>
    public FakeClock Clock { get; } = new(Monday);

    public IServiceProvider Services => Running.Services;

    public Uri Address => Running.Address();

    /// <summary>A client without a key.</summary>
    public HttpClient Stranger { get; private set; } = null!;

    public HttpClient Bench => As(Role.Bench);

    public HttpClient Desk => As(Role.Desk);

    public HttpClient Manager => As(Role.Manager);

    private WebApplication Running => app ?? throw new InvalidOperationException("The service does not run.");

    /// <param name="set">Settings by name, for example <c>Limits:BodyBytes</c>.</param>
    /// <param name="besides">Endpoints of the test's own, to try manners that every endpoint has.</param>
    /// <param name="awake">Whether Hangfire wakes the tasks, by the machine's own time.</param>
    /// <param name="realTime">The machine's own clock; its real one where left out.</param>
    /// <param name="connection">An empty PostgreSQL database to work in; without it the host makes one.</param>
    public static async Task<WorkshopHost> Start(
        StorageEngine engine = StorageEngine.Sqlite,
        IReadOnlyDictionary<string, string?>? set = null,
        Action<IEndpointRouteBuilder>? besides = null,
        string? connection = null,
        bool awake = false,
        RealTime? realTime = null)
    {
        var folder = ScratchFolder.New();
        var postgres = engine == StorageEngine.Postgres && connection is null ? await NewDatabase(set) : null;
        var all = new Dictionary<string, string?>(set ?? new Dictionary<string, string?>())
        {
            [KnownSettings.StorageEngine.Name] = Word.Of(engine),
            [KnownSettings.StoragePath.Name] = folder,
            [KnownSettings.StoragePostgres.Name] = connection ?? postgres?.ConnectionString,
            [KnownSettings.HttpPort.Name] = "0",
        };
        if (engine == StorageEngine.Sqlite && !IsNamed(set))
        {
            ScratchFolder.CopyDatabase(await StartedOnceInFolder.Value, folder);
        }

        var host = new WorkshopHost(folder, postgres, all, besides, awake, realTime);
        await host.StartApp();
        return host;
    }

    /// <summary>A client with a key of the role; the same one each time.</summary>
    public HttpClient As(Role role) => clients.TryGetValue(role, out var client)
        ? client
        : clients[role] = With(AddKey(role, Places[role].Source, Places[role].Bench));

    /// <summary>A client with this key.</summary>
    public HttpClient With(string key)
    {
        var client = new HttpClient { BaseAddress = Address };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
        return client;
    }

    public string AddKey(Role role, string source, string? bench = null) =>
        Services.GetRequiredService<ApiKeys>().Add(Site, source, Word.Of(role), bench, Clock.GetCurrentInstant()).Secret;

    /// <summary>Moves the workshop's clock on and runs what Hangfire would run then.</summary>
    public Task Advance(Duration by)
    {
        Clock.Advance(by);
        return Sweep();
    }

    public Task Sweep() => Services.GetRequiredService<SweepDue>().Run(CancellationToken.None);

    /// <summary>Looks into the database.</summary>
    public async Task<T> QueryFirst<T>(string sql, object? parameters = null) =>
        (await Services.GetRequiredService<Reader>().QueryFirst<T>(sql, parameters))!;

    /// <summary>Folds every job anew and reads the whole journal.</summary>
    public CheckReport Check() => Services.GetRequiredService<CheckJournal>().Run(replay: true);

    /// <summary>Everything that SQLite keeps: the file, and the log beside it.</summary>
    public async Task<byte[]> Bytes()
    {
        var all = new MemoryStream();
        foreach (var file in Directory.GetFiles(folder, $"{Database.FileName}*"))
        {
            // The writer has it open.
            await using var open = new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            await open.CopyToAsync(all);
        }

        return all.ToArray();
    }

    /// <summary>Stops in good order and starts again on the same database; clients are made anew, since the port changes.</summary>
    public async Task Restart()
    {
        await StopApp();
        await StartApp();
    }

    public async ValueTask DisposeAsync()
    {
        await StopApp();
        if (postgres is not null)
        {
            await postgres.DisposeAsync();
        }

        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    // What the shop is called and where it lies is written at the first start.
    private static async Task<PostgresDatabase> NewDatabase(IReadOnlyDictionary<string, string?>? set) =>
        IsNamed(set) ? await PostgresDatabase.Create() : await (await StartedOnce.Value).Copy();

    private static bool IsNamed(IReadOnlyDictionary<string, string?>? set) => set is not null && set.Keys.Any(name => name.StartsWith("Shop:", StringComparison.Ordinal));

    private static async Task<PostgresDatabase> StartOnce()
    {
        var database = await PostgresDatabase.Create();
        await (await Start(StorageEngine.Postgres, connection: database.ConnectionString)).DisposeAsync();
        await database.Close();
        AppDomain.CurrentDomain.ProcessExit += (_, _) => database.DropIfServerStays();
        return database;
    }

    private static async Task<string> StartOnceInFolder()
    {
        var folder = ScratchFolder.New("started");
        var host = new WorkshopHost(
            folder, null,
            new Dictionary<string, string?>
            {
                [KnownSettings.StorageEngine.Name] = Word.Of(StorageEngine.Sqlite),
                [KnownSettings.StoragePath.Name] = folder,
                [KnownSettings.HttpPort.Name] = "0",
            },
            besides: null, awake: false, realTime: null);
        await host.StartApp();
        await host.StopApp();
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(folder, recursive: true);
        return folder;
    }

    private async Task StartApp()
    {
        app = WorkshopApp.Build(MachineSettings.Read(new ConfigurationBuilder().AddInMemoryCollection(set).Build()), Clock, awake: awake, realTime: realTime);
        app.Migrate();
        if (besides is not null)
        {
            var api = app.MapGroup("");
            api.AddEndpointFilter(new RefuseWhatCannotBeRead());
            besides(api);
        }

        await app.StartAsync();
        Stranger = new HttpClient { BaseAddress = Address };
    }

    private async Task StopApp()
    {
        foreach (var client in clients.Values.Append(Stranger))
        {
            client.Dispose();
        }

        clients.Clear();
        await Running.StopAsync();
        await Running.DisposeAsync();
        app = null;
    }
}
