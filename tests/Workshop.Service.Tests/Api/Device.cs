using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using NodaTime;
using NodaTime.Text;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Tests.Api;

/// <summary>What became of one event, as the device reads it: an answer, a problem, or one result of a batch.</summary>
public sealed record Told(HttpStatusCode Status, JsonElement Whole)
{
    /// <summary>The problem: the whole answer to one refused event, a member of a batch's result.</summary>
    public JsonElement Problem => Whole.TryGetProperty("problem", out var problem) ? problem : Whole;

    public string Outcome => Whole.TryGetProperty("outcome", out var outcome) ? outcome.GetString()! : "refused";

    public string Code => Problem.GetProperty("code").GetString()!;

    public string Gate => Problem.GetProperty("gate").GetString()!;

    /// <summary>Names of all gates that stand against it.</summary>
    public IEnumerable<string> Against => Problem.GetProperty("against").EnumerateArray().Select(one => one.GetProperty("gate").GetString()!);

    public IEnumerable<string> Pointers => Problem.GetProperty("errors").EnumerateArray().Select(one => one.GetProperty("pointer").GetString()!);

    public IEnumerable<string> Flags => Whole.GetProperty("flags").EnumerateArray().Select(flag => flag.GetString()!);

    public JsonElement Say => Whole.GetProperty("say");

    public string Line => Say.GetProperty("line").GetString()!;

    public string Signal => Say.GetProperty("signal").GetString()!;

    public IEnumerable<string> Cautions => Say.GetProperty("cautions").EnumerateArray().Select(caution => caution.GetProperty("id").GetString()!);

    public long Version => Whole.GetProperty("version").GetInt64();

    public Instant Effective => Moment("effective");

    public Instant Moment(string member) => InstantPattern.ExtendedIso.Parse(Whole.GetProperty(member).GetString()!).Value;

    public bool Replayed => Problem.TryGetProperty("replayed", out var replayed) && replayed.GetBoolean();
}

/// <summary>A device with a key of its own that speaks through the bench door, numbering what it says.</summary>
public sealed class Device
{
    private static int pairings;

    private readonly WorkshopHost host;
    private long sequence;

    private Device(WorkshopHost host, string source, HttpClient client)
    {
        this.host = host;
        Source = source;
        Client = client;
    }

    public string Source { get; }

    public HttpClient Client { get; }

    /// <summary>The instant the device reads from its clock: the workshop's own.</summary>
    public Instant Now => host.Clock.GetCurrentInstant();

    /// <param name="source">A new one unless told, as every pairing gives one.</param>
    public static Device Pair(WorkshopHost host, Role role = Role.Bench, string? source = null, string? bench = "bench-2")
    {
        source ??= $"/devices/{bench ?? "office"}/{Interlocked.Increment(ref pairings)}";
        return new Device(host, source, host.With(host.AddKey(role, source, bench)));
    }

    /// <summary>A device that was given its key and source.</summary>
    public static Device Of(WorkshopHost host, string source, string key) => new(host, source, host.With(key));

    /// <summary>An event as text, ready to be sent; time and sequence as the device has them unless told otherwise.</summary>
    /// <param name="time">Text as it goes over the wire; empty for none.</param>
    /// <param name="number">Null for the device's next.</param>
    public string Write(string type, string? subject, string data, string? id = null, string? time = null, long? number = null, string? source = null)
    {
        var next = number ?? ++sequence;
        var text = new JsonObject
        {
            ["specversion"] = "1.0",
            ["id"] = id ?? $"e-{next}",
            ["source"] = source ?? Source,
            ["type"] = type,
            ["sequence"] = $"{next}",
        };
        if (subject is not null)
        {
            text["subject"] = subject;
        }

        if (time is not "")
        {
            text["time"] = time ?? InstantPattern.ExtendedIso.Format(Now);
        }

        // The data go in as they are: what is kept byte for byte must not be written anew here.
        return $"{text.ToJsonString()[..^1]},\"data\":{data}}}";
    }

    /// <summary>What the device's clock shows as it posts; null for a device that does not say so.</summary>
    public Func<Instant>? Shows { get; set; }

    public Task<HttpResponseMessage> Send(string body, string mediaType = CloudEventReader.One, string query = "")
    {
        Client.DefaultRequestHeaders.Remove("Sent-At");
        if (Shows is { } shows)
        {
            Client.DefaultRequestHeaders.Add("Sent-At", InstantPattern.ExtendedIso.Format(shows()));
        }

        return Client.Send(HttpMethod.Post, $"/v1/bench-events{query}", body, mediaType);
    }

    /// <summary>The verdicts on what had been held, once there are so many; the wait is in real time.</summary>
    public async Task<Told[]> Outcomes(int atLeast, long after = 0)
    {
        for (var patience = 200; ; patience--)
        {
            using var answer = await Client.GetAsync($"/v1/devices/{Source.Split('/')[2]}/outcomes?after={after}");
            var items = (await answer.Json()).GetProperty("items").EnumerateArray().ToArray();
            if (items.Length >= atLeast || patience == 0)
            {
                return [.. items.Select(one => new Told(answer.StatusCode, one.GetProperty("result")))];
            }

            await Task.Delay(50);
        }
    }

    /// <summary>Sends one event; what every answer has to have is looked at here.</summary>
    public async Task<Told> Post(string text, string query = "")
    {
        using var answer = await Send(text, query: query);
        if (!answer.IsSuccessStatusCode)
        {
            await answer.Problem();
        }

        var told = new Told(answer.StatusCode, JsonElement.Parse(await answer.Content.ReadAsStringAsync()));
        if (answer.StatusCode is HttpStatusCode.OK or HttpStatusCode.Conflict or HttpStatusCode.UnprocessableEntity)
        {
            MustBeShowable(told);
        }

        return told;
    }

    public async Task<Told[]> PostBatch(params IEnumerable<string> events)
    {
        using var answer = await Send($"[{string.Join(',', events)}]", CloudEventReader.Batch);
        var results = (await answer.Json()).EnumerateArray().Select(one => new Told(answer.StatusCode, one)).ToArray();
        Array.ForEach(results, MustBeShowable);
        return results;
    }

    /// <summary>Says something of a job.</summary>
    /// <param name="at">When it happened; now unless told.</param>
    public Task<Told> Say(string job, string type, string data, Instant? at = null, string? id = null) =>
        Post(Write(type, job, data, id, at is { } then ? InstantPattern.ExtendedIso.Format(then) : null));

    private static void MustBeShowable(Told told)
    {
        // A line that was too long would have been cut off.
        Assert.InRange(told.Line.Length, 1, 60);
        Assert.False(told.Line.EndsWith('…'), told.Line);
        Assert.Contains(told.Signal, (string[])["ok", "ask", "stop"]);
        Assert.Equal(JsonValueKind.Array, told.Say.GetProperty("cautions").ValueKind);
    }
}
