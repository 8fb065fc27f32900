using System.Text.Json;
using Workshop.Core.Corrections;
using Workshop.Core.Groups;
using Workshop.Core.Intake;
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
        var groups = new List<Told>();
        var (takenIn, begun) = (false, false);
        foreach (var entry in Reckoning.InOrder(entries).Where(entry => entry.Counts))
        {
            takenIn |= entry.Event is JobTakenIn;
            if (takenIn && !begun && entry is { Event: StageStarted or StageFinished, Judged.Groups: { } terms })
            {
                begun = true;
                foreach (var one in terms.Expected.Where(one => one.NeverWashed && groups.All(group => group.Id != one.Group)))
                {
                    groups.Add(new Told(one.Group) { State = "not-washed", Never = true });
                }
            }
            else if (takenIn)
            {
                Hear(groups, entry);
            }
        }

        return groups.ToDictionary(group => group.Id, group => group.State, StringComparer.Ordinal);
    }

    private static void Hear(List<Told> groups, Entry entry)
    {
        switch (entry.Event)
        {
            case CageEmptied emptied:
                foreach (var cage in groups.LastOrDefault(group => group.Cages.Any(cage => !cage.Out && cage.Cage == emptied.Cage))?.Cages.Where(cage => !cage.Out && cage.Cage == emptied.Cage).TakeLast(1) ?? [])
                {
                    cage.Out = true;
                }

                break;
            case GroupEvent about and not CountEvent:
                var group = groups.FirstOrDefault(one => one.Id == about.Group);
                if (group is null)
                {
                    groups.Add(group = new Told(about.Group));
                }

                group.Hear(entry);
                break;
        }
    }

    private sealed class Told(string id)
    {
        public string Id { get; } = id;

        public string State { get; set; } = "open";

        public bool Never { get; set; }

        public List<InCage> Cages { get; } = [];

        public void Hear(Entry entry)
        {
            switch (entry.Event)
            {
                case GroupDeclared:
                    var never = entry.Judged.Groups?.NeverWashed == true;
                    State = never && State == "open" ? "not-washed" : !never && Never && State == "not-washed" ? "open" : State;
                    Never = never;
                    break;
                case GroupHandCleaned:
                    End("hand-cleaned");
                    break;
                case GroupNotWashed:
                    End("not-washed");
                    break;
                case GroupReopened when !Never:
                    End("open");
                    break;
                case CageLoaded loaded when !Cages.Any(cage => cage is { Out: false, Over: false } && cage.Cage == loaded.Cage && cage.Run == loaded.Run):
                    End(State == "in-run" ? null : "in-run");
                    Cages.Add(new InCage(loaded.Cage, loaded.Run));
                    break;
                case GroupWashed washed:
                    Learn(washed.Cage, washed.Run, "washed");
                    break;
                case GroupUnknown unknown:
                    Learn(unknown.Cage, unknown.Run, "unknown");
                    break;
            }
        }

        private void End(string? state)
        {
            if (state is not null)
            {
                State = state;
                Cages.ForEach(cage => cage.Over = true);
            }
        }

        private void Learn(string name, string run, string became)
        {
            var cage = Cages.LastOrDefault(one => one.Cage == name && one.Run == run);
            if (cage is null)
            {
                Cages.Add(cage = new InCage(name, run));
            }

            cage.Became = became;
            var current = Cages.Where(one => !one.Over).ToArray();
            State = cage.Over ? State : current.Any(one => one.Became is null) ? "in-run" : current.Any(one => one.Became == "unknown") ? "unknown" : "washed";
        }
    }

    private sealed class InCage(string cage, string run)
    {
        public string Cage { get; } = cage;

        public string Run { get; } = run;

        public string? Became { get; set; }

        public bool Out { get; set; }

        public bool Over { get; set; }
    }

    private sealed record Stored
    {
        public required string Label { get; init; }

        public required string Document { get; init; }
    }
}
