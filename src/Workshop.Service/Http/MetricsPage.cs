using System.Diagnostics.Metrics;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using Workshop.Service.Http.Keys;
using Workshop.Service.Meters;

namespace Workshop.Service.Http;

/// <summary>
/// <c>/metrics</c>, as text that Prometheus and others read: requests by the pattern of their address, never by the address itself, and
/// what the workshop counts and what waits. For keys of an operator and of managers: how much a shop has to do is nobody else's business,
/// and behind a proxy every request comes from the own machine.
/// </summary>
public static class MetricsPage
{
    public const string Address = "/metrics";

    private const string Requests = "Microsoft.AspNetCore.Hosting";

    // Seconds. Most answers take a few milliseconds; a batch of a bench that was away takes longer.
    private static readonly double[] Durations = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10];

    public static void AddMetricsPage(this IServiceCollection services)
    {
        services.AddSingleton<WorkshopMeters>();
        services.AddSingleton<StandingFigures>();
        services.AddOpenTelemetry()
            .ConfigureResource(resource => resource.Clear().AddService("workshop", autoGenerateServiceInstanceId: false))
            .WithMetrics(metrics => metrics
                .AddMeter(WorkshopMeters.Name, Requests)
                .AddPrometheusExporter(exporter => exporter.ScrapeResponseCacheDurationMilliseconds = 0));
        services.ConfigureOpenTelemetryMeterProvider((provider, metrics) => metrics.AddView(instrument => View(instrument, provider.GetRequiredService<IMeterFactory>())));
    }

    // A request is told by few labels, all of them of closed lists. Several programs in one process count each for itself.
    private static MetricStreamConfiguration? View(Instrument instrument, IMeterFactory ours) =>
        instrument.Meter.Scope != ours ? MetricStreamConfiguration.Drop
        : instrument.Name switch
        {
            "http.server.request.duration" => new ExplicitBucketHistogramConfiguration { TagKeys = ["http.request.method", "http.route", "http.response.status_code"], Boundaries = Durations },
            "http.server.active_requests" => new MetricStreamConfiguration { TagKeys = ["http.request.method"] },
            _ => null,
        };

    public static void MapMetricsPage(this IEndpointRouteBuilder routes) => routes
        .MapPrometheusScrapingEndpoint(
            Address,
            meterProvider: null,
            branch => branch.Use(async (context, next) =>
            {
                await context.RequestServices.GetRequiredService<StandingFigures>().Read(context.RequestAborted);
                await next(context);
            }),
            optionsName: null)
        .WithMetadata(new HttpMethodMetadata([HttpMethods.Get]))
        .RequireOperation(Operation.ReadMetrics);
}
