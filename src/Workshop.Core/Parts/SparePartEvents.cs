using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Parts;

/// <summary>Something that is told of a spare part and a job. Parts the shop has written down are counted; others are kept by their name.</summary>
public abstract record PartEvent : WorkshopEvent
{
    /// <summary>The part's id in the shop's list of parts, or what people call it.</summary>
    public required string Part { get; init; }

    /// <summary>Pieces of it; one where left out.</summary>
    public int? Count { get; init; }

    /// <summary>The order it is about, where one is known.</summary>
    public string? Order { get; init; }

    /// <summary>Pieces meant.</summary>
    public int Pieces() => Count ?? 1;
}

/// <summary>Set aside for a job: off the shelf, or, with an order, of what that order will bring.</summary>
public sealed record PartReserved : PartEvent
{
    /// <summary>Work is not to begin before it is in the house.</summary>
    public bool? Essential { get; init; }
}

/// <summary>A delivery for a job came; fewer than were ordered are a part of it.</summary>
public sealed record PartReceived : PartEvent
{
    public string? Lot { get; init; }

    /// <summary>False: the wrong thing came; it is not on the shelf, and the right one is still awaited.</summary>
    public bool? Fits { get; init; }
}

/// <summary>Held against the old part.</summary>
public sealed record PartChecked : PartEvent
{
    /// <summary>False: what is here for the job is the wrong thing after all, and is awaited anew.</summary>
    public required bool Fits { get; init; }
}

/// <summary>The part is in the watch: it is off the shelf.</summary>
public sealed record PartFitted : PartEvent
{
    public string? Lot { get; init; }

    /// <summary>What it took the place of.</summary>
    public string? Replaces { get; init; }

    /// <summary>The group of parts it went into.</summary>
    public string? Group { get; init; }
}

/// <summary>No longer set aside for the job.</summary>
public sealed record PartReleased : PartEvent
{
    public string? Reason { get; init; }

    /// <summary>Written by the service where another job was given the part: that job's label.</summary>
    public string? TakenBy { get; init; }

    /// <summary>For what another job was given: the day by which a new one usually comes.</summary>
    public LocalDate? ExpectedOn { get; init; }

    /// <summary>For what another job was given: work was not to begin without it.</summary>
    public bool? Essential { get; init; }
}

/// <summary>The service says what an order is to bring for a job, and when: once as it is ordered, and anew with every change.</summary>
public sealed record PartExpected : PartEvent
{
    /// <summary>The day it is to come; absent where nobody has said one.</summary>
    public LocalDate? ExpectedOn { get; init; }

    /// <summary>The day that was said before.</summary>
    public LocalDate? Was { get; init; }

    public bool? Essential { get; init; }
}
