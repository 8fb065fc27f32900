using System.Globalization;
using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using Workshop.Service.Features.BenchEvents;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Trial;

/// <summary>
/// Stands in for the service: takes what a bench posts, remembers it by source and id as the service does, and answers as the situation
/// wants it. What it answers has the service's own shapes.
/// </summary>
internal sealed class StandIn : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly Lock gate = new();
    private readonly Dictionary<(string Source, string Id), (CloudEvent Event, EventResult Result)> known = [];
    private readonly List<LateOutcome> outcomes = [];
    private readonly Queue<Answering> once = new();
    private TaskCompletionSource arrived = new();

    private StandIn(WebApplication app) => this.app = app;

    public Uri Address => Listening(0);

    /// <summary>An address at which no client has anything to look for.</summary>
    public Uri SomewhereElse => new(Listening(1), "/v1/bench-events");

    /// <summary>The key of the present pairing, and the source it speaks for.</summary>
    public string Key { get; set; } = "";

    public string Source { get; set; } = "";

    /// <summary>What the device's clock shows.</summary>
    public Instant DeviceNow { get; set; }

    /// <summary>How requests are answered once <see cref="Once"/> is used up.</summary>
    public Answering Always { get; set; } = Answers.Judged;

    /// <summary>What becomes of an event that was not judged before; accepted where it says nothing.</summary>
    public Func<CloudEvent, EventResult?> Verdict { get; set; } = _ => null;

    /// <summary>Changes the text of a result before it is sent, as a later version of the service might.</summary>
    public Func<JsonObject, JsonObject> Edited { get; set; } = result => result;

    /// <summary>Every request of the situation, in order of arrival.</summary>
    public List<SentPost> Posts { get; } = [];

    /// <summary>Events that were accepted or noted, each once, in the order in which they were.</summary>
    public List<CloudEvent> Kept { get; } = [];

    public Manners Manners { get; private set; } = new();

    /// <summary>Requests that came to <see cref="SomewhereElse"/>.</summary>
    public int Astray { get; private set; }

    /// <summary>Done once another request is there.</summary>
    public Task Arrived => arrived.Task;

    public static async Task<StandIn> Listen(IPEndPoint at)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.Listen(at);
            kestrel.Listen(at.Address, 0);
        });
        var app = builder.Build();
        var door = new StandIn(app);
        app.Run(door.Hear);
        await app.StartAsync();
        return door;
    }

    /// <summary>Begins a situation: everything is forgotten.</summary>
    public void Begin(string key, string source, Instant deviceNow)
    {
        lock (gate)
        {
            (Key, Source, DeviceNow) = (key, source, deviceNow);
            known.Clear();
            outcomes.Clear();
            once.Clear();
            Posts.Clear();
            Kept.Clear();
            (Always, Verdict, Edited) = (Answers.Judged, _ => null, result => result);
            (Manners, Astray, arrived) = (new Manners(), 0, new TaskCompletionSource());
        }
    }

    /// <summary>Answers the next request in this way, the one after it in the next.</summary>
    public void Once(params ReadOnlySpan<Answering> answers)
    {
        lock (gate)
        {
            foreach (var answer in answers)
            {
                once.Enqueue(answer);
            }

            arrived = new TaskCompletionSource();
        }
    }

    /// <summary>Judges one event as the service does: known with the same content is the same verdict again, with another a conflict.</summary>
    public EventResult Judge(CloudEvent one)
    {
        lock (gate)
        {
            Release();
            if (known.TryGetValue((one.Source, one.Id), out var before))
            {
                return before.Event.Digest.AsSpan().SequenceEqual(one.Digest.AsSpan()) ? Results.Again(before.Result)
                    : Results.Refused(one, ProblemCatalogue.EventConflict, "This event is known with another content");
            }

            var result = Verdict(one) ?? Results.Accepted(one);
            if (result.Problem?.Status != StatusCodes.Status403Forbidden)
            {
                known[(one.Source, one.Id)] = (one, result);
            }

            Keep(one, result);
            return result;
        }
    }

    /// <summary>Judges what was held, where the situation wants it held no longer.</summary>
    private void Release()
    {
        foreach (var (id, (one, _)) in known.Where(of => of.Value.Result.Outcome == EventOutcome.Held).OrderBy(of => of.Value.Event.Sequence).ToArray())
        {
            var result = Verdict(one) ?? Results.Accepted(one);
            if (result.Outcome != EventOutcome.Held)
            {
                known[id] = (one, result);
                outcomes.Add(new LateOutcome(outcomes.Count + 1, one.Id, one.Sequence, result));
                Keep(one, result);
            }
        }
    }

    private void Keep(CloudEvent one, EventResult result)
    {
        if (result.Outcome is EventOutcome.Accepted or EventOutcome.Noted)
        {
            Kept.Add(one);
        }
    }

    public ValueTask DisposeAsync() => app.DisposeAsync();

    private async Task Hear(HttpContext context)
    {
        if (context.Connection.LocalPort != Address.Port)
        {
            Astray++;
            context.Response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }

        var path = context.Request.Path.Value!;
        if (HttpMethods.IsGet(context.Request.Method) && path == $"/v1{string.Join('/', Source.Split('/')[..3])}/outcomes")
        {
            await HearAsked(context);
        }
        else if (HttpMethods.IsPost(context.Request.Method) && path == "/v1/bench-events")
        {
            await HearPost(context);
        }
        else
        {
            await Answers.Refused(ProblemCatalogue.NoSuchAddress)(this, context, new SentPost(null, null, null, [], [], DeviceNow));
        }
    }

    private async Task HearPost(HttpContext context)
    {
        var post = await SentPost.Read(context.Request, DeviceNow);
        Answering answering;
        TaskCompletionSource told;
        lock (gate)
        {
            Posts.Add(post);
            Manners.Look(post, Key, Source);
            answering = once.TryDequeue(out var next) ? next : Always;
            told = arrived;
        }

        told.TrySetResult();
        await answering(this, context, post);
    }

    private Task HearAsked(HttpContext context)
    {
        lock (gate)
        {
            Release();
            var after = long.TryParse(context.Request.Query["after"], NumberStyles.None, CultureInfo.InvariantCulture, out var seen) ? seen : 0;
            var page = new Items<LateOutcome>([.. outcomes.Where(one => one.Number > after)]);
            return new AnswerText { Status = StatusCodes.Status200OK, Body = JsonSerializer.Serialize(page, WorkshopJson.Options) }.ExecuteAsync(context);
        }
    }

    private Uri Listening(int which) => new(app.Urls.ElementAt(which));
}
