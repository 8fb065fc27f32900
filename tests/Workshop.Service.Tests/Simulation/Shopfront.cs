using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using NodaTime.Testing;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.Signatures;

namespace Workshop.Service.Tests.Simulation;

/// <summary>A message as the storefront heard it.</summary>
internal sealed record HeardOutside(string Id, string? Subject, long Sequence, string Body);

/// <summary>
/// A storefront somewhere else: it hears what the workshop tells, badly, and lays out what it has to tell itself. How it answers an attempt is
/// drawn from the seed, the message and the number of the attempt, so that it does not matter which of two comes first.
/// </summary>
internal sealed class Shopfront : IAsyncDisposable
{
    public const string Id = "shop";
    public const string Source = "/storefront/shop";

    private readonly int seed;
    private readonly FakeClock clock;
    private readonly WebApplication app;
    private readonly Lock gate = new();
    private readonly Dictionary<string, int> attempts = new(StringComparer.Ordinal);
    private readonly List<string> inbox = [];

    private Shopfront(int seed, FakeClock clock, WebApplication app)
    {
        this.seed = seed;
        this.clock = clock;
        this.app = app;
    }

    /// <summary>What the workshop signs with.</summary>
    public WebhookSecret HooksSecret { get; set; } = WebhookSecret.Draw();

    /// <summary>What both sign with at the other door.</summary>
    public WebhookSecret Secret { get; } = WebhookSecret.Draw();

    public string Address { get; private set; } = "";

    /// <summary>Nobody answers, and nothing is kept.</summary>
    public bool Away { get; set; }

    /// <summary>Its line is good from now on.</summary>
    public bool Mended { get; set; }

    /// <summary>Everything that was taken down, in the order in which it came; also what was told twice.</summary>
    public List<HeardOutside> Heard { get; } = [];

    public List<string> Faults { get; } = [];

    /// <summary>Attempts that were answered with anything but thanks.</summary>
    public int Refused { get; private set; }

    public static async Task<Shopfront> Open(int seed, FakeClock clock)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(IPAddress.Loopback, 0));
        var front = new Shopfront(seed, clock, builder.Build());
        front.app.MapPost("/hooks", front.Hear);
        front.app.MapGet("/inbox", front.ShowInbox);
        await front.app.StartAsync();
        front.Address = front.app.Services.GetRequiredService<IServer>().Features.GetRequiredFeature<IServerAddressesFeature>().Addresses.First();
        return front;
    }

    /// <summary>Lays an event out, for whoever asks; its sequence is given here.</summary>
    public void LayOut(Func<long, string> told)
    {
        lock (gate)
        {
            inbox.Add(told(inbox.Count + 1));
        }
    }

    /// <summary>What was heard until now, while more may be coming.</summary>
    public IReadOnlyList<HeardOutside> HeardSoFar()
    {
        lock (gate)
        {
            return [.. Heard];
        }
    }

    public ValueTask DisposeAsync() => app.DisposeAsync();

    private async Task Hear(HttpContext context)
    {
        using var bytes = new MemoryStream();
        await context.Request.Body.CopyToAsync(bytes);
        var headers = WebhookHeaders.Of(context.Request.Headers);
        lock (gate)
        {
            var answer = Away ? Mood.Gone : Draw(headers.Id ?? "");
            if (answer is Mood.Kept or Mood.KeptAndSilent)
            {
                Keep(headers, bytes.ToArray());
            }

            Refused += answer == Mood.Kept ? 0 : 1;
            context.Response.StatusCode = answer switch
            {
                Mood.Kept => StatusCodes.Status204NoContent,
                Mood.Busy => StatusCodes.Status429TooManyRequests,
                Mood.Broken => StatusCodes.Status500InternalServerError,
                _ => StatusCodes.Status502BadGateway,
            };
            if (answer == Mood.Busy)
            {
                context.Response.Headers.RetryAfter = "90";
            }
        }
    }

    private void Keep(WebhookHeaders headers, byte[] body)
    {
        var verdict = WebhookSignature.Verify([HooksSecret], headers, body, clock.GetCurrentInstant());
        if (!verdict.Genuine)
        {
            Faults.Add($"{headers.Id}: {verdict.Sentence}");
            return;
        }

        var told = JsonElement.Parse(body);
        if (told.GetProperty("id").GetString() != headers.Id)
        {
            Faults.Add($"{headers.Id} holds the event {told.GetProperty("id").GetString()}.");
        }

        Heard.Add(new HeardOutside(
            headers.Id!, told.TryGetProperty("subject", out var subject) ? subject.GetString() : null,
            long.Parse(told.GetProperty("sequence").GetString()!, System.Globalization.CultureInfo.InvariantCulture), Encoding.UTF8.GetString(body)));
    }

    private async Task ShowInbox(HttpContext context)
    {
        var query = context.Request.QueryString.Value![1..];
        if (Away || !WebhookSignature.Verify([Secret], WebhookHeaders.Of(context.Request.Headers), Encoding.UTF8.GetBytes(query), clock.GetCurrentInstant()).Genuine)
        {
            context.Response.StatusCode = Away ? StatusCodes.Status502BadGateway : StatusCodes.Status401Unauthorized;
            return;
        }

        var (after, limit) = (int.Parse(context.Request.Query["after"]!, System.Globalization.CultureInfo.InvariantCulture), int.Parse(context.Request.Query["limit"]!, System.Globalization.CultureInfo.InvariantCulture));
        byte[] batch;
        lock (gate)
        {
            batch = Encoding.UTF8.GetBytes($"[{string.Join(',', inbox.Skip(after).Take(limit))}]");
        }

        var id = $"batch-{after}-{Convert.ToHexStringLower(SHA256.HashData(batch))[..12]}";
        context.Response.Headers[WebhookHeaders.IdName] = id;
        context.Response.Headers[WebhookHeaders.TimestampName] = WebhookSignature.Seconds(clock.GetCurrentInstant());
        context.Response.Headers[WebhookHeaders.SignatureName] = WebhookSignature.Sign(Secret, id, clock.GetCurrentInstant(), batch);
        context.Response.ContentType = "application/cloudevents-batch+json";
        await context.Response.Body.WriteAsync(batch);
    }

    private Mood Draw(string message)
    {
        var attempt = attempts[message] = attempts.GetValueOrDefault(message) + 1;
        return Mended ? Mood.Kept : (SHA256.HashData(Encoding.UTF8.GetBytes($"{seed}/{message}/{attempt}"))[0] % 10) switch
        {
            < 6 => Mood.Kept,
            6 => Mood.Busy,
            7 => Mood.Broken,
            8 => Mood.Gone,
            _ => Mood.KeptAndSilent,
        };
    }

    private enum Mood
    {
        Kept,

        /// <summary>It was taken down, and the answer was lost.</summary>
        KeptAndSilent,
        Busy,
        Broken,
        Gone,
    }
}
