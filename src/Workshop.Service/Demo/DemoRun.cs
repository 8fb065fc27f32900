using System.Net;
using System.Text.Json;
using NodaTime;
using Workshop.Service.Commands;
using Workshop.Service.Http;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>Where a demo is and with which keys to speak to it: the line for scripts, and the answer of <c>GET /demo</c>.</summary>
/// <param name="Keys">A key by role.</param>
/// <param name="Data">The folder it keeps its workshop in.</param>
public sealed record DemoAddress(Uri Url, IReadOnlyDictionary<string, string> Keys, string Data);

/// <summary>Runs a demo.</summary>
internal static class DemoRun
{
    private static readonly string[] LocalNames = ["localhost", "127.0.0.1", "[::1]"];

    /// <exception cref="SettingException">The folder holds something else than a demo.</exception>
    public static async Task<int> Run(DemoOptions options, MachineSettings settings, CancellationToken cancel)
    {
        if (options is { Walk: true, Url: { } running })
        {
            return await Ask(running, cancel) is { } found
                ? await DemoWalk.Play(found, cancel)
                : throw new SettingException($"--url is '{running}', but no demo answers there.");
        }

        var folder = settings.Storage.Path;
        var anew = DemoFolder.Prepare(folder, options.Fresh);
        var clock = new DemoClock(SystemClock.Instance);
        await using var app = WorkshopApp.Build(settings, clock);
        app.Migrate();

        DemoAddress? demo = null;
        app.MapGet("/demo", (HttpContext context) => IsLocal(context) && demo is not null ? Results.Json(demo, WorkshopJson.Options) : Results.NotFound())
            .AllowAnonymous().ExcludeFromDescription();
        await app.StartAsync(cancel);
        var keys = await DemoFolder.Keys(folder, app.Services.GetRequiredService<ApiKeys>(), clock.GetCurrentInstant(), cancel);
        if (anew)
        {
            await DemoContent.Fill(app.Services.GetRequiredService<Writer>(), clock, jobs: !options.Empty, cancel);
        }

        demo = new DemoAddress(app.Address(), keys, folder);
        if (options.Walk)
        {
            var code = await DemoWalk.Play(demo, cancel);
            await app.StopAsync(cancel);
            return code;
        }

        await Console.Out.WriteLineAsync((options.Json ? JsonSerializer.Serialize(demo, WorkshopJson.Options) : Greeting(demo)).AsMemory(), cancel);
        await app.WaitForShutdownAsync(cancel);
        return WorkshopCommand.Well;
    }

    // Also by the name it was called by: a page from elsewhere can make its own name lead to this machine.
    private static bool IsLocal(HttpContext context) =>
        context.Connection.RemoteIpAddress is { } address && IPAddress.IsLoopback(address) && LocalNames.Contains(context.Request.Host.Host, StringComparer.OrdinalIgnoreCase);

    private static async Task<DemoAddress?> Ask(Uri url, CancellationToken cancel)
    {
        using var client = new HttpClient();
        try
        {
            return await client.GetFromJsonAsync<DemoAddress>(new Uri(url, "/demo"), WorkshopJson.Options, cancel);
        }
        catch (Exception silence) when (silence is HttpRequestException or JsonException)
        {
            return null;
        }
    }

    private static string Greeting(DemoAddress demo) => $"""
        An invented workshop for trying out. Nothing in it is real; it lives in {demo.Data}.

          address    {demo.Url}
          reference  {new Uri(demo.Url, "/docs")}
          tasks      {new Uri(demo.Url, "/hangfire")} (any name, the manager's key as password)

        One key for each role:
        {string.Join('\n', demo.Keys.Select(pair => $"  {pair.Key,-10} {pair.Value}"))}

        Worth trying:
          curl -s {new Uri(demo.Url, "/health/ready")}
          curl -s {new Uri(demo.Url, "/problems/held-by")}
          curl -s {new Uri(demo.Url, "/v1/me")} -H "Authorization: Bearer {demo.Keys["desk"]}"

        Ctrl+C ends it; 'demo --fresh' begins anew.
        """;
}
