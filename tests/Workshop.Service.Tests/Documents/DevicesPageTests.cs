using Workshop.Service.Trial;

namespace Workshop.Service.Tests.Documents;

/// <summary>The page for authors of clients, held to the trial.</summary>
public sealed class DevicesPageTests
{
    private static readonly string Page = Repository.Read("api-docs", "devices.md");

    [Fact]
    public void Every_situation_stands_on_the_page_in_order_with_what_it_asks()
    {
        var rows = Page[Page.IndexOf("## The situations", StringComparison.Ordinal)..].Split('\n').Where(line => line.StartsWith("| `", StringComparison.Ordinal));

        Assert.Equal(Situation.All.Select(situation => $"| `{situation.Name}` | {situation.Asks} |"), rows);
    }

    [Theory]
    [InlineData("reset")]
    [InlineData("clock")]
    [InlineData("say")]
    [InlineData("wake")]
    [InlineData("restart")]
    [InlineData("pair")]
    public void Every_request_of_the_trial_stands_on_the_page(string request)
    {
        Assert.Contains($"| `POST /trial/{request}` |", Page);
        Assert.Contains($"\"{request}\"", Repository.Read("src", "Workshop.Service", "Trial", "TriedDevice.cs"));
    }
}
