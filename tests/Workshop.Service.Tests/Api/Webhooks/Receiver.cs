using System.Net;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using NodaTime;
using Workshop.Core.Outgoing;
using Workshop.Service.Http.Signatures;

namespace Workshop.Service.Tests.Api.Webhooks;

/// <summary>A message as it came to a receiver.</summary>
public sealed record Received(WebhookHeaders Headers, string? ContentType, byte[] Body)
{
    public JsonElement Event { get; } = JsonElement.Parse(Body);

    public string Type => Event.GetProperty("type").GetString()!;

    public string? Subject => Event.TryGetProperty("subject", out var subject) ? subject.GetString() : null;

    public long Position => Event.TryGetProperty("sequence", out var sequence) ? long.Parse(sequence.GetString()!, System.Globalization.CultureInfo.InvariantCulture) : 0;

    public JsonElement Data => Event.GetProperty("data");

    public SignatureVerdict Verify(params string[] secrets) => WebhookSignature.Verify(
        [.. secrets.Select(text => WebhookSecret.TryRead(text, out var secret) ? secret : throw new FormatException())], Headers, Body, SystemClock.Instance.GetCurrentInstant());
}

/// <summary>Somebody's storefront on the loopback address: keeps all that comes and answers as the test wants.</summary>
public sealed class Receiver : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly List<Received> received = [];

    private Receiver(WebApplication app) => this.app = app;

    /// <summary>What it answers; 204 unless the test says otherwise. The number counts what has come, from 1.</summary>
    public Func<Received, int, HttpContext, Task>? Answers { get; set; }

    public string Address { get; private set; } = "";

    public IReadOnlyList<Received> All
    {
        get
        {
            lock (received)
            {
                return [.. received];
            }
        }
    }

    public static async Task<Receiver> Open()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(IPAddress.Loopback, 0));
        var receiver = new Receiver(builder.Build());
        receiver.app.Run(receiver.Take);
        await receiver.app.StartAsync();
        receiver.Address = receiver.app.Services.GetRequiredService<IServer>().Features.GetRequiredFeature<IServerAddressesFeature>().Addresses.First() + "/hooks";
        return receiver;
    }

    public void Forget()
    {
        lock (received)
        {
            received.Clear();
        }
    }

    public async ValueTask DisposeAsync() => await app.DisposeAsync();

    private async Task Take(HttpContext context)
    {
        using var bytes = new MemoryStream();
        await context.Request.Body.CopyToAsync(bytes);
        var one = new Received(WebhookHeaders.Of(context.Request.Headers), context.Request.ContentType, bytes.ToArray());
        int number;
        lock (received)
        {
            received.Add(one);
            number = received.Count;
        }

        context.Response.StatusCode = StatusCodes.Status204NoContent;
        if (Answers is { } answers)
        {
            await answers(one, number, context);
        }
    }
}
