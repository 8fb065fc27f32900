using System.Net;
using System.Text;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Signatures;

namespace Workshop.Service.Trial.Storefronts;

/// <summary>How a post is answered.</summary>
internal enum PostAnswer
{
    Taken,

    /// <summary>503, kept nothing.</summary>
    NotNow,

    /// <summary>Kept, and the connection breaks before the answer.</summary>
    AnswerLost,
}

/// <summary>A post as it came, and whether its signature was right by the secret of the moment.</summary>
internal sealed record SeenPost(string? Id, string? Timestamp, byte[] Bytes, SignatureVerdict Verdict)
{
    public bool Genuine => Verdict.Genuine;

    public string Text => Encoding.UTF8.GetString(Bytes);

    /// <summary>The events in it; none where it cannot be read.</summary>
    public IEnumerable<CloudEvent> Events => CloudEventReader.Read(Bytes, Text.TrimStart() is ['[', ..]).Events.Select(read => read.Event).OfType<CloudEvent>();
}

/// <summary>Stands in for the service's door: verifies as the service does, and answers as the situation wants it.</summary>
internal sealed class StorefrontStandIn : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly Queue<PostAnswer> once = new();
    private readonly Lock gate = new();

    private StorefrontStandIn(WebApplication app) => this.app = app;

    public Uri Address => new(app.Urls.First());

    public WebhookSecret Secret { get; set; } = WebhookSecret.Draw();

    public List<SeenPost> Posts { get; } = [];

    /// <summary>Events that were taken, each id once, in the order in which they came.</summary>
    public List<CloudEvent> Kept { get; } = [];

    /// <summary>What is flagged of an event; nothing where it says nothing.</summary>
    public Func<CloudEvent, string?> Flag { get; set; } = _ => null;

    public PostAnswer Always { get; set; }

    public static async Task<StorefrontStandIn> Listen(IPEndPoint at)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(at));
        var app = builder.Build();
        var door = new StorefrontStandIn(app);
        app.MapPost("/v1/storefront/events", door.Hear);
        await app.StartAsync();
        return door;
    }

    public void Begin()
    {
        lock (gate)
        {
            once.Clear();
            Posts.Clear();
            Kept.Clear();
            (Secret, Flag, Always) = (WebhookSecret.Draw(), _ => null, PostAnswer.Taken);
        }
    }

    public void Once(params ReadOnlySpan<PostAnswer> answers)
    {
        lock (gate)
        {
            foreach (var answer in answers)
            {
                once.Enqueue(answer);
            }
        }
    }

    public ValueTask DisposeAsync() => app.DisposeAsync();

    private async Task Hear(HttpContext context)
    {
        using var read = new MemoryStream();
        await context.Request.Body.CopyToAsync(read, context.RequestAborted);
        var bytes = read.ToArray();
        var headers = WebhookHeaders.Of(context.Request.Headers);
        string[] flags;
        PostAnswer answer;
        SignatureVerdict verdict;
        lock (gate)
        {
            verdict = WebhookSignature.Verify([Secret], headers, bytes, SystemClock.Instance.GetCurrentInstant());
            var post = new SeenPost(headers.Id, headers.Timestamp, bytes, verdict);
            Posts.Add(post);
            answer = once.TryDequeue(out var next) ? next : Always;
            var heard = post.Genuine && answer != PostAnswer.NotNow ? post.Events.ToArray() : [];
            foreach (var one in heard.Where(one => Kept.TrueForAll(known => known.Id != one.Id)))
            {
                Kept.Add(one);
            }

            flags = [.. heard.Select(Flag).OfType<string>()];
        }

        if (answer == PostAnswer.AnswerLost)
        {
            context.Abort();
            return;
        }

        context.Response.StatusCode = answer == PostAnswer.NotNow ? StatusCodes.Status503ServiceUnavailable
            : verdict.Genuine ? StatusCodes.Status202Accepted : StatusCodes.Status401Unauthorized;
        await context.Response.WriteAsJsonAsync(new { flags, events = Array.Empty<object>(), detail = verdict.Sentence }, context.RequestAborted);
    }
}
