using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using NodaTime;
using Serilog;
using Workshop.Service.Features.Agenda;
using Workshop.Service.Features.BenchEvents;
using Workshop.Service.Features.Changes;
using Workshop.Service.Features.Devices;
using Workshop.Service.Features.Extracts;
using Workshop.Service.Features.Gates;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.Letters;
using Workshop.Service.Features.Oneself;
using Workshop.Service.Features.Outgoing;
using Workshop.Service.Features.People;
using Workshop.Service.Features.Photos;
using Workshop.Service.Features.Recordings;
using Workshop.Service.Features.Storefront;
using Workshop.Service.Features.Webhooks;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Tasks;

namespace Workshop.Service.Http;

/// <summary>Puts the running program together.</summary>
public static class WorkshopApp
{
    private static readonly TimeSpan EndingTakesAtMost = TimeSpan.FromSeconds(20);

    // Settings are read once. A watch on the working folder would be woken by every write to the database below it.
    private static readonly string[] RereadNothing = ["--hostBuilder:reloadConfigOnChange=false"];

    /// <param name="clock">The workshop's clock; limits of the machine use real time nevertheless.</param>
    /// <param name="serve">False where the program only looks at its database or at its own description.</param>
    /// <param name="awake">False where tasks are run by hand, as in tests and on the demo's own clock.</param>
    /// <param name="realTime">The machine's own clock; a test that lives through days in a second has one of its own.</param>
    public static WebApplication Build(MachineSettings settings, IClock clock, bool serve = true, bool awake = true, RealTime? realTime = null)
    {
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { ApplicationName = "Workshop.Service", Args = RereadNothing });
        builder.Configuration.Sources.Clear();
        builder.Services.AddSerilog(WorkshopLog.Configure);
        builder.WebHost.ConfigureKestrel(kestrel => Limit(kestrel, settings));
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = EndingTakesAtMost);

        var services = builder.Services;
        services.AddSingleton(settings);
        services.AddSingleton(settings.Limits);
        services.AddSingleton(settings.Events);
        services.AddSingleton(clock);
        services.ConfigureHttpJsonOptions(json => WorkshopJson.Configure(json.SerializerOptions));
        services.AddExceptionHandler<Failures>();
        services.AddProblemDetails(problems => problems.CustomizeProblemDetails = context => context.ProblemDetails.Extensions.Remove("traceId"));
        services.AddWorkshopStorage(settings.Storage, settings.Writer, settings.Shop, settings.BackUp, serve);
        services.AddSingleton(TellOutside.Doors);
        services.AddSingleton<KeyRing>();
        services.AddSingleton<AgendaStore>();
        services.AddSingleton<ChangesStore>();
        services.AddSingleton(settings.Mail);
        services.AddSingleton<LetterStore>();
        services.AddSingleton<PlanLetters>();
        services.AddSingleton<Mailer>();
        services.AddSingleton<GateWordStore>();
        services.AddSingleton<ShopRulesSource>();
        services.AddSingleton<JobStore>();
        services.AddSingleton<CheckSeal>();
        services.AddSingleton(settings.Photos);
        services.AddSingleton(settings.Storefront);
        services.AddSingleton<AskInbox>();
        services.AddSingleton<PhotoFiles>();
        services.AddSingleton<KeepPhoto>();
        services.AddSingleton(settings.Recordings);
        services.AddSingleton<RecordingFiles>();
        services.AddSingleton<ListenToRecording>();
        services.AddSingleton<KeepRecording>();
        services.AddSingleton<RemoveOldRecordings>();
        services.AddSingleton(realTime ?? new RealTime(SystemClock.Instance));
        services.AddSingleton<HeldEvents>();
        services.AddSingleton<ReceivedStore>();
        services.AddSingleton<TimeProvider>(new CountingTime());
        services.AddSingleton(settings.Webhooks);
        services.AddSingleton(settings.Streams);
        services.AddSingleton<TargetGuard>();
        services.AddSingleton(HostNames.Usual);
        services.AddSingleton<PostMessage>();
        services.AddSingleton<SendMessages>();
        services.AddSingleton<ChangesBell>();
        services.AddSingleton<OpenStreams>();
        services.AddSingleton<StreamTickets>();
        services.AddSingleton<PairingStore>();
        services.AddSingleton<WrongDigits>();
        services.AddSingleton<PairDevice>();
        services.AddSingleton<ProofStore>();
        services.AddSingleton<CheckProofs>();
        services.AddSingleton<HearProofs>();
        services.AddSingleton<DeskProof>();
        services.AddSingleton<ClockWatch>();
        services.AddSingleton<RunningRequests>();
        services.AddSingleton<RateLimits>();
        services.AddAuthentication(Bearer.SchemeName).AddScheme<Microsoft.AspNetCore.Authentication.AuthenticationSchemeOptions, Bearer>(Bearer.SchemeName, null);
        services.AddAuthorizationBuilder().SetFallbackPolicy(new Microsoft.AspNetCore.Authorization.AuthorizationPolicyBuilder(Bearer.SchemeName).RequireAuthenticatedUser().Build());
        services.AddDataProtection().UseEphemeralDataProtectionProvider();
        services.AddOutputCache();
        services.AddApiDescription();
        services.AddMetricsPage();
        services.AddAlarmClock(settings, serve && awake);
        if (serve)
        {
            services.AddHostedService<CompleteShopDocuments>();
            services.AddHostedService<NoteKeyUse>();
            services.AddHostedService(provider => provider.GetRequiredService<HeldEvents>());
        }

        if (serve && awake)
        {
            services.AddHostedService<WatchTheClock>();
            services.AddHostedService<KeepSending>();
            services.AddHostedService<KeepListening>();
        }

        var app = builder.Build();
        app.UseSecurityHeaders();
        app.UseExceptionHandler();
        app.UseProblemsForBareStatuses();
        app.UseRouting();
        app.UseAuthentication();
        app.Use(app.Services.GetRequiredService<RateLimits>().Limit);
        app.Use(AnswerUnknownAddresses);
        app.UseAuthorization();
        app.UseAntiforgery();
        app.UseOutputCache();
        app.MapWorkshop();
        return app;
    }

    /// <summary>Brings the database up to date.</summary>
    /// <exception cref="StorageNotReadyException">It cannot be; the message is one sentence for whoever starts it.</exception>
    public static void Migrate(this WebApplication app) => app.Services.GetRequiredService<Migrations>().Run();

    /// <summary>The address on which a started program listens; the port is the real one where any was asked for.</summary>
    public static Uri Address(this WebApplication app)
    {
        var listens = new Uri(app.Services.GetRequiredService<IServer>().Features.GetRequiredFeature<IServerAddressesFeature>().Addresses.First());
        return listens.Host is "0.0.0.0" or "[::]" ? new UriBuilder(listens) { Host = "127.0.0.1" }.Uri : listens;
    }

    // Before anybody is asked for a key: who mistypes an address is told so.
    private static Task AnswerUnknownAddresses(HttpContext context, RequestDelegate next) => context.GetEndpoint() is not null
        ? next(context)
        : Problems.Of(ProblemCatalogue.NoSuchAddress, "Nothing is served here; /docs lists every address.").ExecuteAsync(context);

    private static void Limit(KestrelServerOptions kestrel, MachineSettings settings)
    {
        kestrel.AddServerHeader = false;
        kestrel.Limits.MaxRequestBodySize = settings.Limits.BodyBytes;
        kestrel.Listen(settings.Http.Address, settings.Http.Port);
    }
}
