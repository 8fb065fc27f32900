using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Gates;
using Workshop.Core.Groups;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>
/// Keeps runs and jobs in step within a turn: what a job says of its cages is written into the run, and what became of the run into every
/// job that was in it. The ids are made from the job's own entry, so that nothing is written twice.
/// </summary>
internal static class RunTurn
{
    private const string NeverWashed = "never-washed";

    /// <summary>What a decision has changed in a job's cages goes into their runs.</summary>
    public static void Follow(Turn turn, Job before, Job after)
    {
        if (before.Cages.Loads == after.Cages.Loads)
        {
            return;
        }

        var known = before.Cages.Loads.ToDictionary(load => load.Id);
        foreach (var load in after.Cages.Loads)
        {
            var old = known.GetValueOrDefault(load.Id);
            known.Remove(load.Id);
            if (old is null || old.Doubted != load.Doubted)
            {
                Put(turn, after, load);
            }

            if (load.EmptiedAt is not null && old?.EmptiedBy != load.EmptiedBy)
            {
                Take(turn, after.Label, load, withdrawn: false);
            }
        }

        foreach (var gone in known.Values)
        {
            Take(turn, after.Label, gone, withdrawn: true);
        }
    }

    /// <summary>What follows from something that was told of a run itself.</summary>
    /// <param name="entry">Its entry, written already.</param>
    public static Run Follow(Turn turn, Run before, Entry entry, ImmutableArray<Objection> against)
    {
        var after = RunTable.Save(turn, before.Id);
        if (before.Started is null && after.Started is not null)
        {
            UseFluids(turn, after, entry);
        }

        if (before.State != after.State && after.EndedAt is not null)
        {
            foreach (var cage in after.Cages)
            {
                Tell(turn, after, cage);
            }
        }

        AskTheManager(turn, entry, against);
        return after;
    }

    private static void Put(Turn turn, Job job, CageLoad load)
    {
        var stream = Run.StreamOf(load.Run);
        if (turn.NextStreamVersion(stream) == 1)
        {
            Write(turn, stream, $"run.planned/{stream}/{load.Id}", new RunPlanned(), load, load.At.Effective);
        }

        // Said again when a doubt was settled.
        Write(
            turn, stream, $"run.loaded/{stream}/{load.Id}{Again(turn, stream, load)}",
            new RunLoaded { Job = job.Label, Group = load.Group, Cage = load.Cage, Load = load.Id, Count = load.Count, Doubted = load.Doubted ? true : null }, load, load.At.Effective);
        var run = RunTable.Save(turn, load.Run);
        if (run.EndedAt is not null)
        {
            Tell(turn, run, run.Cages.Single(cage => cage.Load == load.Id));
        }
    }

    private static string Again(Turn turn, string stream, CageLoad load) =>
        turn.EntriesOf(stream).Count(entry => entry.Event is RunLoaded loaded && loaded.Load == load.Id) is > 0 and var before ? $"/{before + 1}" : "";

    private static void Take(Turn turn, Label job, CageLoad load, bool withdrawn)
    {
        var stream = Run.StreamOf(load.Run);
        Write(
            turn, stream, $"run.unloaded/{stream}/{load.Id}/{(withdrawn ? "withdrawn" : $"{load.EmptiedBy}")}",
            new RunUnloaded { Job = job, Group = load.Group, Cage = load.Cage, Load = load.Id, Count = load.CountOut, Withdrawn = withdrawn ? true : null },
            load, withdrawn ? turn.Now : load.EmptiedAt!.Value);
        RunTable.Save(turn, load.Run);
    }

    private static void Write(Turn turn, string stream, string id, WorkshopEvent one, CageLoad load, Instant effective)
    {
        var composed = turn.Compose(
            stream, new EventId(EventId.Service, id), one, new Judged { Person = one is RunUnloaded ? load.EmptiedByPerson : load.By, Role = "service" },
            effective, load.Id, load.At.OrderSequence);
        if (turn.EntriesOf(stream).All(entry => entry.Id != composed.Entry.Id))
        {
            turn.Append([composed with { Entry = composed.Entry with { Place = composed.Entry.Place with { OrderSource = load.At.OrderSource } } }]);
        }
    }

    /// <summary>
    /// Writes into a job what became of a run its group was in. A doubtful report brings no wash, but for what is never washed: that it was
    /// in the machine is bad news, and counts before anybody has settled it.
    /// </summary>
    private static void Tell(Turn turn, Run run, RunCage cage)
    {
        if (!run.WasIn(cage) || turn.History(cage.Job) is not { } history)
        {
            return;
        }

        var doubted = cage.Doubted && history.Job.Reviews.FirstOrDefault(review => review.Id == cage.Load) is { } review && review.Failed.Contains(NeverWashed);
        if (cage.Doubted && !doubted)
        {
            return;
        }

        WorkshopEvent one = run.State == RunState.Finished
            ? new GroupWashed { Group = cage.Group, Run = run.Id, Cage = cage.Cage, Machine = run.Machine!, Programme = run.Programme!, Batches = [.. run.Terms.Batches.Select(used => used.Batch)] }
            : new GroupUnknown { Group = cage.Group, Run = run.Id, Cage = cage.Cage, Reason = run.AbortReason! };
        var at = new Place(run.EndedAt!.Value, cage.LoadedAt.OrderSource, cage.LoadedAt.OrderSequence, Position: 0);
        JobTurn.HearElsewhere(turn, history, one, cage.Load, at, doubted ? [EntryFlag.ForReview] : []);
    }

    // A jar counts whatever went through it; what nobody keeps a batch of is not counted.
    private static void UseFluids(Turn turn, Run run, Entry entry)
    {
        if (run.Terms.Batches.IsEmpty)
        {
            return;
        }

        var stream = FluidLedger.StreamOf(run.Machine!);
        var used = turn.Compose(
            stream, new EventId(EventId.Service, $"fluid.used/{stream}/{entry.Id}"),
            new FluidUsed { Run = run.Id, CountsAs = run.Terms.CountsAs, Batches = run.Terms.Batches, Overridden = run.Terms.Overridden },
            new Judged { Person = entry.Person, Role = "service" }, entry.Effective, entry.Id, entry.Place.OrderSequence);
        turn.Append([used with { Entry = used.Entry with { Place = used.Entry.Place with { OrderSource = entry.Place.OrderSource } } }]);
        HouseAgenda.Refresh(turn);
    }

    // It has happened: what spoils parts is somebody's to look at before the work goes on.
    private static void AskTheManager(Turn turn, Entry entry, ImmutableArray<Objection> against)
    {
        foreach (var one in against.Where(one => one.Strength == Strength.Stop && one.Names.ContainsKey("job")).DistinctBy(one => one.Names["job"]))
        {
            if (turn.History(Label.Read(one.Names["job"])) is { } history)
            {
                JobTurn.HearElsewhere(
                    turn, history, new HoldPlaced { Hold = HoldReason.Query, Reason = $"{entry.Event.Type} was reported late against {one.Gate}, {one.Names["group"]}" },
                    entry.Id, entry.Place with { Effective = turn.Now }, []);
            }
        }
    }
}
