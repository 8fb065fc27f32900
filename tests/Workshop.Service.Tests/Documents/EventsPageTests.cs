using System.Reflection;
using System.Text.RegularExpressions;
using Workshop.Core.Gates;
using Workshop.Core.Journal;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Documents;

/// <summary>The page of events says what the code says: every type, every member, every flag and verdict.</summary>
public partial class EventsPageTests
{
    public static TheoryData<string> Types => [.. EventCatalogue.Rows.Select(row => row.Type)];

    [Fact]
    public void Each_event_has_its_section_in_the_catalogues_order() =>
        Assert.Equal(EventCatalogue.Rows.Select(row => row.Type), EventsPage.Types);

    [Theory, MemberData(nameof(Types))]
    public void A_section_lists_the_events_members_and_which_are_needed(string type)
    {
        var written = Member().Matches(EventsPage.Section(type)).Select(row => (row.Groups["name"].Value, row.Groups["needed"].Value == "yes"));

        Assert.Equal(MembersOf(EventCatalogue.RecordOf(type)!).Order(), written.Order());
    }

    [Theory, MemberData(nameof(Types))]
    public void A_sections_example_can_be_read_and_has_nothing_the_event_lacks(string type)
    {
        var read = EventCodec.Read(type, EventsPage.Example(type));

        Assert.Empty(read.Faults);
        Assert.Empty(read.UnknownMembers);
        Assert.NotNull(read.Event);
    }

    [Theory, MemberData(nameof(Types))]
    public void A_section_begins_with_what_the_event_means_and_says_what_it_does_to_stages(string type)
    {
        var section = EventsPage.Section(type).Split('\n', StringSplitOptions.RemoveEmptyEntries);

        Assert.Matches("^[A-Z].*[.]$", section[1]);
        Assert.Single(section, line => line.StartsWith("Stages: ", StringComparison.Ordinal));
    }

    [Fact]
    public void Every_gate_there_is_stands_at_an_event_and_no_other_is_named()
    {
        var named = Gate().Matches(string.Join('\n', EventsPage.Types.SelectMany(type => EventsPage.Section(type).Split('\n').Where(line => line.StartsWith("Gates: ", StringComparison.Ordinal)))))
            .Select(gate => gate.Groups["gate"].Value)
            .Where(word => !ProblemWords.Contains(word))
            .Distinct();

        Assert.Equal(GateTable.All.Select(gate => gate.Family).Order(StringComparer.Ordinal), named.Order(StringComparer.Ordinal));
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

        Assert.Contains($"- digest `{Convert.ToHexStringLower(digest)}`", EventsPage.Text);
        Assert.Contains($"- hash `{Convert.ToHexStringLower(hash)}`", EventsPage.Text);
    }

    /// <summary>What the lines about gates name besides gates: codes of refusals that differ from the gate's name, and members.</summary>
    private static readonly string[] ProblemWords = [.. GateTable.All.Where(gate => gate.Code != gate.Family).Select(gate => gate.Code), "holder", "since", "to", "stage"];

    private static IEnumerable<(string Name, bool Needed)> MembersOf(Type record) => WorkshopJson.Stored.GetTypeInfo(record).Properties
        .Where(property => property.Set is not null || property.AssociatedParameter is not null)
        .Select(property => (property.Name, property.IsRequired));

    private static IEnumerable<string> RowsUnder(string heading)
    {
        var from = EventsPage.Text.IndexOf($"\n{heading}\n", StringComparison.Ordinal);
        var to = EventsPage.Text.IndexOf("\n## ", from + 4, StringComparison.Ordinal);
        return FirstCell().Matches(EventsPage.Text[from..to]).Select(row => row.Groups["word"].Value);
    }

    [GeneratedRegex(@"^\| `(?<name>\w+)` \| [^|]* \| (?<needed>yes|) ?\|", RegexOptions.Multiline)]
    private static partial Regex Member();

    [GeneratedRegex(@"`(?<gate>[a-z-]+)(/[^`]*)?`")]
    private static partial Regex Gate();

    [GeneratedRegex(@"^\| `(?<word>[a-z-]+)` \|", RegexOptions.Multiline)]
    private static partial Regex FirstCell();
}
