using Workshop.Core.Journal;

namespace Workshop.Core.Parts;

/// <summary>A part was put in; where it names a group, the group has one part more.</summary>
public sealed record PartFitted : WorkshopEvent
{
    /// <summary>The part by name or number.</summary>
    public required string Part { get; init; }

    public string? Group { get; init; }

    /// <summary>The part of the group that it takes the place of.</summary>
    public string? Replaces { get; init; }
}

/// <summary>A part cannot be found: the job is held, and everybody looks for it.</summary>
public sealed record PartLost : WorkshopEvent
{
    public required string Part { get; init; }

    public string? Group { get; init; }

    public string? System { get; init; }

    /// <summary>What happened, in free text.</summary>
    public string? Condition { get; init; }
}

/// <summary>A part that was missing is there again; the hold of its loss ends.</summary>
public sealed record PartFound : WorkshopEvent
{
    public required string Part { get; init; }

    public string? Group { get; init; }
}
