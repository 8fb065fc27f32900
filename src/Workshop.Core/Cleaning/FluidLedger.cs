using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Cleaning;

/// <summary>A run that went through a filling.</summary>
public sealed record BatchUse(string Run, string Jar, Instant At, int CountsAs, bool Overridden);

/// <summary>A filling and what went through it.</summary>
public sealed record FluidBatch
{
    public required string Id { get; init; }

    /// <summary>The jar it stands in; null where it is thrown away, or nobody has told.</summary>
    public string? Jar { get; init; }

    public string? Fluid { get; init; }

    public string? Lot { get; init; }

    public decimal? Litres { get; init; }

    public Instant? FilledAt { get; init; }

    public string? FilledBy { get; init; }

    public Instant? DiscardedAt { get; init; }

    /// <summary>Litres of waste.</summary>
    public decimal? Waste { get; init; }

    /// <summary>Runs since it stands in its present jar.</summary>
    public int RunsInJar { get; init; }

    /// <summary>Runs in all jars it ever stood in.</summary>
    public int RunsInAll { get; init; }

    /// <summary>In order of time.</summary>
    public ImmutableArray<BatchUse> Uses { get; init; } = [];

    /// <summary>Somebody has let it go once more by name; nobody does so twice.</summary>
    public bool OverrideUsed => Uses.Any(use => use.Overridden);

    /// <summary>The moment at which its runs in the present jar had reached a count; null where they have not.</summary>
    public Instant? Reached(int runs)
    {
        var counted = RunsInJar;
        foreach (var use in Uses.Reverse())
        {
            if (counted < runs)
            {
                return null;
            }

            counted -= use.CountsAs;
            if (counted < runs)
            {
                return use.At;
            }
        }

        return null;
    }
}

/// <summary>
/// The fillings of one machine, folded from the machine's own stream. A run counts on every filling it went through; in its present jar
/// a filling begins anew when it is moved, its days never do.
/// </summary>
public sealed record FluidLedger
{
    public required string Machine { get; init; }

    public ImmutableArray<FluidBatch> Batches { get; init; } = [];

    /// <summary>Since when the machine stands still, and why; null while it runs.</summary>
    public Instant? StoppedAt { get; init; }

    public string? StopReason { get; init; }

    public static string StreamOf(string machine) => $"machine/{machine}";

    /// <summary>Folds entries given in any order. Never refuses, never throws.</summary>
    public static FluidLedger Replay(string machine, IEnumerable<Entry> entries) =>
        entries.OrderBy(entry => entry.Place).Aggregate(new FluidLedger { Machine = machine }, (ledger, entry) => ledger.Apply(entry));

    public FluidBatch? Find(string batch) => Batches.FirstOrDefault(one => one.Id == batch);

    /// <summary>What stands in a jar; null where nobody has told.</summary>
    public FluidBatch? In(string jar) => Batches.LastOrDefault(one => one.Jar == jar && one.DiscardedAt is null);

    private FluidLedger Apply(Entry entry) => !entry.Counts ? this : entry.Event switch
    {
        FluidFilled filled => Fill(filled, entry),
        FluidMoved moved => Move(moved, entry),
        FluidDiscarded discarded => Discard(discarded, entry),
        MachineStopped stopped => this with { StoppedAt = entry.Effective, StopReason = stopped.Reason },
        FluidUsed used => used.Batches.Aggregate(this with { StoppedAt = null, StopReason = null }, (ledger, one) => ledger.Use(used, one, entry.Effective)),
        _ => this,
    };

    private FluidLedger Fill(FluidFilled filled, Entry entry)
    {
        var cleared = Cleared(filled.Jar, entry.Effective, except: filled.Batch);
        return cleared.With(cleared.Known(filled.Batch) with
        {
            Jar = filled.Jar,
            Fluid = filled.Fluid,
            Lot = filled.Lot,
            Litres = filled.Litres,
            FilledAt = entry.Effective,
            FilledBy = entry.Person,
        });
    }

    private FluidLedger Move(FluidMoved moved, Entry entry)
    {
        var cleared = Cleared(moved.ToJar, entry.Effective, except: moved.Batch);
        return cleared.With(cleared.Known(moved.Batch) with { Jar = moved.ToJar, RunsInJar = 0 });
    }

    private FluidLedger Discard(FluidDiscarded discarded, Entry entry)
    {
        var batch = Known(discarded.Batch);
        return With(batch with { Jar = null, DiscardedAt = entry.Effective, Waste = discarded.Litres ?? batch.Litres });
    }

    private FluidLedger Use(FluidUsed used, UsedBatch one, Instant at)
    {
        var batch = Known(one.Batch);
        return With(batch with
        {
            Jar = batch.DiscardedAt is null ? one.Jar : null,
            RunsInJar = batch.RunsInJar + used.CountsAs,
            RunsInAll = batch.RunsInAll + used.CountsAs,
            Uses = batch.Uses.Add(new BatchUse(used.Run, one.Jar, at, used.CountsAs, used.Overridden.Contains(one.Batch))),
        });
    }

    // A jar holds one filling: what stood there before went, whether anybody said so or not.
    private FluidLedger Cleared(string jar, Instant at, string? except = null) => this with
    {
        Batches = [.. Batches.Select(one => one.Jar == jar && one.DiscardedAt is null && one.Id != except ? one with { Jar = null, DiscardedAt = at, Waste = one.Litres } : one)],
    };

    private FluidBatch Known(string id) => Find(id) ?? new FluidBatch { Id = id };

    private FluidLedger With(FluidBatch batch) => this with
    {
        Batches = Find(batch.Id) is { } known ? Batches.Replace(known, batch) : Batches.Add(batch),
    };
}
