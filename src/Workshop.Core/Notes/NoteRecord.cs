using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Notes;

/// <summary>A report that was kept but changed nothing, waiting for a person.</summary>
/// <param name="Failed">The gates that had failed.</param>
public sealed record Review(EventId Id, string Type, Instant At, string? Person, ImmutableArray<string> Failed);
