using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Pieces;

/// <summary>Who or what held a thing, from when to when; at every instant a thing has exactly one holder.</summary>
/// <param name="Thing">A piece's id within the job, or its own label; <c>cages/…</c> for a numbered cage.</param>
/// <param name="Holder">A reference: <c>people/…</c>, <c>places/…</c>, <c>benches/…</c>, <c>trays/…</c>, <c>firms/…</c>, <c>customer</c>; <c>groups/…</c> for a cage.</param>
/// <param name="Until">Null for the holding that lasts.</param>
public sealed record Holding(string Thing, string Holder, Instant From, Instant? Until, EventId OpenedBy, EventId? ClosedBy)
{
    /// <summary>For a cage: the run it was loaded for.</summary>
    public string? Run { get; init; }
}
