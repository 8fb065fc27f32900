using System.Text.Json;
using System.Text.RegularExpressions;
using Workshop.Core.Journal;
using Workshop.Service.Storage;

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

    [GeneratedRegex(@"^\{""specversion"".*$", RegexOptions.Multiline)]
    private static partial Regex Event();

    [GeneratedRegex(@"\\\{\w+}")]
    private static partial Regex Parameter();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Blank();
}
