using Workshop.Core.Journal;

namespace Workshop.Core.Labels;

/// <summary>
/// A further label for the same watch, or a label of its own for one of its pieces. The journal of the job stays under its first
/// label; from now on each of them leads to it.
/// </summary>
public sealed record LabelAttached : WorkshopEvent
{
    /// <summary>A label of the kind job, or of the kind piece.</summary>
    public required Label Label { get; init; }

    /// <summary>For a label of the kind piece: which piece, by the id under which the job lists it.</summary>
    public string? Piece { get; init; }
}

/// <summary>A label was lost or spoilt and another has taken its place. Whoever scans the old one from now on is told to stop.</summary>
public sealed record LabelReplaced : WorkshopEvent
{
    /// <summary>The one that is no longer to be found on the watch.</summary>
    public required Label Label { get; init; }

    /// <summary>The one that is on it now; of the same kind.</summary>
    public required Label By { get; init; }

    public required string Reason { get; init; }
}
