using System.Collections.Immutable;
using Workshop.Core.Journal;

namespace Workshop.Core.Scans;

/// <summary>
/// Labels read one after the other by a scanner without any logic: what, and what happens to it, or where. It says nothing of its own
/// in the journal; the event it means is kept with the scan as its cause.
/// </summary>
public sealed record ScanMade : WorkshopEvent
{
    public const int CodesAtMost = 4;

    /// <summary>Labels as read, in any order.</summary>
    public required ImmutableArray<string> Codes { get; init; }
}
