using NodaTime;
using Workshop.Service.Http;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>Where a demo is and with which keys to speak to it: the line for scripts, and the answer of <c>GET /demo</c>.</summary>
/// <param name="Keys">A key by role.</param>
/// <param name="Data">The folder it keeps its workshop in.</param>
/// <param name="Sources">What each key speaks for, by role; an event's <c>source</c> has to be just that.</param>
public sealed record DemoAddress(Uri Url, IReadOnlyDictionary<string, string> Keys, string Data, IReadOnlyDictionary<string, string> Sources);

/// <summary>A demo that runs: the whole service on the loopback address, with a clock that can be set.</summary>
internal sealed class DemoHouse : IAsyncDisposable
{
    private const string LastEntrySql = """
        select max(received)
        from journal
        where site = @site
        """;

    private DemoHouse(WebApplication app) => App = app;

    public WebApplication App { get; }

    public DemoAddress Address { get; private set; } = null!;

    /// <summary>Builds what is missing and starts; it answers already while its past is being lived through.</summary>
    /// <exception cref="SettingException">The folder holds something else than a demo.</exception>
    public static async Task<DemoHouse> Open(DemoOptions options, MachineSettings machine, CancellationToken cancel)
    {
        var folder = machine.Storage.Path;
        var settings = machine with
        {
            Shop = machine.Shop with { Name = DemoTown.ShopName, TimeZone = DemoTown.Zone.Id },

            // Whoever tries it out receives messages on the same machine.
            Webhooks = machine.Webhooks with { AllowPrivate = AllowedTargets.Loopback },
        };
        var kept = DemoFolder.Prepare(folder, options.Fresh);
        var real = SystemClock.Instance;
        var clock = new DemoClock(real);
        if (kept is null)
        {
            // The shop's first documents are as old as its past.
            clock.Set(real.GetCurrentInstant() - DemoContent.Past);
        }

        var house = new DemoHouse(WorkshopApp.Build(settings, clock));
        try
        {
            await house.Start(kept, clock, options, cancel);
            return house;
        }
        catch
        {
            await house.DisposeAsync();
            throw;
        }
    }

    public async ValueTask DisposeAsync()
    {
        await App.StopAsync();
        await App.DisposeAsync();
    }

    private async Task Start(IReadOnlyDictionary<string, string>? kept, DemoClock clock, DemoOptions options, CancellationToken cancel)
    {
        var services = App.Services;
        var folder = services.GetRequiredService<MachineSettings>().Storage.Path;
        App.Migrate();
        App.MapDemo(() => Address, clock);
        await App.StartAsync(cancel);

        var now = SystemClock.Instance.GetCurrentInstant();
        if (kept is null)
        {
            await DemoContent.Fill(services.GetRequiredService<Writer>(), services.GetRequiredService<EventSettings>(), now, jobs: !options.Empty, cancel);
            clock.Set(SystemClock.Instance.GetCurrentInstant());
            await DemoStorefront.Open(services.GetRequiredService<Writer>(), now, orders: !options.Empty, cancel);

            // Living through months in two seconds took memory that an idle demo does not need.
            GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
            kept = DemoKeys.Make(services.GetRequiredService<ApiKeys>(), now);
            DemoFolder.Complete(folder, kept);
        }
        else if (await services.GetRequiredService<Reader>().QueryFirst<long?>(LastEntrySql, new { site = Migrations.FirstSite }, cancel) is { } last)
        {
            // A demo that was moved ahead goes on from where it was.
            clock.SetAhead(Microseconds.Read(last));
        }

        Address = new DemoAddress(App.Address(), kept, Path.GetFullPath(folder), DemoKeys.Sources);
    }
}
