using Workshop.Core.Journal;
using Workshop.Core.Sources;

namespace Workshop.Core.Corrections;

/// <summary>An entry of the same job was wrong: it is void with all it caused, as if never, and stays visible.</summary>
public sealed record CorrectionMade : WorkshopEvent
{
    public required EventId Of { get; init; }

    public required string Reason { get; init; }
}

/// <summary>
/// A badge was somebody else's: what a source said within a stretch of its own numbers was said by this person. Said once about the
/// source; the service writes it into every job the stretch reached.
/// </summary>
public sealed record PersonCorrected : SourceEvent
{
    /// <summary>The source whose entries are meant, for example <c>/devices/bench-2/1</c>.</summary>
    public required string Source { get; init; }

    /// <summary>The first number meant; a device counts from 1.</summary>
    public required long FromSequence { get; init; }

    /// <summary>The last number meant.</summary>
    public required long ToSequence { get; init; }

    /// <summary>Whose work it was: a badge, or the short name of somebody of the house.</summary>
    public required string Person { get; init; }

    public required string Reason { get; init; }
}
