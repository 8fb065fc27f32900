using System.Collections.Immutable;
using Workshop.Core.Gates;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;

namespace Workshop.Core.Cleaning;

/// <summary>What was decided about something told of a run.</summary>
/// <param name="Judged">What is frozen in its entry.</param>
/// <param name="Against">Gates that did not pass, the strongest first.</param>
public sealed record RunDecision(Outcome Outcome, Judged Judged, ImmutableArray<string> Flags, ImmutableArray<Objection> Against, ImmutableArray<GateWord> WentThrough)
{
    /// <summary>It was so already: nothing changes.</summary>
    public bool AlreadySo => Flags.Contains(EntryFlag.AlreadySo);
}

/// <summary>
/// Decides about what is told of a run. Live it may be refused. Late it is what the machine has done: what spoils parts or goes through a
/// fluid that was used up has happened all the same, so that it counts, and is flagged for whoever has to look; what cannot be so (a
/// second start) is noted. An end that is told before its start waits for it, and an abort counts whenever it arrives.
/// </summary>
public static class RunRules
{
    public static RunDecision Decide(Run run, WorkshopEvent one, Asking asking, bool live, ImmutableArray<string> despite, ImmutableArray<string> flags, RunFacts facts)
    {
        var judged = new Judged { Person = asking.Person, Bench = asking.Bench, Role = asking.Role };
        if (AlreadySo(run, one))
        {
            return new RunDecision(Outcome.Accepted, judged, flags.Add(EntryFlag.AlreadySo), [], []);
        }

        var asked = (one switch
        {
            RunStarted started => RunGates.Start(run, started, asking, facts),
            RunFinished => RunGates.Finish(run, asking),
            _ => [],
        }).ToImmutableArray();
        var against = asked.Where(objection => objection.Strength != Strength.Note && !Tapped(objection)).OrderBy(objection => objection.Strength).ToImmutableArray();
        judged = judged with { Passing = [.. asked.Except(against).Select(objection => objection.Gate).Distinct()] };
        if (one is RunStarted)
        {
            judged = judged with { Run = Terms(asking, asked, against, facts) };
        }

        if (against.IsEmpty)
        {
            return new RunDecision(
                Outcome.Accepted, judged, live ? flags : flags.Add(EntryFlag.Late), [],
                [.. asked.Select(objection => new GateWord(objection.Gate, objection.Strength == Strength.Note ? GateSaid.Flagged : GateSaid.Tapped)).Distinct()]);
        }

        if (live)
        {
            return new RunDecision(Outcome.Refused, judged, flags, against, []);
        }

        judged = judged with { Failed = [.. against.Select(objection => objection.Gate).Distinct()] };
        var cannotBe = against.Any(objection => objection.Gate is "run-open");
        return new RunDecision(cannotBe ? Outcome.Noted : Outcome.Accepted, judged, [.. flags, EntryFlag.Late, EntryFlag.ForReview], against, []);

        bool Tapped(Objection objection) => objection.Strength == Strength.Ask && despite.Contains(objection.Gate);
    }

    /// <summary>The same told again by whoever did not know.</summary>
    private static bool AlreadySo(Run run, WorkshopEvent one) => one switch
    {
        RunStarted started => run.Started is not null && run.Machine == started.Machine && run.Programme == started.Programme,
        RunFinished => run.Finished is not null && run.Aborted is null,
        RunAborted => run.Aborted is not null,
        _ => false,
    };

    private static RunTerms Terms(Asking asking, ImmutableArray<Objection> asked, ImmutableArray<Objection> against, RunFacts facts) => new()
    {
        Batches = [.. facts.Fillings.Select(filling => new UsedBatch(filling.Jar, filling.Batch.Id))],
        CountsAs = asking.Rules.Cleaning.CountsAs(facts.Contents.SelectMany(group => group.Flags)),
        Overridden = [.. asked.Where(objection => GateTable.FamilyOf(objection.Gate) == "fluid-fresh" && !against.Contains(objection)).Select(objection => objection.Names["batch"]).Distinct()],
    };
}
