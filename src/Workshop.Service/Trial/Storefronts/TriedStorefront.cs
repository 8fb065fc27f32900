using System.Collections.Immutable;
using System.Net.Http.Headers;
using System.Text.Json;
using Workshop.Service.Storage;

namespace Workshop.Service.Trial.Storefronts;

/// <summary>What a storefront knows of a watch from the messages it took.</summary>
internal sealed record KnownWatch
{
    public required long Version { get; init; }

    public string? Stage { get; init; }

    /// <summary>The newest version of a quote.</summary>
    public int? Quote { get; init; }
}

/// <summary>The state of the connector under trial, as it tells it.</summary>
internal sealed record StorefrontState
{
    /// <summary>Where it takes messages.</summary>
    public required Uri Hook { get; init; }

    /// <summary>Where it serves its inbox.</summary>
    public required Uri Inbox { get; init; }

    /// <summary>Messages it took, each counted once.</summary>
    public required int Heard { get; init; }

    /// <summary>By the label of a job or an arrival.</summary>
    public required ImmutableDictionary<string, KnownWatch> Watches { get; init; }

    /// <summary>Ids of events that the service has not taken yet.</summary>
    public required ImmutableArray<string> Waiting { get; init; }

    /// <summary>What lies where a person of the shop sees it.</summary>
    public required ImmutableArray<string> Attention { get; init; }
}

/// <summary>The connector under trial at the other end of its control interface. Every method fails with <see cref="NotHandledException"/> where it does not answer as it should.</summary>
/// <param name="url">The control interface's address.</param>
/// <param name="key">Its own key; it has nothing to do with any secret.</param>
internal sealed class TriedStorefront(Uri url, string key) : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    private readonly HttpClient client = new() { Timeout = Patience };

    /// <summary>Forgets everything and is joined from now on.</summary>
    public Task Reset(Uri service, string source, string secret, params string[] hookSecrets) =>
        Call("reset", new { service = service.ToString(), source, secret, hookSecrets });

    /// <summary>Gets another secret to sign with, or others by which messages are known; what is left out stays.</summary>
    public Task Secrets(string? secret = null, string[]? hookSecrets = null) => Call("secrets", new { secret, hookSecrets });

    /// <summary>A customer does something in the shop: it is kept; nothing is sent yet.</summary>
    public Task Tell(string type, object data) => Call("tell", new { type, data });

    /// <summary>May send; answers when nothing is left to do, or nothing can be done now.</summary>
    public Task Wake() => Call("wake", new { });

    public async Task<StorefrontState> State()
    {
        var text = await Ask(new HttpRequestMessage(HttpMethod.Get, Address("state")));
        try
        {
            return JsonSerializer.Deserialize<StorefrontState>(text, WorkshopJson.Options) ?? throw new NotHandledException("GET /trial/state answered null");
        }
        catch (JsonException error)
        {
            throw new NotHandledException($"GET /trial/state cannot be read at '{error.Path}'");
        }
    }

    /// <summary>A request of the service itself; any status is an answer.</summary>
    public async Task<HttpResponseMessage> Send(HttpRequestMessage request)
    {
        try
        {
            return await client.SendAsync(request);
        }
        catch (TaskCanceledException)
        {
            throw new NotHandledException($"{request.Method} {request.RequestUri} was not answered within {Patience.TotalSeconds:0} s");
        }
        catch (HttpRequestException silence)
        {
            throw new NotHandledException($"{request.Method} {request.RequestUri} was not answered: {silence.Message}");
        }
    }

    public void Dispose() => client.Dispose();

    private Task Call(string what, object body) =>
        Ask(new HttpRequestMessage(HttpMethod.Post, Address(what)) { Content = JsonContent.Create(body, options: WorkshopJson.Options) });

    private Uri Address(string what) => new($"{url.ToString().TrimEnd('/')}/trial/{what}");

    private async Task<string> Ask(HttpRequestMessage request)
    {
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        using var answer = await Send(request);
        return answer.IsSuccessStatusCode ? await answer.Content.ReadAsStringAsync()
            : throw new NotHandledException($"{request.Method} /trial/{request.RequestUri!.Segments[^1]} was answered {(int)answer.StatusCode}");
    }
}
