using System.Collections.Concurrent;
using System.Net.Http.Headers;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using Workshop.Service.Tests.Documents;

namespace Workshop.Service.Tests.Trial;

/// <summary>
/// A device on which the bench's script runs: its storage outlives a power cut, its clock is set from outside, and the script has one
/// thread to itself, as in a browser.
/// </summary>
internal sealed class ScriptedBench : IAsyncDisposable
{
    private readonly BlockingCollection<Action> pending = [];
    private readonly Thread thread;
    private readonly ConcurrentDictionary<string, string> storage = [];
    private readonly string script;
    private ScriptedLife life;

    /// <param name="script">The text of the client; the one that is shipped unless told.</param>
    public ScriptedBench(string? script = null)
    {
        this.script = script ?? ShippedScript;
        life = new ScriptedLife(this, this.script);
        thread = new Thread(Loop) { IsBackground = true, Name = "bench" };
        thread.Start();
    }

    public static string ShippedScript { get; } = Repository.Read("src", "Workshop.Service", "Pages", "bench-client.js");

    /// <summary>What the device's clock shows.</summary>
    public Func<Instant> Clock { get; set; } = () => Instant.FromUtc(2026, 3, 2, 8, 0);

    /// <summary>It gives up waiting for an answer after so long, or earlier where the script says so.</summary>
    public TimeSpan AnswerWithin { get; set; } = TimeSpan.FromSeconds(20);

    /// <summary>The next answers are lost on the way back: the service has heard, the device has not.</summary>
    public int AnswersToLose { get; set; }

    /// <summary>What was shown to whoever stood before it, the oldest first; a power cut does not make it unseen.</summary>
    public ConcurrentQueue<JsonNode> Shown { get; } = [];

    public Task Pair(string service, string key, string source) => Call("pair", new { service, key, source });

    /// <summary>A person presses.</summary>
    public Task Say(string type, string subject, JsonNode data) => Call("say", new { type, subject, data });

    public Task Wake() => Call("wake");

    /// <summary>Its queue and the rest of what there is to see.</summary>
    public async Task<JsonObject> Look() => JsonNode.Parse(await Call("look"))!.AsObject();

    /// <summary>The power is cut and comes back: what was only in memory is gone, whatever was under way.</summary>
    public Task Restart(bool forgetting = false) => Do(() =>
    {
        life.End();
        if (forgetting)
        {
            storage.Clear();
            Shown.Clear();
        }

        life = new ScriptedLife(this, script);
    });

    public ValueTask DisposeAsync()
    {
        pending.CompleteAdding();
        thread.Join(TimeSpan.FromSeconds(5));
        return ValueTask.CompletedTask;
    }

    /// <summary>The same in every run; it goes on over power cuts, as chance does.</summary>
    internal Random Chance { get; } = new(20260302);

    internal string? Stored(string name) => storage.GetValueOrDefault(name);

    internal void Store(string name, string text) => storage[name] = text;

    /// <summary>Goes on later, on the script's thread.</summary>
    internal void Later(Action then)
    {
        if (!pending.IsAddingCompleted)
        {
            pending.Add(then);
        }
    }

    private async Task<string> Call(string method, object? argument = null)
    {
        var told = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        Later(() => life.Call(method, argument is null ? null : JsonSerializer.Serialize(argument), told));
        return await told.Task;
    }

    private Task Do(Action what)
    {
        var done = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        Later(() =>
        {
            try
            {
                what();
                done.SetResult();
            }
            catch (Exception failure)
            {
                done.SetException(failure);
            }
        });
        return done.Task;
    }

    private void Loop()
    {
        foreach (var next in pending.GetConsumingEnumerable())
        {
            next();
            life.Settle();
        }
    }
}

/// <summary>What a request of the script is to be, and what came of it.</summary>
internal sealed record ScriptedRequest(string Url, string Method, IReadOnlyList<(string Name, string Value)> Headers, string Body, bool FollowRedirects, TimeSpan Within)
{
    private static readonly HttpClient Following = new(new HttpClientHandler { AllowAutoRedirect = true });
    private static readonly HttpClient Staying = new(new HttpClientHandler { AllowAutoRedirect = false });

    /// <summary>Sends it as a browser would.</summary>
    /// <exception cref="HttpRequestException">There is no answer, or a redirection that is not to be followed.</exception>
    public async Task<(int Status, HttpResponseHeaders Headers, string Body)> Send()
    {
        using var request = new HttpRequestMessage(new HttpMethod(Method), Url) { Content = new StringContent(Body) };
        foreach (var (name, value) in Headers)
        {
            if (name.Equals("Content-Type", StringComparison.OrdinalIgnoreCase))
            {
                request.Content.Headers.ContentType = MediaTypeHeaderValue.Parse(value);
            }
            else
            {
                request.Headers.TryAddWithoutValidation(name, value);
            }
        }

        using var patience = new CancellationTokenSource(Within);
        using var answer = await (FollowRedirects ? Following : Staying).SendAsync(request, patience.Token);
        return (int)answer.StatusCode is >= 300 and < 400
            ? throw new HttpRequestException("A redirection is not followed.")
            : ((int)answer.StatusCode, answer.Headers, await answer.Content.ReadAsStringAsync(patience.Token));
    }
}
