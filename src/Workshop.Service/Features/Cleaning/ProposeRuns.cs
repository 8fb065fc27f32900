using System.Collections.Immutable;
using System.Data.Common;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Groups;
using Workshop.Core.Hazards;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Promises;
using Workshop.Core.Shop;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Cleaning;

/// <summary>A group in a run that is proposed.</summary>
public sealed record ProposedGroupView(Label Job, string Group, ImmutableArray<string> Flags, LocalDate? PromisedBy, ProposedBecause Because, ImmutableArray<string> Before, ImmutableArray<string> After);

/// <summary>A run that is proposed.</summary>
/// <param name="Fluids">What would be left in its jars afterwards.</param>
public sealed record ProposedRunView(string Programme, int Minutes, int CountsAs, ImmutableArray<ProposedGroupView> Groups, ImmutableArray<FluidLeft> Fluids);

/// <summary>Runs a filling has left after a proposed run; less than none means that it is to be changed before.</summary>
public sealed record FluidLeft(string Jar, string Batch, int RunsLeft, bool ChangeBefore);

/// <summary>A group that no programme of this machine takes.</summary>
/// <param name="Why">The jar, or what else stands against it in the programme that comes nearest.</param>
public sealed record LeftOutView(Label Job, string Group, ImmutableArray<string> Flags, ImmutableArray<string> Why, ImmutableArray<string> Instead);

/// <summary>The next runs of a machine.</summary>
/// <param name="Way">How they were chosen, in a sentence.</param>
public sealed record ProposalView(string Machine, int Places, string Way, ImmutableArray<ProposedRunView> Runs, ImmutableArray<LeftOutView> LeftOut);

/// <summary>Proposes the next runs of a machine from what waits. It reserves nothing: whoever loads decides.</summary>
public static class ProposeRuns
{
    private const string Way =
        "Urgent first, then by promised day; the first that waits opens a run with the programme that takes most of the others, and these fill its places in the same order. A plain way of choosing: fewer runs may be possible.";

    public static async Task<Results<Done<ProposalView>, ProblemHttpResult>> Handle(string id, Caller caller, Reader reader, IClock clock, CancellationToken cancel) =>
        await reader.Read(connection => Propose(connection, caller.Site, id, clock.GetCurrentInstant()), cancel) is { } view ? Answer.Done(view) : Problems.Of(ProblemCatalogue.NoSuchThing, "The shop has no such machine.");

    private static ProposalView? Propose(DbConnection connection, string site, string id, Instant now)
    {
        var rules = ShopRulesReader.Read(connection, site);
        if (!rules.CleaningRoom.Machines.TryGetValue(id, out var machine))
        {
            return null;
        }

        var waiting = RunStore.AtTheMovement(connection, site).SelectMany(job => Waiting(connection, site, job, rules, now)).ToArray();
        var proposal = RunBuilder.Propose(machine, rules.CleaningRoom.Programmes.Values, waiting, rules.Cleaning);
        var ledger = FluidLedger.Replay(id, Reader.Entries(connection, site, FluidLedger.StreamOf(id)));
        var left = ReadFluids.JarsOf(connection, site, machine, ledger, rules, rules.Calendar.DateOf(now)).Where(jar => jar.Batch is not null).ToDictionary(jar => jar.Jar, jar => jar, StringComparer.Ordinal);
        var had = left.ToDictionary(jar => jar.Key, jar => jar.Value.Runs, StringComparer.Ordinal);
        return new ProposalView(id, machine.Places, Way, [.. proposal.Runs.Select(run => Shown(run, machine, rules.Cleaning, left, had))], [.. proposal.LeftOut.Select(Shown)]);
    }

    // What is neither washed nor in a cage; urgent is what no longer fits before its promised day, or corrodes.
    private static IEnumerable<WaitingGroup> Waiting(DbConnection connection, string site, Job job, ShopRules rules, Instant now)
    {
        var open = job.Groups.Open.Where(group => group is { NeverWashed: false, State: GroupState.Open or GroupState.Unknown } && !job.Cages.Loads.Any(load => load.Group == group.Id && load is { EmptiedAt: null, Doubted: false }) && !Compatibility.NeverWashed(group.Flags, rules.Cleaning).Any()).ToArray();
        if (open.Length == 0)
        {
            return [];
        }

        var urgent = job.Intake.Hazards.Contains(Hazard.CorrosionUrgent) || PromiseRisk.From(job, rules) <= now;
        var calibre = WatchStore.Find(connection, site, job.Intake.Watch)?.ReadFacts().Calibre?.Name;
        return open.Select(group => new WaitingGroup(job.Label, group.Id, group.Flags, calibre, urgent, job.Promise.On));
    }

    private static ProposedRunView Shown(ProposedRun run, CleaningMachine machine, CleaningRules rules, Dictionary<string, JarView> left, Dictionary<string, int> had)
    {
        var fluids = ImmutableArray.CreateBuilder<FluidLeft>();
        foreach (var jar in run.Programme.Jars.Where(left.ContainsKey))
        {
            // Full before it starts: it would be refused, and a fresh filling begins to count here.
            var change = had[jar] >= left[jar].LastRun || (left[jar].UsedUp && had[jar] == left[jar].Runs);
            had[jar] = (change ? 0 : had[jar]) + run.CountsAs;
            fluids.Add(new FluidLeft(jar, left[jar].Batch!, left[jar].LastRun - had[jar], change));
        }

        return new ProposedRunView(run.Programme.Id, run.Programme.Minutes, run.CountsAs, [.. run.Groups.Select(one => Shown(one, run.Programme, machine, rules))], fluids.ToImmutable());
    }

    private static ProposedGroupView Shown(ProposedGroup one, Programme programme, CleaningMachine machine, CleaningRules rules)
    {
        var verdict = Compatibility.Judge(one.Group.Flags, programme, machine, rules);
        return new ProposedGroupView(one.Group.Job, one.Group.Group, one.Group.Flags, one.Group.DueOn, one.Because, verdict.Before, verdict.After);
    }

    private static LeftOutView Shown(LeftOut one) => new(
        one.Group.Job, one.Group.Group, one.Group.Flags,
        [.. one.Against.Where(against => against.Verdict >= WashVerdict.Ask).Select(against => against.Jar is null ? against.Flag : $"{against.Flag}, {against.Place}").Distinct()], one.Instead);
}
