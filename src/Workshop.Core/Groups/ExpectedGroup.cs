using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;

namespace Workshop.Core.Groups;

/// <summary>A group that a kind of work usually has; common practice, and the shop's own to change.</summary>
public sealed record ExpectedGroup
{
    [RegularExpression("[a-z0-9][a-z0-9-]{0,59}")]
    public required string Group { get; init; }

    /// <summary>What its parts usually are like.</summary>
    [Length(0, 20)]
    public ImmutableArray<string> Flags { get; init; } = [];

    /// <summary>Flags that the bench should think of: some of these watches have such parts.</summary>
    [Length(0, 20)]
    public ImmutableArray<string> AskAbout { get; init; } = [];

    /// <summary>False: only where the watch has it and the bench declares it.</summary>
    public bool Required { get; init; } = true;

    /// <summary>True: no takedown ends without its count; otherwise the bench is asked for it.</summary>
    public bool CountNeeded { get; init; }

    /// <summary>True: it is there from the takedown's start and ends by itself as not to be washed.</summary>
    public bool NeverWashed { get; init; }
}

/// <summary>What is frozen of groups in an entry: it rests on the shop's rules as they were.</summary>
public sealed record GroupTerms
{
    /// <summary>For the takedown's beginning: the groups that its kind of work has.</summary>
    public ImmutableArray<ExpectedGroup> Expected { get; init; } = [];

    /// <summary>For a declared group: one of its flags is never washed.</summary>
    public bool? NeverWashed { get; init; }
}
