using Workshop.Core.Gates;
using Workshop.Core.Journal;
using Workshop.Core.Reports;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Gates;

/// <summary>How often a family of gates spoke, and what came of it.</summary>
/// <param name="Spoke">Events it refused or sent back, and reports it stood against.</param>
/// <param name="Flagged">Events that went through with its strength being <c>note</c>.</param>
/// <param name="Passed">Events that went through although it did not pass, by how.</param>
/// <param name="Right">
/// Of those it spoke about: what it asked for was done afterwards. The next event of the same type about the same stage or piece of the
/// same job that went through did so without passing this gate by tap, waiver or settlement; or the report itself counts since, because
/// what it rested on was reported.
/// </param>
/// <param name="Overruled">Of those it spoke about: the next such event went through by tap, waiver or settlement.</param>
/// <param name="Open">Of those it spoke about: no such event has gone through yet.</param>
public sealed record GateCount(int Spoke, int Flagged, GatePassed Passed, int Right, int Overruled, int Open)
{
    public static readonly GateCount None = new(0, 0, new GatePassed(0, 0, 0), 0, 0, 0);
}

/// <param name="ByTap">Somebody had been told and went on.</param>
/// <param name="ByWaiver">A manager had waived it.</param>
/// <param name="BySettlement">A manager settled the report as having happened.</param>
public sealed record GatePassed(int ByTap, int ByWaiver, int BySettlement);

/// <summary>Counts what gates said, by family.</summary>
internal static class GateCounts
{
    private static readonly GateSaid[] Speaking = [GateSaid.Refused, GateSaid.Asked, GateSaid.Noted];
    private static readonly GateSaid[] Passing = [GateSaid.Tapped, GateSaid.Waived, GateSaid.Settled];

    /// <param name="applied">A job's entries that count, in order of acceptance.</param>
    public static async Task<Dictionary<string, GateCount>> Of(IReadOnlyList<StoredGateWord> words, Func<string, Task<IReadOnlyList<StoredOutcome>>> applied)
    {
        var passed = words.Where(word => Passing.Contains(SaidOf(word))).Select(word => (word.Source, word.Id, word.Gate)).ToHashSet();
        var outcomes = new Dictionary<StoredGateWord, Outcome>();
        foreach (var job in words.Where(word => Speaking.Contains(SaidOf(word))).GroupBy(word => word.Job))
        {
            var types = job.Select(word => word.Type).Append("report.settled").ToHashSet();
            var later = (await applied(job.Key)).Where(entry => types.Contains(entry.Type) && !FlagList.Read(entry.Flags).Contains(EntryFlag.AlreadySo)).Select(entry => new Later(entry)).ToArray();
            foreach (var word in job)
            {
                outcomes[word] = OutcomeOf(word, later, passed);
            }
        }

        return words.GroupBy(word => GateTable.FamilyOf(word.Gate)).ToDictionary(family => family.Key, family => Count([.. family], outcomes));
    }

    private static GateCount Count(StoredGateWord[] words, Dictionary<StoredGateWord, Outcome> outcomes)
    {
        return new GateCount(
            words.Count(outcomes.ContainsKey), Said(GateSaid.Flagged), new GatePassed(Said(GateSaid.Tapped), Said(GateSaid.Waived), Said(GateSaid.Settled)),
            Became(Outcome.Right), Became(Outcome.Overruled), Became(Outcome.Open));

        int Said(GateSaid what) => words.Count(word => SaidOf(word) == what);
        int Became(Outcome what) => words.Count(word => outcomes.TryGetValue(word, out var became) && became == what);
    }

    private static Outcome OutcomeOf(StoredGateWord word, Later[] later, HashSet<(string, string, string)> passed)
    {
        if (passed.Contains((word.Source, word.Id, word.Gate)))
        {
            return Outcome.Overruled;
        }

        foreach (var entry in later.Where(one => one.Row.Position > word.Position))
        {
            if (entry.Event is ReportSettled settled)
            {
                if (settled.As == SettledAs.Happened && settled.Of == new EventId(word.Source, word.Id))
                {
                    return entry.Row.Source == EventId.Service ? Outcome.Right : Outcome.Overruled;
                }
            }
            else if (entry.Row.Type == word.Type && GateWordStore.AboutOf(entry.Event) == word.About)
            {
                return passed.Contains((entry.Row.Source, entry.Row.Id, word.Gate)) ? Outcome.Overruled : Outcome.Right;
            }
        }

        return Outcome.Open;
    }

    private static GateSaid SaidOf(StoredGateWord word) => Word.Read<GateSaid>(word.Said) ?? throw new InvalidDataException($"'{word.Said}' is nothing a gate says.");

    private enum Outcome
    {
        Open,
        Right,
        Overruled,
    }

    // Read once, however many words ask about it.
    private sealed record Later(StoredOutcome Row)
    {
        public WorkshopEvent Event { get; } = EventCodec.ReadKept(Row.Type, Row.Data);
    }
}
