using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Cleaning;

/// <summary>A run in a list.</summary>
public sealed record RunLine(string Run, RunState State, string? Machine, string? Programme, Instant PlannedAt, Instant? StartedAt, Instant? EndedAt)
{
    public static RunLine Of(RunRow row) => new(
        row.Id, Core.Words.Word.Read<RunState>(row.State)!.Value, row.Machine, row.Programme, Microseconds.Read(row.PlannedAt), Microseconds.Read(row.StartedAt), Microseconds.Read(row.EndedAt));
}

/// <summary>A cage in a run.</summary>
/// <param name="Doubted">It was reported late against a gate and waits for a manager.</param>
/// <param name="CountOut">Counted when it was scanned empty.</param>
public sealed record RunCageView(
    Label Job, string Group, string Cage, Instant LoadedAt, string? LoadedBy, int? Count, Instant? EmptiedAt, string? EmptiedBy, int? CountOut, bool Doubted,
    ImmutableArray<string> Before, ImmutableArray<string> After);

/// <summary>A run with all that is known of it.</summary>
public sealed record RunView
{
    public required string Run { get; init; }

    public required RunState State { get; init; }

    public string? Machine { get; init; }

    public string? Programme { get; init; }

    public Instant? PlannedAt { get; init; }

    public Instant? StartedAt { get; init; }

    public string? StartedBy { get; init; }

    public Instant? EndedAt { get; init; }

    public string? EndedBy { get; init; }

    public string? AbortReason { get; init; }

    /// <summary>As how many runs it counts on every filling.</summary>
    public int? CountsAs { get; init; }

    /// <summary>The fillings it went through.</summary>
    public ImmutableArray<UsedBatch> Batches { get; init; } = [];

    /// <summary>Of these, what was used up and was let through once by the name of whoever started it.</summary>
    public ImmutableArray<string> Overridden { get; init; } = [];

    public ImmutableArray<RunCageView> Cages { get; init; } = [];
}
