using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using NodaTime;
using NodaTime.Text;
using Workshop.Service.Http;

namespace Workshop.Service.Tests.Trial;

/// <summary>The control interface by which a trial plays person, clock and power of a bench.</summary>
internal sealed class TrialDoor : IAsyncDisposable
{
    public const string Key = "key-of-the-trial";

    private readonly WebApplication app;
    private readonly ScriptedBench bench;
    private Instant now;

    private TrialDoor(WebApplication app, ScriptedBench bench)
    {
        this.app = app;
        this.bench = bench;
        bench.Clock = () => now;
    }

    public Uri Address => app.Address();

    /// <param name="script">The text of the client under trial; the one that is shipped unless told.</param>
    public static async Task<TrialDoor> Open(string? script = null)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var app = builder.Build();
        var door = new TrialDoor(app, new ScriptedBench(script));
        app.Run(door.Hear);
        await app.StartAsync();
        return door;
    }

    public async ValueTask DisposeAsync()
    {
        await app.DisposeAsync();
        await bench.DisposeAsync();
    }

    private async Task Hear(HttpContext context)
    {
        if (context.Request.Headers.Authorization != $"Bearer {Key}")
        {
            context.Response.StatusCode = StatusCodes.Status401Unauthorized;
            return;
        }

        var what = context.Request.Path.Value!["/trial/".Length..];
        if (what == "state")
        {
            var state = await bench.Look();
            state["shown"] = new JsonArray([.. bench.Shown.Select(shown => shown.DeepClone())]);
            await context.Response.WriteAsync(state.ToJsonString());
            return;
        }

        await Do(what, JsonNode.Parse(await new StreamReader(context.Request.Body).ReadToEndAsync())!);
    }

    private async Task Do(string what, JsonNode asked)
    {
        switch (what)
        {
            case "reset":
                now = Moment(asked);
                bench.AnswerWithin = TimeSpan.FromMilliseconds(asked["answerWithinMilliseconds"]!.GetValue<double>());
                await bench.Restart(forgetting: true);
                await bench.Pair(Text(asked, "service"), Text(asked, "key"), Text(asked, "source"));
                break;
            case "restart":
                await bench.Restart();
                break;
            case "pair":
                await bench.Pair(Text(asked, "service"), Text(asked, "key"), Text(asked, "source"));
                break;
            case "clock":
                now = Moment(asked);
                break;
            case "say":
                await bench.Say(Text(asked, "type"), Text(asked, "subject"), asked["data"]!);
                break;
            case "wake":
                await bench.Wake();
                break;
            default:
                throw new InvalidOperationException($"The trial asked for '{what}'.");
        }
    }

    private static Instant Moment(JsonNode asked) => InstantPattern.ExtendedIso.Parse(Text(asked, "now")).Value;

    private static string Text(JsonNode asked, string member) => asked[member]!.GetValue<string>();
}
