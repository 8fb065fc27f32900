using System.Text.RegularExpressions;

namespace Workshop.Service.Tests.Documents;

/// <summary>The page of events, by its sections.</summary>
internal static partial class EventsPage
{
    public static readonly string Text = Repository.Read("api-docs", "events.md");

    /// <summary>The types that have a section, in its order.</summary>
    public static IEnumerable<string> Types => Heading().Matches(Text).Select(heading => heading.Groups["type"].Value);

    public static string Section(string type)
    {
        var from = Text.IndexOf($"\n### {type}\n", StringComparison.Ordinal);
        Assert.True(from >= 0, $"There is no section about {type}.");
        var to = Text.IndexOf("\n##", from + 4, StringComparison.Ordinal);
        return to < 0 ? Text[from..] : Text[from..to];
    }

    /// <summary>The example of an event's data.</summary>
    public static string Example(string type) => Json().Match(Section(type)).Groups["json"].Value;

    [GeneratedRegex(@"^### (?<type>[a-z.-]+)$", RegexOptions.Multiline)]
    private static partial Regex Heading();

    [GeneratedRegex(@"```json\n(?<json>.*?)\n```", RegexOptions.Singleline)]
    private static partial Regex Json();
}
