using Workshop.Core.Journal;

namespace Workshop.Core.Casing;

/// <summary>The watch is closed; three numbers are read and compared.</summary>
public sealed record CaseClosed : WorkshopEvent
{
    /// <summary>The label read from the job's bag or slip.</summary>
    public required string JobLabel { get; init; }

    public required string CaseSerial { get; init; }

    public string? MovementNumber { get; init; }
}

/// <summary>The case was opened, however shortly.</summary>
public sealed record CaseOpened : WorkshopEvent
{
    public string? Reason { get; init; }
}

/// <summary>What a seal looked like.</summary>
public enum SealState
{
    Intact,
    Broken,
    NeverFitted,
}

/// <summary>A seal was looked at; a broken one on a cased watch means it was opened.</summary>
public sealed record SealSeen : WorkshopEvent
{
    public string? Number { get; init; }

    public required SealState State { get; init; }
}

/// <summary>Numbers at casing did not agree; written into every job concerned, each of which is held until a manager decides.</summary>
public sealed record MixUpSuspected : WorkshopEvent
{
    /// <summary>The job at whose casing it was seen.</summary>
    public required string SeenAt { get; init; }

    /// <summary>The other job, where one is known.</summary>
    public string? Other { get; init; }

    /// <summary>Which of the three numbers differ: <c>job-label</c>, <c>case-serial</c>, <c>movement-number</c>.</summary>
    public required System.Collections.Immutable.ImmutableArray<string> Differing { get; init; }
}
