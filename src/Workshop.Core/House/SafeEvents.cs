using System.Collections.Immutable;
using Workshop.Core.Journal;
using Workshop.Core.Sources;

namespace Workshop.Core.House;

/// <summary>
/// Somebody has counted what lies in the safe. It concerns the house and no single watch: it stands in the stream <c>house</c>, whoever
/// said it.
/// </summary>
public sealed record SafeCounted : SourceEvent
{
    /// <summary>What lies there: the label of a watch (all of it), the label of a piece, or <c>&lt;job&gt;/&lt;piece&gt;</c>.</summary>
    public required ImmutableArray<string> Pieces { get; init; }

    /// <summary>What the person looked for and did not find, in the same words.</summary>
    public ImmutableArray<string>? Missing { get; init; }
}

/// <summary>The service has held a count of the safe against what is said to lie there. Pieces are <c>&lt;job&gt;/&lt;piece&gt;</c>.</summary>
public sealed record SafeCompared : WorkshopEvent
{
    /// <summary>Pieces counted.</summary>
    public required int Counted { get; init; }

    /// <summary>Said to lie in the safe, or looked for there by the person, and not counted.</summary>
    public required ImmutableArray<string> Missing { get; init; }

    /// <summary>Counted in the safe, and said to be elsewhere: somebody forgot to say that it was put there.</summary>
    public required ImmutableArray<string> Elsewhere { get; init; }
}
