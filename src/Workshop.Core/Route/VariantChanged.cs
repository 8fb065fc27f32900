using System.Collections.Immutable;
using Workshop.Core.Intake;
using Workshop.Core.Journal;

namespace Workshop.Core.Route;

/// <summary>
/// The job is another kind of work from here: what is done stays done where its ground still stands, what is missing is added, and the
/// customer is asked anew. The route of the new kind is frozen into the entry.
/// </summary>
public sealed record VariantChanged : WorkshopEvent
{
    public required string Variant { get; init; }

    /// <summary>The kind of work it was.</summary>
    public required string Was { get; init; }

    public required string Reason { get; init; }

    /// <summary>What the intake lacks for the new kind of work.</summary>
    public ImmutableArray<MissingMember> Missing { get; init; } = [];

    /// <summary>Dangers that the new kind of work adds, by id.</summary>
    public ImmutableArray<string> Hazards { get; init; } = [];
}
