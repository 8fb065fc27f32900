using System.Collections.Immutable;
using Workshop.Core.Journal;

namespace Workshop.Core.Notes;

public enum Audience
{
    House,
    Customer,
}

public sealed record NoteWritten : WorkshopEvent
{
    [Erasable]
    public required string Text { get; init; }

    public Audience Audience { get; init; }
}

public enum Severity
{
    Must,
    Should,
    Optional,
}

/// <summary>Damage was seen; the job is held for a manager.</summary>
public sealed record DamageSeen : WorkshopEvent
{
    public string? System { get; init; }

    public string? Part { get; init; }

    public string? Condition { get; init; }

    public Severity? Severity { get; init; }

    public ImmutableArray<string>? Photos { get; init; }

    /// <summary>It was so when the watch came in.</summary>
    public bool? AsReceived { get; init; }
}
