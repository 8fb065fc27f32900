using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>How much a gate insists.</summary>
public enum Strength
{
    /// <summary>Cannot be tapped through.</summary>
    Stop,

    /// <summary>Passes when a new event names it in <c>despite</c>; kept with the name.</summary>
    Ask,

    /// <summary>Passes and flags.</summary>
    Note,
}

/// <summary>Job gates read the folded job alone and may be asked again; fact gates read the turn's facts and are asked once.</summary>
public enum GateKind
{
    Job,
    Fact,
}

/// <summary>One gate that does not pass for one event at one place.</summary>
public sealed record Objection
{
    /// <summary>The gate's full name, for example <c>needs/casing</c> or <c>hold/query</c>.</summary>
    public required string Gate { get; init; }

    public required GateKind Kind { get; init; }

    public required Strength Strength { get; init; }

    /// <summary>A manager's waiver lets the next event through.</summary>
    public required bool Waivable { get; init; }

    /// <summary>What to show: at most 60 characters.</summary>
    public required Phrase Line { get; init; }

    /// <summary>Who or what could help.</summary>
    public required Phrase Helps { get; init; }

    /// <summary>The stable code of the refusal.</summary>
    public required string Code { get; init; }

    /// <summary>What the refusal names, as members of the problem (<c>holder</c>, <c>since</c>, <c>stage</c> …).</summary>
    public ImmutableSortedDictionary<string, string> Names { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

    /// <summary>Entries of the same job that stand against it, the newest first.</summary>
    public ImmutableArray<NamedEntry> Entries { get; init; } = [];
}

/// <summary>An entry as a refusal names it.</summary>
/// <param name="Person">Who said it, where somebody was named.</param>
public sealed record NamedEntry(EventId Id, string Type, Instant At, string? Person)
{
    public static NamedEntry Of(Entry entry) => new(entry.Id, entry.Event.Type, entry.Effective, entry.Person);
}
