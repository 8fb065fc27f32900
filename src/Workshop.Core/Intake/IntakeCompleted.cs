using System.Collections.Immutable;
using Workshop.Core.Journal;

namespace Workshop.Core.Intake;

/// <summary>Members that were missing at intake are known now.</summary>
public sealed record IntakeCompleted : WorkshopEvent
{
    public required ImmutableArray<string> Known { get; init; }
}
