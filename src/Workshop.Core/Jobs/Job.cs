using System.Collections.Immutable;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;

namespace Workshop.Core.Jobs;

/// <summary>A job as folded from its entries. Never refuses, never throws, reads nothing else.</summary>
public sealed record Job
{
    public required Label Label { get; init; }

    /// <summary>Entries folded; the stream version of the newest.</summary>
    public long Version { get; init; }

    /// <summary>The place of the last entry in order; an entry behind it can be applied to this value.</summary>
    public Place? Last { get; init; }

    /// <summary>Every holding of every piece, ended ones too.</summary>
    public ImmutableArray<Holding> Holdings { get; init; } = [];

    public static Job Replay(Label label, IEnumerable<Entry> entries) => throw new NotSupportedException();

    public Job Apply(Entry entry) => this;
}
