using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using NodaTime;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;
using Workshop.Service.Tests.Api.Jobs;
using Workshop.Service.Tests.Api.PublicPages;
using Workshop.Service.Tests.Letters;
using Workshop.Service.Tests.Storage;

namespace Workshop.Service.Tests.Api.Oneself;

/// <summary>What whoever watches over the program is told of it.</summary>
public partial class MetricsTests
{
    // Every label that a figure may have; their values are words of closed lists, or numbers.
    private static readonly string[] Labels =
        ["http_request_method", "http_route", "http_response_status_code", "outcome", "task", "le", "otel_scope_name", "service_name", "telemetry_sdk_language", "telemetry_sdk_name", "telemetry_sdk_version"];

    [Theory, BothEngines]
    public async Task Requests_are_told_by_the_pattern_of_their_address_and_the_workshop_by_what_it_did(StorageEngine engine)
    {
        await using var mail = new MailServer();
        await using var host = await LetterTests.Open(mail, engine);
        Assert.Equal(HttpStatusCode.Unauthorized, (await host.Stranger.GetAsync("/metrics")).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await host.Desk.GetAsync("/metrics")).StatusCode);
        Assert.Equal(HttpStatusCode.MethodNotAllowed, (await host.As(Role.Operator).PostJson("/metrics", "{}")).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await host.As(Role.Operator).GetAsync("/v1/jobs")).StatusCode);

        var (before, written) = (await Scrape(host), await Entries(host));
        var job = await host.TakeIn();
        var page = await PublicPageTests.Link(host, job, "status");
        await host.Stranger.GetAsync(page);
        await host.Stranger.GetAsync("/v1/public/nobody-made-this");
        await host.Stranger.GetAsync($"/v1/nothing-here/{job}?customer=Marlow");
        var bench = Device.Pair(host);
        var said = bench.Write("note.written", job, """{ "text": "a note" }""");
        await bench.Post(said);
        await bench.Post(said);
        mail.Recipient = "451 later";
        await LetterTests.Round(host);
        host.Clock.Advance(Duration.FromHours(1));

        using var answer = await host.As(Role.Operator).GetAsync("/metrics");
        Assert.Equal("text/plain", answer.Content.Headers.ContentType!.MediaType);
        var told = await answer.Content.ReadAsStringAsync();
        AssertLabels(told);
        Assert.Equal("1", Value(told, "http_server_request_duration_seconds_count", "http_route=\"/v1/public/{token}/\"", "http_response_status_code=\"200\""));
        Assert.Equal("1", Value(told, "http_server_request_duration_seconds_count", "http_route=\"/v1/public/{token}/\"", "http_response_status_code=\"404\""));
        Assert.Equal(await Entries(host) - written, Number(told, "workshop_entries_total") - Number(before, "workshop_entries_total"));
        Assert.Equal(("1", "1"), (Value(told, "workshop_events_received_total", "outcome=\"accepted\""), Value(told, "workshop_events_received_total", "outcome=\"replayed\"")));
        Assert.Equal(("1", "1", "0"), (Value(told, "workshop_letters_total", "outcome=\"failed\""), Value(told, "workshop_letters_waiting"), Value(told, "workshop_letters_unsent")));
        Assert.Equal(("1", "0", "0"), (Value(told, "workshop_storage_reachable"), Value(told, "workshop_deliveries_waiting"), Value(told, "workshop_recordings_waiting")));
        Assert.NotEqual("0", Value(told, "workshop_turns_together_count"));
        foreach (var secret in new[] { job, page.Split('/')[^1], "nobody-made-this", "nothing-here", "Marlow" })
        {
            Assert.DoesNotContain(secret, told);
        }
    }

    internal static async Task<string> Scrape(WorkshopHost host)
    {
        using var answer = await host.As(Role.Operator).GetAsync("/metrics");
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return await answer.Content.ReadAsStringAsync();
    }

    /// <summary>No figure has a label but those it may have.</summary>
    internal static void AssertLabels(string told)
    {
        var figures = told.Split('\n').Where(line => line.Length > 0 && line[0] != '#').ToArray();
        Assert.NotEmpty(figures);
        var foreign = figures.SelectMany(line => Label().Matches(line).Select(found => found.Groups[1].Value)).Distinct().Except(Labels).ToArray();
        Assert.True(foreign.Length == 0, $"labels that no figure has: {string.Join(", ", foreign)}");
    }

    private static Task<long> Entries(WorkshopHost host) => host.QueryFirst<long>("select count(*) from journal where site = 'main'");

    private static long Number(string told, string name) => long.Parse(Value(told, name), CultureInfo.InvariantCulture);

    internal static string Value(string told, string name, params string[] labels)
    {
        var line = Assert.Single(told.Split('\n'), line => (line.StartsWith($"{name}{{", StringComparison.Ordinal) || line.StartsWith($"{name} ", StringComparison.Ordinal)) && labels.All(label => line.Contains(label)));
        return line[(line.LastIndexOf('}') + 1)..].Trim().Split(' ')[0];
    }

    [GeneratedRegex("""[{,]([a-z_]+)=""")]
    private static partial Regex Label();
}
