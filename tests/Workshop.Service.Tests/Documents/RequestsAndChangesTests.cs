using System.Net.Http.Headers;
using System.Text.Json;
using System.Text.RegularExpressions;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Journal;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api;

namespace Workshop.Service.Tests.Documents;

/// <summary>The page of requests can be sent as it stands, and the page of changes names everything there is.</summary>
public partial class RequestsAndChangesTests
{
    private const string SomeLabel = "J2222225";

    private static readonly string Requests = Repository.Read("api-docs", "workshop.http");
    private static readonly string Changes = Repository.Read("api-docs", "changelog.md");
    private static readonly JsonElement Description = JsonDocument.Parse(Repository.Read("api-docs", "openapi.json")).RootElement;

    [Fact]
    public void Each_request_is_one_the_service_answers()
    {
        // The demo's own addresses are in no description.
        var sent = Request().Matches(Requests).Select(match => (Method: match.Groups["method"].Value, Path: match.Groups["path"].Value)).Where(one => !one.Path.StartsWith("/demo/", StringComparison.Ordinal)).ToList();

        Assert.True(sent.Count > 25, $"only {sent.Count} requests were found");
        Assert.All(sent, one => Assert.Contains(Operations(), known => known.Method == one.Method && Fits(known.Path, one.Path)));
    }

    [Fact]
    public void Whatever_is_read_whole_or_of_one_job_has_its_request()
    {
        var sent = Request().Matches(Requests).Where(match => match.Groups["method"].Value == "GET").Select(match => match.Groups["path"].Value).ToList();
        var read = Operations().Where(one => one.Method == "GET" && !one.Path.StartsWith("/health", StringComparison.Ordinal) && !one.Path.Replace("{label}", "", StringComparison.Ordinal).Contains('{')).ToList();

        Assert.True(read.Count > 30, $"only {read.Count} addresses were found");
        Assert.All(read, one => Assert.True(sent.Any(path => Fits(one.Path, path)), $"no request to {one.Path}"));
    }

    [Fact]
    public async Task Sent_one_after_another_they_tell_one_watchs_whole_life()
    {
        await using var host = await WorkshopHost.Start();
        var values = Variable().Matches(Requests).ToDictionary(match => match.Groups["name"].Value, match => match.Groups["value"].Value);
        values["address"] = host.Address.ToString().TrimEnd('/');
        foreach (var (name, role) in (ReadOnlySpan<(string, Role)>)[("desk", Role.Desk), ("bench", Role.Bench), ("manager", Role.Manager)])
        {
            values[name] = host.AddKey(role, role == Role.Bench ? values["benchSource"] : role == Role.Desk ? values["deskSource"] : values["managerSource"]);
        }

        using var client = new HttpClient();
        foreach (var block in Requests.Split("\n### ")[1..])
        {
            var (title, request) = Read(Placeholder().Replace(block, match => values[match.Groups["name"].Value]));
            if (request.RequestUri!.AbsolutePath.StartsWith("/demo/clock", StringComparison.Ordinal))
            {
                await MoveClock(host, JsonElement.Parse(await request.Content!.ReadAsStringAsync()));
                continue;
            }

            host.Clock.Advance(Duration.FromSeconds(1));
            using var answer = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead);

            // A stream has no end.
            var text = answer.Content.Headers.ContentType?.MediaType == "text/event-stream" ? "" : await answer.Content.ReadAsStringAsync();
            Assert.True(answer.IsSuccessStatusCode, $"{title}: {(int)answer.StatusCode} {text}");
            if (title.StartsWith("A watch is told of by telephone", StringComparison.Ordinal))
            {
                values["arrival"] = JsonElement.Parse(text).GetProperty("label").GetString()!;
            }

            if (title == "The desk takes the watch in")
            {
                values["job"] = JsonElement.Parse(text).GetProperty("label").GetString()!;
                values["customer"] = (await (await host.Desk.GetAsync($"/v1/jobs/{values["job"]}")).Json()).GetProperty("customer").GetProperty("id").GetString()!;
            }
            else if (title.StartsWith("A calendar of", StringComparison.Ordinal))
            {
                values["feed"] = JsonElement.Parse(text).GetProperty("address").GetString()!.Split('/')[^1];
            }
        }

        var warranty = await (await host.Desk.GetAsync($"/v1/jobs/{values["job"]}/warranty")).Json();
        Assert.Equal(10, warranty.GetProperty("lines").EnumerateArray().Single(line => line.GetProperty("line").GetString() == "movement").GetProperty("extensionDays").GetInt32());
    }

    [Fact]
    public void Each_event_in_it_can_be_read_and_has_nothing_nobody_knows()
    {
        var events = Event().Matches(Requests).Select(match => JsonDocument.Parse(match.Value.Replace("{{job}}", SomeLabel, StringComparison.Ordinal)).RootElement).ToList();

        Assert.True(events.Count > 15, $"only {events.Count} events were found");
        Assert.All(events, one =>
        {
            var read = EventCodec.Read(one.GetProperty("type").GetString()!, one.GetProperty("data").GetRawText());
            Assert.Empty(read.Faults);
            Assert.Empty(read.UnknownMembers);
            Assert.Equal(SentBy.Bench, EventCatalogue.SenderOf(one.GetProperty("type").GetString()!));
        });
    }

    [Fact]
    public void The_page_of_changes_names_every_address_and_every_event()
    {
        var words = Blank().Replace(Changes, " ");

        Assert.All(Operations(), one => Assert.Contains($"`{one.Method} {one.Path}`", words));
        Assert.All(EventCatalogue.Rows, row => Assert.Contains($"`{row.Type}`", words));
    }

    /// <summary>One block of the page: its title, the line with the request, headers, and after a blank line the body.</summary>
    private static (string Title, HttpRequestMessage Request) Read(string block)
    {
        var lines = block.TrimEnd().Split('\n');
        var first = lines[1].Split(' ');
        var request = new HttpRequestMessage(new HttpMethod(first[0]), first[1]);
        var headers = lines[2..].TakeWhile(line => line.Length > 0).Select(line => line.Split(": ", 2)).ToDictionary(header => header[0], header => header[1]);
        if (headers.Remove("Content-Type", out var mediaType))
        {
            request.Content = new StringContent(string.Join('\n', lines[2..].SkipWhile(line => line.Length > 0)).Trim(), MediaTypeHeaderValue.Parse(mediaType));
        }

        foreach (var (name, value) in headers)
        {
            request.Headers.TryAddWithoutValidation(name, value);
        }

        return (lines[0], request);
    }

    // What a demo does with its clock; nothing that falls due on the way is of interest here.
    private static Task MoveClock(WorkshopHost host, JsonElement body)
    {
        if (body.TryGetProperty("now", out var now))
        {
            host.Clock.Reset(InstantPattern.ExtendedIso.Parse(now.GetString()!).Value);
            return Task.CompletedTask;
        }

        return host.Advance(PeriodPattern.NormalizingIso.Parse(body.GetProperty("by").GetString()!).Value.ToDuration());
    }

    private static IEnumerable<(string Method, string Path)> Operations() =>
        from path in Description.GetProperty("paths").EnumerateObject()
        from operation in path.Value.EnumerateObject()
        where operation.Name is "get" or "post" or "put" or "patch" or "delete"
        select (operation.Name.ToUpperInvariant(), path.Name);

    // {label} fits {{job}}, {claim} fits 1.
    private static bool Fits(string template, string path) =>
        Regex.IsMatch(path, $"^{Parameter().Replace(Regex.Escape(template), "[^/]+")}$");

    [GeneratedRegex(@"^(?<method>GET|POST|PUT|PATCH|DELETE) \{\{address\}\}(?<path>[^?\s]*)", RegexOptions.Multiline)]
    private static partial Regex Request();

    [GeneratedRegex(@"^@(?<name>\w+) = (?<value>.*)$", RegexOptions.Multiline)]
    private static partial Regex Variable();

    [GeneratedRegex(@"\{\{(?<name>\w+)}}")]
    private static partial Regex Placeholder();

    [GeneratedRegex(@"^\{""specversion"".*$", RegexOptions.Multiline)]
    private static partial Regex Event();

    [GeneratedRegex(@"\\\{\w+}")]
    private static partial Regex Parameter();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Blank();
}
