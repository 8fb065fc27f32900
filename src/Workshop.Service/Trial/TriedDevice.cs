using System.Collections.Immutable;
using System.Net.Http.Headers;
using System.Text.Json;
using NodaTime;
using Workshop.Service.Storage;

namespace Workshop.Service.Trial;

/// <summary>An event that waits at the device, or lies where a person sees it.</summary>
internal sealed record EventAtDevice
{
    public required string Id { get; init; }

    public string? Sequence { get; init; }
}

/// <summary>What the device showed to whoever stood before it.</summary>
internal sealed record ShownLine
{
    public required string Signal { get; init; }

    public required string Line { get; init; }

    public string? Helps { get; init; }
}

/// <summary>The state of the client under trial, as it tells it.</summary>
internal sealed record DeviceState
{
    /// <summary>Events the service has not answered for good.</summary>
    public required ImmutableArray<EventAtDevice> Queue { get; init; }

    /// <summary>Events that cannot be taken as they are and wait for a person.</summary>
    public required ImmutableArray<EventAtDevice> SetAside { get; init; }

    /// <summary>Everything shown since the reset, the oldest first.</summary>
    public required ImmutableArray<ShownLine> Shown { get; init; }

    /// <summary>False once it asks to be paired anew.</summary>
    public required bool Paired { get; init; }

    /// <summary>By the device's own clock; none when it may send.</summary>
    public Instant? PausedUntil { get; init; }
}

/// <summary>
/// The client under trial at the other end of its control interface, by which the trial plays the person, the clock and the power. Every
/// method fails with <see cref="NotHandledException"/> where the client does not answer as it should.
/// </summary>
/// <param name="url">The control interface's address.</param>
/// <param name="key">The control interface's own key; it has nothing to do with the keys of a service.</param>
internal sealed class TriedDevice(Uri url, string key) : IDisposable
{
    /// <summary>So long may a call take by the machine's time, sending included.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    private readonly HttpClient client = new() { Timeout = Patience };

    /// <summary>Forgets everything and is paired from now on.</summary>
    /// <param name="answerWithin">After so long it gives up waiting for an answer.</param>
    public Task Reset(Uri service, string deviceKey, string source, Instant now, Duration answerWithin) => Call("reset", new
    {
        service = service.ToString(),
        key = deviceKey,
        source,
        now,
        answerWithinMilliseconds = (long)answerWithin.TotalMilliseconds,
    });

    /// <summary>Loses all that is only in memory, also in the midst of sending, and starts on what was stored.</summary>
    public Task Restart() => Call("restart", new { });

    /// <summary>Gets another key, and perhaps another source.</summary>
    public Task Pair(Uri service, string deviceKey, string source) => Call("pair", new { service = service.ToString(), key = deviceKey, source });

    /// <summary>Its clock shows this, and stands still.</summary>
    public Task Clock(Instant now) => Call("clock", new { now });

    /// <summary>A person presses or scans; nothing is sent yet, but it is kept.</summary>
    public Task Say(string type, string subject, object data) => Call("say", new { type, subject, data });

    /// <summary>May send; answers when there is nothing more to be done by its clock.</summary>
    public Task Wake() => Call("wake", new { });

    public async Task<DeviceState> State()
    {
        var text = await Ask(new HttpRequestMessage(HttpMethod.Get, Address("state")));
        try
        {
            return JsonSerializer.Deserialize<DeviceState>(text, WorkshopJson.Options) ?? throw new NotHandledException("GET /trial/state answered null");
        }
        catch (JsonException error)
        {
            throw new NotHandledException($"GET /trial/state cannot be read at '{error.Path}'");
        }
    }

    public void Dispose() => client.Dispose();

    private Task Call(string what, object body) =>
        Ask(new HttpRequestMessage(HttpMethod.Post, Address(what)) { Content = JsonContent.Create(body, options: WorkshopJson.Options) });

    private Uri Address(string what) => new($"{url.ToString().TrimEnd('/')}/trial/{what}");

    private async Task<string> Ask(HttpRequestMessage request)
    {
        var name = $"{request.Method} /trial/{request.RequestUri!.Segments[^1]}";
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        using (request)
        {
            try
            {
                using var answer = await client.SendAsync(request);
                return answer.IsSuccessStatusCode ? await answer.Content.ReadAsStringAsync() : throw new NotHandledException($"{name} was answered {(int)answer.StatusCode}");
            }
            catch (TaskCanceledException)
            {
                throw new NotHandledException($"{name} was not answered within {Patience.TotalSeconds:0} s");
            }
            catch (HttpRequestException silence)
            {
                throw new NotHandledException($"{name} was not answered: {silence.Message}");
            }
        }
    }
}
