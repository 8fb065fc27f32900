using Workshop.Core.Journal;

namespace Workshop.Core.Parts;

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
