using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Core.Cleaning;

/// <summary>How a run stands.</summary>
public enum RunState
{
    Planned,
    Running,
    Finished,
    Aborted,
}

/// <summary>A cage of a job's group in a run.</summary>
/// <param name="Load">The job's own entry that loaded it.</param>
/// <param name="Doubted">It was reported against a gate and waits for a manager.</param>
public sealed record RunCage(Label Job, string Group, string Cage, EventId Load, Place LoadedAt, string? LoadedBy, int? Count, bool Doubted)
{
    public Instant? EmptiedAt { get; init; }

    public string? EmptiedBy { get; init; }

    public int? CountOut { get; init; }
}

/// <summary>
/// A run of a cleaning machine, folded from its own stream. Whatever order things are told in, the same is known at the end: the first
/// start counts, an end counts once there is a start, and one that was aborted was never finished.
/// </summary>
public sealed record Run
{
    public required string Id { get; init; }

    /// <summary>Entries folded; the stream version of the newest.</summary>
    public long Version { get; init; }

    public Instant? PlannedAt { get; init; }

    public string? Machine { get; init; }

    public string? Programme { get; init; }

    public RunTerms Terms { get; init; } = new();

    public Place? Started { get; init; }

    public string? StartedBy { get; init; }

    public Place? Finished { get; init; }

    public string? FinishedBy { get; init; }

    public Place? Aborted { get; init; }

    public string? AbortedBy { get; init; }

    public string? AbortReason { get; init; }

    /// <summary>In the order in which they were loaded.</summary>
    public ImmutableArray<RunCage> Cages { get; init; } = [];

    public RunState State => Aborted is not null ? RunState.Aborted
        : Started is null ? RunState.Planned
        : Finished is not null ? RunState.Finished
        : RunState.Running;

    /// <summary>What was in it: a doubtful report is no content until somebody says so, and what was taken out before the start is none.</summary>
    public IEnumerable<RunCage> Contents => Cages.Where(cage => !cage.Doubted && WasIn(cage));

    /// <summary>When it ended; null while it has not.</summary>
    public Instant? EndedAt => State switch
    {
        RunState.Finished => Finished!.Value.Effective,
        RunState.Aborted => Finished is { } finished && finished.Effective > Aborted!.Value.Effective ? finished.Effective : Aborted!.Value.Effective,
        _ => null,
    };

    /// <summary>Whether a cage was still there when the machine started.</summary>
    public bool WasIn(RunCage cage) => cage.EmptiedAt is not { } emptied || emptied >= Started?.Effective;

    public static string StreamOf(string run) => $"run/{run}";

    /// <summary>Folds entries given in any order. Never refuses, never throws.</summary>
    public static Run Replay(string id, IEnumerable<Entry> entries) =>
        entries.OrderBy(entry => entry.Place).Aggregate(new Run { Id = id }, (run, entry) => run.Apply(entry));

    private Run Apply(Entry entry)
    {
        var run = this with { Version = Version + 1 };
        return !entry.Counts ? run : entry.Event switch
        {
            RunPlanned => run with { PlannedAt = PlannedAt ?? entry.Effective },
            RunStarted started when Started is null => run with
            {
                Machine = started.Machine,
                Programme = started.Programme,
                Terms = entry.Judged.Run ?? new RunTerms(),
                Started = entry.Place,
                StartedBy = entry.Person,
                PlannedAt = PlannedAt ?? entry.Effective,
            },
            RunFinished when Finished is null => run with { Finished = entry.Place, FinishedBy = entry.Person, PlannedAt = PlannedAt ?? entry.Effective },
            RunAborted aborted when Aborted is null => run with { Aborted = entry.Place, AbortedBy = entry.Person, AbortReason = aborted.Reason, PlannedAt = PlannedAt ?? entry.Effective },
            RunLoaded loaded => run with { Cages = Load(entry, loaded) },
            RunUnloaded { Withdrawn: true } withdrawn => run with { Cages = Cages.RemoveAll(cage => cage.Load == withdrawn.Load) },
            RunUnloaded unloaded => run with
            {
                Cages = [.. Cages.Select(cage => cage.Load == unloaded.Load && cage.EmptiedAt is null
                    ? cage with { EmptiedAt = entry.Effective, EmptiedBy = entry.Person, CountOut = unloaded.Count }
                    : cage)],
            },
            _ => run,
        };
    }

    // The same load told again is one that was settled: it is doubted no longer.
    private ImmutableArray<RunCage> Load(Entry entry, RunLoaded loaded)
    {
        var cage = new RunCage(loaded.Job, loaded.Group, loaded.Cage, loaded.Load, entry.Place, entry.Person, loaded.Count, loaded.Doubted == true);
        var known = Cages.FirstOrDefault(one => one.Load == loaded.Load);
        return known is null ? Cages.Add(cage) : Cages.Replace(known, known with { Doubted = cage.Doubted, Count = cage.Count });
    }
}
