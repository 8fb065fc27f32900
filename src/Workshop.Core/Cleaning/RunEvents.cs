using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Core.Cleaning;

/// <summary>Something said about a run of a cleaning machine; its subject is the run, any UUID.</summary>
public abstract record RunEvent : WorkshopEvent;

/// <summary>The machine runs with all the cages that were loaded for it.</summary>
public sealed record RunStarted : RunEvent
{
    /// <summary>The machine's id, for example <c>machine-1</c>.</summary>
    public required string Machine { get; init; }

    /// <summary>The programme's id, for example <c>gentle</c>.</summary>
    public required string Programme { get; init; }
}

/// <summary>The programme has run to its end.</summary>
public sealed record RunFinished : RunEvent;

/// <summary>It stopped before its end: a power cut, a noise, smoke. What was in it is not washed.</summary>
public sealed record RunAborted : RunEvent
{
    public required string Reason { get; init; }
}

/// <summary>The first cage was loaded for a run nobody had heard of.</summary>
public sealed record RunPlanned : WorkshopEvent;

/// <summary>A cage of a job's group is in the run; the same turn wrote it into the job.</summary>
public sealed record RunLoaded : WorkshopEvent
{
    public required Label Job { get; init; }

    public required string Group { get; init; }

    public required string Cage { get; init; }

    /// <summary>The job's own entry that says so.</summary>
    public required EventId Load { get; init; }

    public int? Count { get; init; }

    /// <summary>It was reported against a gate and waits for a manager.</summary>
    public bool? Doubted { get; init; }
}

/// <summary>A cage is no longer in the run: it was scanned empty, or what said that it was loaded does not count.</summary>
public sealed record RunUnloaded : WorkshopEvent
{
    public required Label Job { get; init; }

    public required string Group { get; init; }

    public required string Cage { get; init; }

    /// <summary>The job's own entry that had loaded it.</summary>
    public required EventId Load { get; init; }

    public int? Count { get; init; }

    /// <summary>It was never in the run.</summary>
    public bool? Withdrawn { get; init; }
}

/// <summary>A filling that a run goes through.</summary>
public sealed record UsedBatch(string Jar, string Batch);

/// <summary>What is frozen in the start of a run: the fillings it goes through, as how many runs it counts, and what was let through by name.</summary>
public sealed record RunTerms
{
    public ImmutableArray<UsedBatch> Batches { get; init; } = [];

    [Range(1, 20)]
    public int CountsAs { get; init; } = 1;

    /// <summary>Fillings that were used up and go once more, by the name of whoever said so.</summary>
    public ImmutableArray<string> Overridden { get; init; } = [];
}
