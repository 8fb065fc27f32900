using System.Globalization;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Xml.Linq;
using NodaTime;
using NodaTime.Text;
using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>Something did not go as the walk had told.</summary>
internal sealed class WalkFailedException(string sentence) : Exception(sentence);

/// <summary>What was answered: the status, the body, and the line of it worth reading.</summary>
internal sealed record WalkAnswer(int Status, JsonNode? Body)
{
    /// <summary>A text somewhere in the body: <c>say.line</c>.</summary>
    public string? Text(string path) => At(path) is JsonValue value && value.TryGetValue<string>(out var text) ? text : null;

    public JsonNode? At(string path) => path.Split('.').Aggregate(Body, (node, name) => node is JsonObject inside ? inside[name] : null);

    /// <summary>The sentence for whoever asked, where there is one.</summary>
    public string? Line => Text("say.line") ?? Text("detail");

    /// <summary>Members worth reading, with their names.</summary>
    public string Members(IEnumerable<string> paths) =>
        string.Join(", ", paths.Select(path => $"{path.Split('.')[^1]} {At(path)?.ToJsonString(WalkTeller.Plain).Trim('"') ?? "none"}"));
}

/// <summary>Speaks to a demo over HTTP and tells what it asks and what it is answered.</summary>
internal sealed class WalkTeller(DemoAddress demo, HttpClient client, TextWriter tell, CancellationToken cancel)
{
    public static readonly JsonSerializerOptions Plain = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private const int Width = 132;

    private static readonly ZonedDateTimePattern DayAndHour = ZonedDateTimePattern.CreateWithInvariantCulture("dddd d MMMM uuuu, HH:mm", null);

    private int chapters;

    /// <summary>The demo's own time.</summary>
    public async Task<ZonedDateTime> Now() =>
        InstantPattern.ExtendedIso.Parse((await Send(HttpMethod.Get, "/demo/clock", role: null, body: null)).Text("now")!).Value.InZone(DemoTown.Zone);

    public async Task Chapter(string title, string text)
    {
        await tell.WriteLineAsync($"\n{++chapters}. {title}   ({DayAndHour.Format(await Now())})".AsMemory(), cancel);
        await Say(text);
    }

    public Task Say(string text) => tell.WriteLineAsync($"   {text}".AsMemory(), cancel);

    /// <summary>Asks with the key of a role.</summary>
    /// <param name="status">What has to be answered; anything else ends the walk.</param>
    /// <param name="show">Members of the answer that are told.</param>
    public async Task<WalkAnswer> Ask(string role, HttpMethod method, string path, JsonNode? body = null, int status = 200, params string[] show)
    {
        await tell.WriteLineAsync(Short($"   → {method} {path}{(body is null ? "" : $"  {body.ToJsonString(Plain)}")}").AsMemory(), cancel);
        var answer = await Send(method, path, role, body);
        var line = answer.Line ?? (answer.At("items") is JsonArray { Count: var lines } ? $"{lines} lines" : answer.Members(show));
        await tell.WriteLineAsync($"   ← {answer.Status}  {line}".AsMemory(), cancel);
        Expect(answer.Status == status, $"{method} {path} was answered {answer.Status}, not {status}: {answer.Line}");
        return answer;
    }

    /// <summary>Saves anew what the walk has made.</summary>
    public async Task Change(string role, string path, JsonNode body, params string[] show)
    {
        await tell.WriteLineAsync(Short($"   → PUT {path}  {body.ToJsonString(Plain)}").AsMemory(), cancel);
        var answer = await Send(HttpMethod.Put, path, role, body, seen: true);
        await tell.WriteLineAsync($"   ← {answer.Status}  {answer.Line ?? answer.Members(show)}".AsMemory(), cancel);
        Expect(answer.Status == 200, $"PUT {path} was answered {answer.Status}: {answer.Line}");
    }

    /// <summary>Says something at the door of the benches, as the device of a role.</summary>
    /// <param name="job">Null for what is of no watch.</param>
    public async Task<WalkAnswer> Event(string role, string type, string? job, JsonObject data, int status = 200)
    {
        var sent = new JsonObject
        {
            ["specversion"] = "1.0",
            ["id"] = Guid.CreateVersion7((await Now()).ToDateTimeOffset()).ToString(),
            ["source"] = demo.Sources[role],
            ["type"] = type,
            ["data"] = data,
        };
        if (job is not null)
        {
            sent["subject"] = job;
        }

        await tell.WriteLineAsync(Short($"   → POST /v1/bench-events  {type}  {data.ToJsonString(Plain)}").AsMemory(), cancel);
        var answer = await Send(HttpMethod.Post, "/v1/bench-events", role, sent, "application/cloudevents+json");
        var code = answer.Text("outcome") ?? answer.Text("code");
        await tell.WriteLineAsync($"   ← {answer.Status}  {code}: {answer.Line}".AsMemory(), cancel);
        Expect(answer.Status == status, $"{type} was answered {answer.Status}, not {status}: {answer.Line}");
        Expect(status != 200 || code == "accepted", $"{type} was {code}, not accepted: {answer.Line}");
        return answer;
    }

    /// <summary>Sends a file under its name, a photo or a recording.</summary>
    public async Task<WalkAnswer> File(string role, string path, byte[] file, string mediaType, params string[] show)
    {
        await tell.WriteLineAsync(Short($"   → PUT {path}  {file.Length} bytes").AsMemory(), cancel);
        using var request = new HttpRequestMessage(HttpMethod.Put, new Uri(demo.Url, path)) { Content = new ByteArrayContent(file) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(mediaType);
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", demo.Keys[role]);
        var answer = await Send(request);
        await tell.WriteLineAsync($"   ← {answer.Status}  {answer.Line ?? answer.Members(show)}".TrimEnd().AsMemory(), cancel);
        Expect(answer.Status is 200 or 201, $"The file was answered {answer.Status}: {answer.Line}");
        return answer;
    }

    /// <summary>Asks for a drawing and tells what is written in it.</summary>
    public async Task Drawing(string role, string path)
    {
        await tell.WriteLineAsync($"   → GET {path}".AsMemory(), cancel);
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri(demo.Url, path));
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", demo.Keys[role]);
        using var answer = await client.SendAsync(request, cancel);
        var body = await answer.Content.ReadAsStringAsync(cancel);
        await tell.WriteLineAsync($"   ← {(int)answer.StatusCode}  {answer.Content.Headers.ContentType?.MediaType}, {body.Length} letters".AsMemory(), cancel);
        Expect(answer.IsSuccessStatusCode, $"The drawing was answered {(int)answer.StatusCode}.");
        string[] written = [.. XDocument.Parse(body).Descendants().Where(element => element.Name.LocalName == "text").Select(element => element.Value.Trim()).Where(text => text.Length > 0)];
        Expect(written.Length > 0, "Nothing is written in the drawing.");
        await Say($"Written in it: {string.Join(" · ", written)}");
    }

    /// <summary>Lets time pass in the demo; whatever falls due meanwhile is announced.</summary>
    public async Task Wait(Duration by)
    {
        var text = JsonSerializer.Serialize(Duration.FromSeconds((long)Math.Ceiling(by.TotalSeconds)), WorkshopJson.Options).Trim('"');
        await tell.WriteLineAsync($"   → POST /demo/clock/advance  {{\"by\":\"{text}\"}}".AsMemory(), cancel);
        var answer = await Send(HttpMethod.Post, "/demo/clock/advance", role: null, new JsonObject { ["by"] = text });
        Expect(answer.Status == 200, $"The demo's clock could not be moved: {answer.Line}");
        await tell.WriteLineAsync($"   ← it is {DayAndHour.Format(await Now())}".AsMemory(), cancel);
    }

    /// <summary>Waits for a local time on a day to come.</summary>
    public async Task WaitUntil(LocalDate day, LocalTime time)
    {
        var by = (day + time).InZoneLeniently(DemoTown.Zone).ToInstant() - (await Now()).ToInstant();
        if (by > Duration.Zero)
        {
            await Wait(by);
        }
    }

    /// <summary>Waits for the next morning of a weekday.</summary>
    /// <param name="withTomorrow">And the next day is a weekday too: whoever starts something that takes a day is there to look at it.</param>
    public async Task WaitForMorning(bool withTomorrow = false)
    {
        var day = (await Now()).Date.PlusDays(1);
        while (day.DayOfWeek is IsoDayOfWeek.Saturday or IsoDayOfWeek.Sunday || (withTomorrow && day.DayOfWeek == IsoDayOfWeek.Friday))
        {
            day = day.PlusDays(1);
        }

        await WaitUntil(day, new LocalTime(9, 30));
    }

    /// <exception cref="WalkFailedException">It is not so.</exception>
    public void Expect(bool holds, string otherwise)
    {
        if (!holds)
        {
            throw new WalkFailedException(otherwise);
        }
    }

    public static string Short(string text) => text.Length <= Width ? text : $"{text[..(Width - 1)]}…";

    private async Task<WalkAnswer> Send(HttpMethod method, string path, string? role, JsonNode? body, string mediaType = "application/json", bool seen = false)
    {
        using var request = new HttpRequestMessage(method, new Uri(demo.Url, path));
        if (role is not null)
        {
            request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", demo.Keys[role]);
        }

        // Nobody else edits what the walk has just made.
        if (seen || method == HttpMethod.Patch)
        {
            request.Headers.IfMatch.Add(EntityTagHeaderValue.Any);
        }

        if (body is not null)
        {
            request.Content = new StringContent(body.ToJsonString(WorkshopJson.Options), Encoding.UTF8, method == HttpMethod.Patch ? "application/merge-patch+json" : mediaType);
        }

        return await Send(request);
    }

    private async Task<WalkAnswer> Send(HttpRequestMessage request)
    {
        using var answer = await client.SendAsync(request, cancel);
        var text = await answer.Content.ReadAsStringAsync(cancel);
        try
        {
            return new WalkAnswer((int)answer.StatusCode, text.Length == 0 ? null : JsonNode.Parse(text));
        }
        catch (JsonException)
        {
            throw new WalkFailedException(string.Create(CultureInfo.InvariantCulture, $"{request.Method} {request.RequestUri?.PathAndQuery} was answered {(int)answer.StatusCode} with something that is no JSON."));
        }
    }
}
