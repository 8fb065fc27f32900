using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Groups;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>
/// The gates of the cleaning room. Those about numbered cages exist once the shop has entered cages, those about programmes once a run has
/// a machine and a programme that the shop has entered, those about fluids once a batch stands in a jar: a shop that keeps none of it is
/// asked nothing. What is washed never, two jobs in one cage, and a case in the machine for movements are fixed. Common practice.
/// </summary>
public static class CleaningGates
{
    public static IEnumerable<Objection> Load(CageLoaded loaded, Asking asking, CageFacts facts)
    {
        var rules = asking.Rules;
        var mine = facts.Loaded!;
        return CageKnown(loaded.Cage, facts.Cage, rules)
            .Concat(CageFree(loaded, mine.Job, facts, rules))
            .Concat(NeverWashed(mine, rules))
            .Concat(OtherMachine(mine, facts, rules))
            .Concat(RunOpen(facts.Run, asking.At, rules))
            .Concat(Together(mine, facts.Others, rules))
            .Concat(facts.Run is { Machine: { } machine, Programme: { } programme } ? Fits(mine, machine, programme, asking) : []);
    }

    public static IEnumerable<Objection> Empty(CageEmptied emptied, Label job, Asking asking, CageFacts facts, CageLoad? open)
    {
        if (facts.Bindings.FirstOrDefault(one => one.From <= asking.At && one.Job != job) is { } other)
        {
            yield return GateTable.Objects(
                "cage-loaded", asking.Rules, Phrase.Of("STOP: {0} holds parts of {1}", emptied.Cage, other.Job.ToString()), Phrase.Of("look whose parts these are, then scan that watch"), Strength.Stop,
                [("cage", emptied.Cage), ("other", other.Job.ToString()), ("group", other.Group), ("run", other.Run), ("since", other.From.ToString())]);
        }
        else if (open is null)
        {
            yield return GateTable.Objects(
                "cage-loaded", asking.Rules, Phrase.Of("{0} holds nothing of this watch", emptied.Cage), Phrase.Of("was it loaded? Tell that first"), names: [("cage", emptied.Cage)]);
        }
        else if (facts.Run is { State: RunState.Running } run)
        {
            yield return GateTable.Objects(
                "run-over", asking.Rules, Phrase.Of("The run is still going on"), Phrase.Of("finish the run, or say that it was aborted"), names: [("run", run.Id)]);
        }
    }

    /// <summary>What stands against a group in this machine and programme.</summary>
    public static IEnumerable<Objection> Fits(RunNeighbour group, string machineId, string programmeId, Asking asking)
    {
        var room = asking.Rules.CleaningRoom;
        if (!room.Machines.TryGetValue(machineId, out var machine) || !room.Programmes.TryGetValue(programmeId, out var programme))
        {
            return [];
        }

        var verdict = Compatibility.Judge(group.Flags, programme, machine, asking.Rules.Cleaning);
        return verdict.Against
            .Where(one => one.Verdict >= WashVerdict.Ask && one.Fault is not (WashFault.NeverWashed or WashFault.NoSuchJar))
            .Select(one => Unfit(one, group, verdict, machine, programme, asking))
            .DistinctBy(one => one.Gate)
            .Concat(NeverWashed(group, asking.Rules));
    }

    public static IEnumerable<Objection> NeverWashed(RunNeighbour group, ShopRules rules)
    {
        if (Compatibility.NeverWashed(group.Flags, rules.Cleaning).FirstOrDefault() is { } flag)
        {
            var demand = rules.Cleaning.Parts[flag];
            yield return GateTable.Objects(
                "never-washed", rules, Phrase.Of("Never washed: {0}", new Term("groupFlag", flag)), Phrase.Of("{0}", demand.Instead ?? "closed box"),
                names: [("job", group.Job.ToString()), ("group", group.Group), ("flag", flag), ("instead", demand.Instead ?? "closed box"), .. demand.Caution is { } caution ? [("caution", caution)] : Array.Empty<(string, string)>()]);
        }
    }

    private static Objection Unfit(WashObjection one, RunNeighbour group, GroupVerdict verdict, CleaningMachine machine, Programme programme, Asking asking)
    {
        var gate = one.Fault == WashFault.OtherMachine ? "other-machine" : one.Verdict switch
        {
            WashVerdict.Never => "never-in-jar",
            WashVerdict.No => "unfit-for-jar",
            _ => "jar-unsure",
        };
        var flag = new Term("groupFlag", one.Flag);
        var line = one.Fault switch
        {
            WashFault.OtherMachine => Phrase.Of("{0}: never in a machine for movements", flag),
            WashFault.Drying => Phrase.Of("{0}: dries at {1} °C at most", flag, one.Limit ?? 0),
            WashFault.Minutes => Phrase.Of("{0}: {1} minutes at most in {2}", flag, one.Limit ?? 0, one.Place),
            WashFault.Speed => Phrase.Of("{0}: only slowly in {1}", flag, one.Place),
            WashFault.Warmth => Phrase.Of("{0}: {1} °C at most in {2}", flag, one.Limit ?? 0, one.Place),
            WashFault.Ultrasound => Phrase.Of("{0}: no ultrasound, {1}", flag, one.Place),
            _ when one.Verdict == WashVerdict.Ask => Phrase.Of("{0}: is {1} right for it?", flag, one.Place),
            _ => Phrase.Of("{0}: not in {1}", flag, one.Place),
        };

        // Another programme of the same machine is nearer than another machine, and both are nearer than doing it by hand.
        var room = asking.Rules.CleaningRoom;
        var would = room.ProgrammesOf(machine).FirstOrDefault(other => other.Id != programme.Id && Compatibility.Judge(group.Flags, other, machine, asking.Rules.Cleaning).Passes) is { } same
            ? $"{same.Id}, {machine.Id}"
            : Compatibility.WouldDo(group.Flags, room.Machines.Values.OrderBy(other => other.Id, StringComparer.Ordinal), room.Programmes.Values, asking.Rules.Cleaning).Select(other => $"{other.Programme.Id}, {other.Machine.Id}").FirstOrDefault()
            ?? verdict.Instead.FirstOrDefault() ?? "by hand";
        return GateTable.Objects(
            gate, asking.Rules, line, Phrase.Of("{0}", would), null,
            [("job", group.Job.ToString()), ("group", group.Group), ("flag", one.Flag), .. one.Jar is null ? Array.Empty<(string, string)>() : [("jar", one.Place)], ("instead", would), ("programme", programme.Id), ("machine", machine.Id)]);
    }

    private static IEnumerable<Objection> CageKnown(string cage, Cage? known, ShopRules rules)
    {
        if (known is null && rules.CleaningRoom.Cages.Count > 0)
        {
            yield return GateTable.Objects("cage-known", rules, Phrase.Of("The shop has no cage {0}", cage), Phrase.Of("read its number again"), names: [("cage", cage)]);
        }
    }

    private static IEnumerable<Objection> CageFree(CageLoaded loaded, Label job, CageFacts facts, ShopRules rules)
    {
        if (facts.Bindings.FirstOrDefault() is { } other)
        {
            yield return GateTable.Objects(
                "cage-free", rules, other.Job == job ? Phrase.Of("{0} holds another group of this watch", loaded.Cage) : Phrase.Of("{0} holds parts of {1}", loaded.Cage, other.Job.ToString()),
                Phrase.Of("another cage, or scan this one empty first"),
                names: [("cage", loaded.Cage), ("other", other.Job.ToString()), ("group", other.Group), ("run", other.Run), ("since", other.From.ToString())]);
        }
    }

    private static IEnumerable<Objection> OtherMachine(RunNeighbour group, CageFacts facts, ShopRules rules)
    {
        if (facts.Cage is { } cage && Compatibility.OnlyIn(group.Flags, rules.Cleaning) is { } only && only != cage.MachineKind)
        {
            yield return GateTable.Objects(
                "other-machine", rules, Phrase.Of("Cases never go into the machine for movements"), Phrase.Of("own bath with soap"),
                names: [("job", group.Job.ToString()), ("group", group.Group), ("cage", cage.Id)]);
        }
    }

    private static IEnumerable<Objection> RunOpen(Run? run, Instant at, ShopRules rules)
    {
        // One that is told late stands before the start at its own place.
        var over = run?.Aborted is { } aborted && aborted.Effective <= at;
        if (run is not null && (over || (run.Started is { } started && started.Effective <= at)))
        {
            yield return GateTable.Objects(
                "run-open", rules, over ? Phrase.Of("That run was aborted") : Phrase.Of("That run has been started already"), Phrase.Of("load it for a new run"),
                names: [("run", run.Id)]);
        }
    }

    private static IEnumerable<Objection> Together(RunNeighbour mine, ImmutableArray<RunNeighbour> others, ShopRules rules)
    {
        var cleaning = rules.Cleaning;
        var strangers = others.Where(other => other.Job != mine.Job).ToArray();
        if (others.Any(other => IsOwnRun(other, cleaning) != IsOwnRun(mine, cleaning) || other.Job != mine.Job && IsOwnRun(mine, cleaning)))
        {
            var other = others.First(one => IsOwnRun(one, cleaning) || IsOwnRun(mine, cleaning));
            yield return GateTable.Objects(
                "own-run", rules, Phrase.Of("Rusty parts have a run of their own"), Phrase.Of("load it for a new run"),
                names: [("other", other.Job.ToString()), ("group", other.Group)]);
        }

        if (strangers.Length == 0)
        {
            yield break;
        }

        if (strangers.FirstOrDefault(other => other.Open || mine.Open) is { } beside)
        {
            yield return GateTable.Objects(
                "open-cage", rules, Phrase.Of("A cage without a lid shares no run with {0}", beside.Job.ToString()), Phrase.Of("a cage with a lid"),
                names: [("other", beside.Job.ToString()), ("group", beside.Group)]);
        }

        if (Says(cleaning.Sharing.TwoJobsInOneRun) is { } two)
        {
            yield return GateTable.Objects(
                "two-jobs", rules, Phrase.Of("Another watch is in this run: {0}", strangers[0].Job.ToString()), Phrase.Of("load it for a new run"), two, ("other", strangers[0].Job.ToString()));
        }

        if (mine.Calibre is { } calibre && Says(cleaning.Sharing.SameCalibreInOneRun) is { } same && strangers.FirstOrDefault(other => other.Calibre == calibre) is { } twin)
        {
            yield return GateTable.Objects(
                "same-calibre", rules, Phrase.Of("{0} in this run has the same calibre", twin.Job.ToString()), Phrase.Of("another run; a manager may waive it"), same,
                ("other", twin.Job.ToString()), ("group", twin.Group), ("calibre", calibre));
        }
        else if (Says(cleaning.Sharing.CalibreUnknownInSharedRun) is { } unknown && strangers.FirstOrDefault(other => mine.Calibre is null || other.Calibre is null) is { } unsure)
        {
            yield return GateTable.Objects(
                "calibre-unknown", rules, Phrase.Of("Is {0} of another calibre?", unsure.Job.ToString()), Phrase.Of("look at both; write the calibre down at the desk"), unknown, ("other", unsure.Job.ToString()));
        }
    }

    private static bool IsOwnRun(RunNeighbour one, CleaningRules rules) => one.Flags.Any(flag => rules.Parts.GetValueOrDefault(flag)?.OwnRun == true);

    private static Strength? Says(WashVerdict verdict) => verdict switch
    {
        WashVerdict.Never or WashVerdict.No => Strength.Stop,
        WashVerdict.Ask => Strength.Ask,
        _ => null,
    };
}
