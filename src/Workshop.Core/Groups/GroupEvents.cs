using System.Collections.Immutable;
using Workshop.Core.Journal;

namespace Workshop.Core.Groups;

/// <summary>A group of parts is named with its members and what they are like.</summary>
public sealed record GroupDeclared : WorkshopEvent
{
    public required string Group { get; init; }

    public ImmutableArray<string> Members { get; init; } = [];

    public int? Count { get; init; }

    public ImmutableArray<string> Flags { get; init; } = [];
}

/// <summary>The parts of a group lie in a numbered cage, for a run.</summary>
public sealed record CageLoaded : WorkshopEvent
{
    public required string Cage { get; init; }

    public required string Group { get; init; }

    /// <summary>Any UUID; a run nobody has heard of is planned by it.</summary>
    public required string Run { get; init; }

    public int? Count { get; init; }
}

/// <summary>The cage was scanned empty: its parts are out, and it is free for others.</summary>
public sealed record CageEmptied : WorkshopEvent
{
    public required string Cage { get; init; }

    public string? Group { get; init; }

    public string? Run { get; init; }

    public int? Count { get; init; }
}

/// <summary>The run that the group was in is finished.</summary>
public sealed record GroupWashed : WorkshopEvent
{
    public required string Group { get; init; }

    public required string Run { get; init; }

    public required string Cage { get; init; }

    public required string Machine { get; init; }

    public required string Programme { get; init; }

    public ImmutableArray<string> Batches { get; init; } = [];
}

/// <summary>The run that the group was in was aborted: it is not washed, and nobody knows how far it came.</summary>
public sealed record GroupUnknown : WorkshopEvent
{
    public required string Group { get; init; }

    public required string Run { get; init; }

    public required string Cage { get; init; }

    public required string Reason { get; init; }
}
