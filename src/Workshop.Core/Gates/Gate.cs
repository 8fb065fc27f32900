using System.Collections.Immutable;

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

/// <summary>What one gate answered about one event at one place.</summary>
public sealed record GateAnswer
{
    /// <summary>The gate's full name, for example <c>needs/casing</c> or <c>hold/query</c>.</summary>
    public required string Gate { get; init; }

    public required GateKind Kind { get; init; }

    public required Strength Strength { get; init; }

    public bool Passes { get; init; }

    /// <summary>A manager's waiver lets the next event through.</summary>
    public bool Waivable { get; init; }

    /// <summary>Neither strength nor waiver can be changed by the shop.</summary>
    public bool Fixed { get; init; }

    /// <summary>What to show when it does not pass: at most 60 characters.</summary>
    public string Line { get; init; } = "";

    /// <summary>Who or what could help.</summary>
    public string Helps { get; init; } = "";

    /// <summary>The stable code of the refusal; most often the gate's family.</summary>
    public string Code { get; init; } = "";

    /// <summary>What the refusal names, as members of the problem (holder, since, missing …).</summary>
    public ImmutableSortedDictionary<string, string> Names { get; init; } = ImmutableSortedDictionary<string, string>.Empty;
}
