using System.Reflection;
using System.Text.RegularExpressions;
using Workshop.Core.Journal;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Documents;

/// <summary>The page of events says what the code says: every type, every member, every flag and verdict.</summary>
public partial class EventsPageTests
{
    private static readonly string Page = Repository.Read("api-docs", "events.md");

    public static TheoryData<string> Types => [.. EventCatalogue.Rows.Select(row => row.Type)];

    [Fact]
    public void Each_event_has_its_section_in_the_catalogues_order() =>
        Assert.Equal(EventCatalogue.Rows.Select(row => row.Type), Heading().Matches(Page).Select(heading => heading.Groups["type"].Value));

    [Theory, MemberData(nameof(Types))]
    public void A_section_lists_the_events_members_and_which_are_needed(string type)
    {
        var written = Member().Matches(Section(type)).Select(row => (row.Groups["name"].Value, row.Groups["needed"].Value == "yes"));

        Assert.Equal(MembersOf(EventCatalogue.RecordOf(type)!).Order(), written.Order());
    }

    [Theory, MemberData(nameof(Types))]
    public void A_sections_example_can_be_read_and_has_nothing_the_event_lacks(string type)
    {
        var read = EventCodec.Read(type, Example().Match(Section(type)).Groups["json"].Value);

        Assert.Empty(read.Faults);
        Assert.Empty(read.UnknownMembers);
        Assert.NotNull(read.Event);
    }

    [Fact]
    public void Every_flag_and_every_verdict_is_explained()
    {
        var flags = typeof(EntryFlag).GetFields(BindingFlags.Public | BindingFlags.Static).Select(field => (string)field.GetRawConstantValue()!);

        Assert.Equal(flags.Order(), RowsUnder("## Flags").Order());
        Assert.Equal(Word.All<WearVerdict>().Order(), RowsUnder("## Verdicts of a worn check").Order());
    }

    [Fact]
    public void The_chains_test_vector_is_what_the_code_computes()
    {
        var salt = Enumerable.Repeat((byte)1, ChainHash.Length).ToArray();
        var digest = ChainHash.Digest(salt, """{"stage":"cleaning"}""");
        var hash = ChainHash.Next(ChainHash.Beginning, new ChainLink
        {
            Site = "main",
            Position = 1,
            Stream = "job/J7K3MQ4T",
            StreamVersion = 1,
            Source = "/devices/bench-2/1",
            Id = "e-1",
            Effective = 1772442843000000,
            Type = "stage.started",
            Disposition = "applied",
            Digest = digest,
            Judged = "{}",
        });

        Assert.Contains($"- digest `{Convert.ToHexStringLower(digest)}`", Page);
        Assert.Contains($"- hash `{Convert.ToHexStringLower(hash)}`", Page);
    }

    private static IEnumerable<(string Name, bool Needed)> MembersOf(Type record) => WorkshopJson.Stored.GetTypeInfo(record).Properties
        .Where(property => property.Set is not null || property.AssociatedParameter is not null)
        .Select(property => (property.Name, property.IsRequired));

    private static string Section(string type)
    {
        var from = Page.IndexOf($"\n### {type}\n", StringComparison.Ordinal);
        Assert.True(from >= 0, $"There is no section about {type}.");
        var to = Page.IndexOf("\n##", from + 4, StringComparison.Ordinal);
        return to < 0 ? Page[from..] : Page[from..to];
    }

    private static IEnumerable<string> RowsUnder(string heading)
    {
        var from = Page.IndexOf($"\n{heading}\n", StringComparison.Ordinal);
        var to = Page.IndexOf("\n## ", from + 4, StringComparison.Ordinal);
        return FirstCell().Matches(Page[from..to]).Select(row => row.Groups["word"].Value);
    }

    [GeneratedRegex(@"^### (?<type>[a-z.-]+)$", RegexOptions.Multiline)]
    private static partial Regex Heading();

    [GeneratedRegex(@"^\| `(?<name>\w+)` \| [^|]* \| (?<needed>yes|) ?\|", RegexOptions.Multiline)]
    private static partial Regex Member();

    [GeneratedRegex(@"```json\n(?<json>.*?)\n```", RegexOptions.Singleline)]
    private static partial Regex Example();

    [GeneratedRegex(@"^\| `(?<word>[a-z-]+)` \|", RegexOptions.Multiline)]
    private static partial Regex FirstCell();
}
