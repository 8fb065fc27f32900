using Workshop.Core.Cleaning;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>The gates around a run of a cleaning machine. Fluids are asked about once a batch stands in a jar of the machine.</summary>
public static class RunGates
{
    public static IEnumerable<Objection> Start(Run run, RunStarted started, Asking asking, RunFacts facts)
    {
        if (run.State != RunState.Planned && run.Started is not null || run.Aborted is not null)
        {
            return [GateTable.Objects(
                "run-open", asking.Rules, run.State == RunState.Aborted ? Phrase.Of("That run was aborted") : Phrase.Of("That run has been started already"), Phrase.Of("load it for a new run"),
                names: [("run", run.Id)])];
        }

        return RightMachine(started, asking.Rules)
            .Concat(Filled(run, started, asking.Rules, facts))
            .Concat(facts.Contents.SelectMany(group => CleaningGates.Fits(group, started.Machine, started.Programme, asking)).Select(one => ByManager(one, asking)))
            .Concat(facts.Fillings.SelectMany(filling => Fresh(filling, asking)));
    }

    /// <summary>A finish, or a start that is told after an end.</summary>
    public static IEnumerable<Objection> Finish(Run run, Asking asking)
    {
        if (run.Started is null)
        {
            yield return GateTable.Objects("run-started", asking.Rules, Phrase.Of("Nobody has started that run"), Phrase.Of("say which machine and programme it was"), names: [("run", run.Id)]);
        }
        else if (run.State == RunState.Aborted)
        {
            yield return GateTable.Objects("run-open", asking.Rules, Phrase.Of("That run was aborted"), Phrase.Of("load it for a new run"), names: [("run", run.Id)]);
        }
    }

    private static IEnumerable<Objection> RightMachine(RunStarted started, ShopRules rules)
    {
        var room = rules.CleaningRoom;
        if (room.Machines.TryGetValue(started.Machine, out var machine) && room.Programmes.TryGetValue(started.Programme, out var programme) && !machine.Runs(programme))
        {
            var does = room.ProgrammesOf(machine) is [var other, ..] ? other.Id : "";
            yield return GateTable.Objects(
                "programme-fits", rules, Phrase.Of("{0} has not every jar of {1}", machine.Id, programme.Id), Phrase.Of("another programme or another machine"),
                names: [("machine", machine.Id), ("programme", programme.Id), ("instead", does)]);
        }
    }

    private static IEnumerable<Objection> Filled(Run run, RunStarted started, ShopRules rules, RunFacts facts)
    {
        if (facts.Running is { } other && other.Run != run.Id)
        {
            yield return GateTable.Objects(
                "machine-free", rules, Phrase.Of("Another run is still going on in {0}", started.Machine), Phrase.Of("finish the run, or say that it was aborted"),
                names: [("machine", started.Machine), ("run", other.Run), ("since", other.Since.ToString())]);
        }

        if (facts.Contents.IsEmpty && rules.CleaningRoom.Cages.Count > 0)
        {
            yield return GateTable.Objects("run-loaded", rules, Phrase.Of("No cage was loaded for this run"), Phrase.Of("scan the cages first"), names: [("run", run.Id)]);
        }

        var cages = run.Cages.Count(cage => cage.EmptiedAt is null);
        if (rules.CleaningRoom.Machines.TryGetValue(started.Machine, out var machine) && cages > machine.Places)
        {
            yield return GateTable.Objects(
                "places", rules, Phrase.Of("{0} cages, and {1} has {2} places", cages, machine.Id, machine.Places), Phrase.Of("load some for a new run"),
                names: [("machine", machine.Id), ("cages", $"{cages}"), ("places", $"{machine.Places}")]);
        }
    }

    // What a manager may waive for one watch, a manager who starts the run lets through by saying so.
    private static Objection ByManager(Objection one, Asking asking) =>
        one.Waivable && one.Strength == Strength.Stop && (asking.Role == "manager" || asking.Rules.PersonBehind(asking.Person)?.Manager == true) ? one with { Strength = Strength.Ask } : one;

    private static IEnumerable<Objection> Fresh(JarFilling filling, Asking asking)
    {
        var runs = asking.Rules.Cleaning.RunsIn(filling.Jar);
        var lastDay = filling.FilledOn.PlusDays(asking.Rules.Agenda.LifeIn(filling.Jar).LastDays);
        var tooMany = filling.Batch.RunsInJar >= runs.LastRun;
        var tooOld = asking.Rules.Calendar.DateOf(asking.At) > lastDay;
        if (!tooMany && !tooOld)
        {
            yield break;
        }

        // One override a batch, by name.
        var gate = $"fluid-fresh/{filling.Jar}";
        var line = tooMany ? Phrase.Of("{0} has had its {1} runs", $"{filling.Jar} ({filling.Fluid})", filling.Batch.RunsInJar) : Phrase.Of("{0} was good through {1}", $"{filling.Jar} ({filling.Fluid})", lastDay);
        yield return GateTable.Objects(
            gate, asking.Rules, line, filling.Batch.OverrideUsed ? Phrase.Of("fill it afresh; it was let through once already") : Phrase.Of("fill it afresh; somebody may let it through once, by name"),
            filling.Batch.OverrideUsed ? Strength.Stop : null,
            ("batch", filling.Batch.Id), ("jar", $"{filling.Jar} ({filling.Fluid})"), ("runs", $"{filling.Batch.RunsInJar}"), ("lastRun", $"{runs.LastRun}"), ("goodThrough", $"{lastDay:uuuu-MM-dd}"),
            ("overrideUsed", filling.Batch.OverrideUsed ? "yes" : "no"));
        if (!filling.Batch.OverrideUsed && string.IsNullOrWhiteSpace(asking.Person))
        {
            yield return GateTable.Objects("person-named", asking.Rules, Phrase.Of("Who is it? Scan your badge"), Phrase.Of("scan a badge, then send it again"));
        }
    }
}
