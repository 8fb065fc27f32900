using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Labels;

/// <summary>A label besides the job's first one.</summary>
/// <param name="Piece">The piece it is on; null where it means the watch.</param>
public sealed record AttachedLabel(Label Label, string? Piece, Instant At);

/// <param name="At">From then on the old one is not on the watch.</param>
public sealed record ReplacedLabel(Label Label, Label By, string Reason, Instant At);

/// <summary>The labels of one job besides its first, and those that have been replaced.</summary>
public sealed record JobLabels
{
    public ImmutableArray<AttachedLabel> Attached { get; init; } = [];

    public ImmutableArray<ReplacedLabel> Replaced { get; init; } = [];

    public bool Knows(Label label) => Attached.Any(one => one.Label == label);

    /// <summary>The replacement of a label, or null while it is good.</summary>
    public ReplacedLabel? ReplacementOf(Label label) => Replaced.FirstOrDefault(one => one.Label == label);

    /// <summary>The piece a label is on, or null.</summary>
    public string? PieceOf(Label label) => Attached.FirstOrDefault(one => one.Label == label)?.Piece;

    public JobLabels Apply(Entry entry) => entry.Event switch
    {
        LabelAttached attached => Attach(attached.Label, attached.Piece, entry.Effective),
        LabelReplaced replaced => Attach(replaced.By, PieceOf(replaced.Label), entry.Effective).Replace(replaced, entry.Effective),
        _ => this,
    };

    private JobLabels Attach(Label label, string? piece, Instant at) =>
        Knows(label) ? this : this with { Attached = Attached.Add(new AttachedLabel(label, piece, at)) };

    private JobLabels Replace(LabelReplaced replaced, Instant at) =>
        ReplacementOf(replaced.Label) is not null ? this
        : this with { Replaced = Replaced.Add(new ReplacedLabel(replaced.Label, replaced.By, replaced.Reason, at)) };
}
