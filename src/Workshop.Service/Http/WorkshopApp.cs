using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using NodaTime;
using Serilog;
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

    /// <param name="clock">The workshop's clock; limits of the machine use real time nevertheless.</param>
    /// <param name="awake">False where nothing is to happen by itself: in tests, and where only the description is wanted.</param>
    public static WebApplication Build(MachineSettings settings, IClock clock, bool awake)
    {
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { ApplicationName = "Workshop.Service" });
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
        services.AddSingleton<KeyRing>();
        services.AddSingleton<RateLimits>();
        services.AddAuthentication(Bearer.SchemeName).AddScheme<Microsoft.AspNetCore.Authentication.AuthenticationSchemeOptions, Bearer>(Bearer.SchemeName, null);
        services.AddAuthorizationBuilder().SetFallbackPolicy(new Microsoft.AspNetCore.Authorization.AuthorizationPolicyBuilder(Bearer.SchemeName).RequireAuthenticatedUser().Build());
        services.AddDataProtection().UseEphemeralDataProtectionProvider();
        services.AddApiDescription();
        services.AddAlarmClock(settings, awake);

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
        app.MapWorkshop();
        return app;
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
