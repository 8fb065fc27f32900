using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Pieces;

/// <summary>Who or what held a piece, from when to when; at every instant a piece has exactly one holder.</summary>
/// <param name="Thing">The piece's id within the job, or its own label.</param>
/// <param name="Holder">A reference: <c>people/…</c>, <c>places/…</c>, <c>benches/…</c>, <c>trays/…</c>, <c>firms/…</c>, <c>customer</c>.</param>
/// <param name="Until">Null for the holding that lasts.</param>
public sealed record Holding(string Thing, string Holder, Instant From, Instant? Until, EventId OpenedBy, EventId? ClosedBy);
