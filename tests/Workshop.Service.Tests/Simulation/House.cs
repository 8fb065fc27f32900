using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;
using NodaTime.Text;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Outgoing;
using Workshop.Core.Words;
using Workshop.Service.Features.BenchEvents;
using Workshop.Service.Features.Storefront;
using Workshop.Service.Features.Webhooks;
using Workshop.Service.Http;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Signatures;
using Workshop.Service.Meters;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Tasks;

namespace Workshop.Service.Tests.Simulation;

/// <summary>The process is dead: whoever waits for it hears nothing.</summary>
internal sealed class ProcessDied : Exception
{
    public ProcessDied() : base("The process died.")
    {
    }
}

/// <summary>At which moment of the next commit the process dies.</summary>
internal enum Death
{
    /// <summary>Everything is written, nothing committed.</summary>
    BeforeCommit,

    /// <summary>It is committed, and nobody was answered.</summary>
    AfterCommit,
}

/// <summary>
/// One life of the service's process, on a folder of its own: put together as the program puts itself together, spoken to without a
/// network in between, and with nothing that happens by itself. A death leaves what a kill would leave: the files as they are on the
/// medium at that moment. That the medium keeps what it was given is tried elsewhere, with processes that are killed.
/// </summary>
internal sealed class House : IAsyncDisposable
{
    public const string Site = Migrations.FirstSite;

    private static readonly Lazy<Task<string>> Migrated = new(Migrate);

    private readonly WebApplication app;
    private readonly TaskCompletionSource heir = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly FakeClock clock;
    private readonly IReadOnlyDictionary<string, string?> besides;
    private Death? armed;
    private string? left;
    private volatile bool dead;
    private volatile bool dying;

    private House(WebApplication app, string folder, FakeClock clock, IReadOnlyDictionary<string, string?> besides)
    {
        this.besides = besides;
        this.app = app;
        this.clock = clock;
        Folder = folder;
        Writer = app.Services.GetRequiredService<Writer>();
        Reader = app.Services.GetRequiredService<Reader>();
        Writer.AboutToCommit = AboutToCommit;
        Writer.Committed += _ => Committed();
    }

    public string Folder { get; }

    public Writer Writer { get; }

    public Reader Reader { get; }

    /// <summary>It has died, or will be dead before anybody hears its answer.</summary>
    public bool Died => dead || dying;

    /// <summary>A workshop's first day, on the clock that the world moves: it is the workshop's and the machine's.</summary>
    /// <param name="besides">Settings of the machine that are not as they come.</param>
    public static async Task<House> Found(FakeClock clock, IReadOnlyDictionary<string, string?>? besides = null)
    {
        var folder = ScratchFolder.New("world");
        ScratchFolder.CopyDatabase(await Migrated.Value, folder);
        return await Start(folder, clock, besides ?? new Dictionary<string, string?>());
    }

    /// <summary>The next process, on what the dead one left.</summary>
    public async Task<House> Succeed()
    {
        await heir.Task;
        await DisposeAsync();
        return await Start(left!, clock, besides);
    }

    /// <summary>The next commit is the last.</summary>
    public void LetDie(Death when) => armed = when;

    public void LetLive() => armed = null;

    public Caller AddKey(Role role, string source, string? bench) =>
        Caller.Behind(app.Services.GetRequiredService<ApiKeys>().Add(Site, source, Word.Of(role), bench, clock.GetCurrentInstant()).Key)!;

    /// <summary>A post through the bench door.</summary>
    /// <param name="sentAt">What the device says its own clock shows; null where it says nothing.</param>
    /// <exception cref="ProcessDied">Nobody will ever answer.</exception>
    public async Task<IReadOnlyList<JsonElement>> Post(Caller caller, IReadOnlyList<string> events, bool batch, Instant? sentAt)
    {
        var text = Encoding.UTF8.GetBytes(batch ? $"[{string.Join(',', events)}]" : events.Single());
        var context = new DefaultHttpContext { RequestServices = app.Services };
        context.Request.ContentType = batch ? CloudEventReader.Batch : CloudEventReader.One;
        context.Request.Body = new MemoryStream(text);
        context.Request.ContentLength = text.Length;
        if (sentAt is { } shown)
        {
            context.Request.Headers[SentAt.Header] = InstantPattern.ExtendedIso.Format(shown);
        }

        using var answer = new MemoryStream();
        context.Response.Body = answer;
        var body = (await CloudEventsBody.BindAsync(context, null!))!;
        Assert.Null(body.Refusal);
        var result = await PostBenchEvents.Handle(
            body,
            caller,
            (await LanguageAsked.BindAsync(context, null!))!,
            (await SentAt.BindAsync(context, null!))!,
            Writer,
            app.Services.GetRequiredService<HeldEvents>(),
            app.Services.GetRequiredService<HearProofs>(),
            app.Services.GetRequiredService<EventSettings>(),
            app.Services.GetRequiredService<WorkshopMeters>(),
            CancellationToken.None);
        await result.ExecuteAsync(context);
        LivesOrThrow();
        var told = JsonElement.Parse(Encoding.UTF8.GetString(answer.ToArray()));
        return batch ? [.. told.EnumerateArray()] : [told];
    }

    /// <summary>A command of the desk.</summary>
    /// <exception cref="ProcessDied">Whether it was kept, a look at the job will tell.</exception>
    public async Task<T> Turn<T>(Func<Turn, T> work)
    {
        var answer = await Writer.Turn(Site, work);
        LivesOrThrow();
        return answer;
    }

    public async Task Sweep()
    {
        await app.Services.GetRequiredService<SweepDue>().Run(CancellationToken.None);
        LivesOrThrow();
    }

    /// <summary>Sends what can be sent now.</summary>
    public async Task Send()
    {
        try
        {
            await app.Services.GetRequiredService<SendMessages>().Run(Site, CancellationToken.None);
        }
        catch (ProcessDied)
        {
            // What was on its way is sent again by the next one.
        }

        LivesOrThrow();
    }

    /// <summary>Reads a storefront's inbox.</summary>
    public async Task AskInbox()
    {
        await app.Services.GetRequiredService<AskInbox>().Run(CancellationToken.None);
        LivesOrThrow();
    }

    /// <summary>A post at the storefront's door.</summary>
    /// <returns>The status.</returns>
    /// <exception cref="ProcessDied">Nobody will ever answer.</exception>
    public async Task<int> PostToStorefrontDoor(WebhookSecret secret, string id, byte[] body)
    {
        var now = clock.GetCurrentInstant();
        var context = new DefaultHttpContext { RequestServices = app.Services };
        context.Request.ContentType = CloudEventReader.One;
        context.Request.Body = new MemoryStream(body);
        context.Request.ContentLength = body.Length;
        context.Request.Headers[WebhookHeaders.IdName] = id;
        context.Request.Headers[WebhookHeaders.TimestampName] = WebhookSignature.Seconds(now);
        context.Request.Headers[WebhookHeaders.SignatureName] = WebhookSignature.Sign(secret, id, now, body);
        using var answer = new MemoryStream();
        context.Response.Body = answer;
        var result = await PostStorefrontEvents.Handle(
            (await SignedBody.BindAsync(context, null!))!, Reader, Writer, app.Services.GetRequiredService<RealTime>(), CancellationToken.None);
        await ((IResult)result.Result).ExecuteAsync(context);
        LivesOrThrow();
        return context.Response.StatusCode;
    }

    /// <summary>Judges what has waited long enough.</summary>
    /// <returns>When the next of those that still wait has; null where none does.</returns>
    public async Task<Instant?> Release()
    {
        var next = await app.Services.GetRequiredService<HeldEvents>().Release(CancellationToken.None);
        LivesOrThrow();
        return next;
    }

    public async Task<Job> Job(Label label) => (await Reader.History(Site, label))!.Job;

    public async ValueTask DisposeAsync()
    {
        await Writer.StopAsync(CancellationToken.None);
        await app.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }

    private static async Task<House> Start(string folder, FakeClock clock, IReadOnlyDictionary<string, string?> besides)
    {
        var house = new House(Build(folder, clock, besides), folder, clock, besides);
        await house.Writer.StartAsync(CancellationToken.None);
        return house;
    }

    private static WebApplication Build(string folder, IClock clock, IReadOnlyDictionary<string, string?> besides)
    {
        var set = new Dictionary<string, string?>(besides)
        {
            [KnownSettings.StorageEngine.Name] = Word.Of(StorageEngine.Sqlite),
            [KnownSettings.StoragePath.Name] = folder,
        };
        var settings = MachineSettings.Read(new ConfigurationBuilder().AddInMemoryCollection(set).Build());
        return WorkshopApp.Build(settings, clock, serve: false, awake: false, realTime: new RealTime(clock));
    }

    private static async Task<string> Migrate()
    {
        var folder = ScratchFolder.New("world");
        await using var app = Build(folder, new FakeClock(WorkshopHost.Monday - Duration.FromDays(1)), new Dictionary<string, string?>());
        app.Migrate();
        AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(folder, recursive: true);
        return folder;
    }

    private void AboutToCommit()
    {
        if (dead || dying)
        {
            throw new ProcessDied();
        }

        if (armed == Death.BeforeCommit)
        {
            dead = true;
            Leave();
            throw new ProcessDied();
        }

        dying = armed == Death.AfterCommit;
    }

    private void Committed()
    {
        if (dying && left is null)
        {
            Leave();
        }
    }

    private void Leave()
    {
        left = ScratchFolder.New("world");
        ScratchFolder.CopyDatabase(Folder, left);
        heir.SetResult();
    }

    private void LivesOrThrow()
    {
        if (Died)
        {
            throw new ProcessDied();
        }
    }
}
