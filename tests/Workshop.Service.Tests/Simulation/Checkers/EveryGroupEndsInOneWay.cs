using System.Text.Json;
using Workshop.Core.Corrections;
using Workshop.Core.Groups;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Route;

namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>
/// What the stored job says of each group is what the last word about it says, in the order in which things happened; found here once
/// more from the entries alone, word by word.
/// </summary>
internal sealed class EveryGroupEndsInOneWay : IChecker
{
    private const string DocumentsSql = """
        select label, document
        from job
        where site = @site
        order by label
        """;

    public IEnumerable<string> FaultsIn(Evidence evidence)
    {
        var entries = evidence.Jobs.ToDictionary(one => one.Label, one => one.Entries);
        foreach (var row in evidence.Rows<Stored>(DocumentsSql))
        {
            var stored = StatesIn(row.Document);
            var words = LastWords(entries[Label.Read(row.Label)]);
            foreach (var group in stored.Keys.Union(words.Keys).Order(StringComparer.Ordinal))
            {
                if (stored.GetValueOrDefault(group) is var kept && words.GetValueOrDefault(group) is var said && kept != said)
                {
                    yield return $"{row.Label}: the stored job says of {group} '{kept}', its entries '{said}'.";
                }
            }
        }
    }

    private static Dictionary<string, string> StatesIn(string document)
    {
        var root = JsonElement.Parse(document);
        return !root.TryGetProperty("groups", out var ledger) || !ledger.TryGetProperty("groups", out var groups) ? []
            : groups.EnumerateArray().ToDictionary(group => group.GetProperty("id").GetString()!, group => group.TryGetProperty("state", out var state) ? state.GetString()! : "open", StringComparer.Ordinal);
    }

    private static Dictionary<string, string> LastWords(IEnumerable<Entry> entries)
    {
        var (states, never) = (new Dictionary<string, string>(StringComparer.Ordinal), new HashSet<string>(StringComparer.Ordinal));
        var (takenIn, begun) = (false, false);
        foreach (var entry in Reckoning.InOrder(entries).Where(entry => entry.Counts))
        {
            takenIn |= entry.Event is Workshop.Core.Intake.JobTakenIn;
            if (!takenIn)
            {
                continue;
            }

            if (!begun && entry is { Event: StageStarted or StageFinished, Judged.Groups: { } terms })
            {
                begun = true;
                foreach (var one in terms.Expected.Where(one => one.NeverWashed && !states.ContainsKey(one.Group)))
                {
                    states[one.Group] = "not-washed";
                    never.Add(one.Group);
                }
            }

            var state = entry.Event is GroupEvent about and not CountEvent ? states.GetValueOrDefault(about.Group, "open") : "";
            switch (entry.Event)
            {
                case GroupDeclared declared:
                    var nowNever = entry.Judged.Groups?.NeverWashed == true;
                    states[declared.Group] = nowNever && state == "open" ? "not-washed" : !nowNever && never.Contains(declared.Group) && state == "not-washed" ? "open" : state;
                    _ = nowNever ? never.Add(declared.Group) : never.Remove(declared.Group);
                    break;
                case GroupHandCleaned cleaned:
                    states[cleaned.Group] = "hand-cleaned";
                    break;
                case GroupNotWashed not:
                    states[not.Group] = "not-washed";
                    break;
                case GroupReopened opened when !never.Contains(opened.Group):
                    states[opened.Group] = "open";
                    break;
                case GroupInspected or CountRecorded:
                    states.TryAdd(((GroupEvent)entry.Event).Group, "open");
                    break;
            }
        }

        return states;
    }

    private sealed record Stored
    {
        public required string Label { get; init; }

        public required string Document { get; init; }
    }
}
