using System.Collections.Immutable;
using Workshop.Core.Journal;

namespace Workshop.Core.Cleaning;

/// <summary>Something said about a cleaning machine; its subject is the machine, as <c>machines/machine-1</c> or by its label.</summary>
public abstract record MachineEvent : WorkshopEvent;

/// <summary>A jar was filled afresh: a new batch begins, whatever stood in the jar before is no longer there.</summary>
public sealed record FluidFilled : MachineEvent
{
    /// <summary>The id of the new batch.</summary>
    public required string Batch { get; init; }

    public required string Jar { get; init; }

    /// <summary>The kind of fluid; that of the jar where left out.</summary>
    public string? Fluid { get; init; }

    public string? Lot { get; init; }

    public decimal? Litres { get; init; }
}

/// <summary>A filling moves to another jar of the machine, as a second rinse becomes the first. Its runs in the jar begin anew, its days never.</summary>
public sealed record FluidMoved : MachineEvent
{
    public required string Batch { get; init; }

    public required string FromJar { get; init; }

    public required string ToJar { get; init; }
}

/// <summary>A filling was thrown away.</summary>
public sealed record FluidDiscarded : MachineEvent
{
    public required string Batch { get; init; }

    public string? Jar { get; init; }

    /// <summary>Litres of waste; what was filled in where left out.</summary>
    public decimal? Litres { get; init; }

    public string? Reason { get; init; }
}

/// <summary>The machine stands still until somebody runs it again.</summary>
public sealed record MachineStopped : MachineEvent
{
    public required string Reason { get; init; }
}

/// <summary>A run has gone through these fillings of the machine.</summary>
public sealed record FluidUsed : WorkshopEvent
{
    public required string Run { get; init; }

    /// <summary>As how many runs it counts on each.</summary>
    public required int CountsAs { get; init; }

    public required ImmutableArray<UsedBatch> Batches { get; init; }

    /// <summary>Those that were used up and went once more.</summary>
    public ImmutableArray<string> Overridden { get; init; } = [];
}
