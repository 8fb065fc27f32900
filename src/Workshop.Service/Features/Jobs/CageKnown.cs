using System.Collections.Immutable;
using Workshop.Core.Cleaning;
using Workshop.Core.Groups;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Service.Features.Watches;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>What is known of a cage, its run and what else is in it, read in the turn in which a cage is loaded or emptied.</summary>
internal static class CageKnown
{
    /// <returns>Null for an event that is about no cage.</returns>
    public static CageFacts? Of(Turn turn, JobHistory history, Incoming incoming) => incoming.Event switch
    {
        CageLoaded loaded => Loading(turn, history, loaded, incoming),
        CageEmptied emptied => Emptying(turn, history.Job, emptied, incoming),
        _ => null,
    };

    /// <summary>A group of a job with what decides whether it may be in a run.</summary>
    public static RunNeighbour Neighbour(Turn turn, Job? job, Label label, string group, bool open = false) => new(
        label, group, job?.Groups.Find(group)?.Flags ?? [], job is null ? null : CalibreOf(turn, job), open);

    public static RunNeighbour Neighbour(Turn turn, RunCage cage) =>
        Neighbour(turn, turn.History(cage.Job)?.Job, cage.Job, cage.Group, turn.Rules.CleaningRoom.Cages.GetValueOrDefault(cage.Cage)?.Open == true);

    private static CageFacts Loading(Turn turn, JobHistory history, CageLoaded loaded, Incoming incoming)
    {
        // A right value stands in the place of the wrong one: what that had bound is none of its neighbours.
        var instead = incoming.Manner.InsteadOf;
        var at = instead is { } old && history.Entries.FirstOrDefault(entry => entry.Id == old) is { } replaced ? replaced.Effective : incoming.Effective;
        var cage = turn.Rules.CleaningRoom.Cages.GetValueOrDefault(loaded.Cage);
        var run = RunTable.Read(turn, loaded.Run);
        return new CageFacts
        {
            Cage = cage,
            Bindings = [.. RunTable.Bindings(turn, loaded.Cage, at).Where(one => one.By != instead)],
            Run = run.Version == 0 ? null : run,
            Loaded = Neighbour(turn, history.Job, history.Job.Label, loaded.Group, cage?.Open == true),
            Others = [.. run.Contents.Where(one => one.Load != instead && !(one.Job == history.Job.Label && one.Group == loaded.Group)).Select(one => Neighbour(turn, one))],
        };
    }

    private static CageFacts Emptying(Turn turn, Job job, CageEmptied emptied, Incoming incoming) => new()
    {
        Bindings = RunTable.Bindings(turn, emptied.Cage, incoming.Effective),
        Run = job.Cages.Open(emptied.Cage) is { } open ? RunTable.Read(turn, open.Run) : null,
    };

    private static string? CalibreOf(Turn turn, Job job) => WatchStore.Find(turn, job.Intake.Watch)?.ReadFacts().Calibre?.Name;
}
