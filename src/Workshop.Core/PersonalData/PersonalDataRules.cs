using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Core.PersonalData;

/// <summary>How long a shop keeps who people are. Local law decides what it must keep, and for how long; none of these figures is advice.</summary>
public sealed record PersonalDataRules
{
    public static readonly PersonalDataRules Usual = new();

    /// <summary>
    /// Months after the last watch of a customer went home, after which who they are is erased without being asked, every night. Never where it
    /// is left out, which is how it comes: an owner decides it.
    /// </summary>
    [Range(1, 1_200)]
    public int? ErasedAfterMonths { get; init; }

    /// <summary>Days for which the text of an event that was refused is kept, so that somebody can look at what a bench meant. Own choice.</summary>
    [Range(1, 3_650)]
    public int RefusedEventsDays { get; init; } = 180;
}

/// <summary>A customer's name, ways to reach them, and what was written of them freely are gone; the work on their watches stays.</summary>
public sealed record CustomerErased : WorkshopEvent
{
    /// <summary>The customer's id, which leads to nobody any more.</summary>
    public required string Customer { get; init; }

    /// <summary>Entries of the job whose text went.</summary>
    public required int Entries { get; init; }

    /// <summary>Nobody asked: the time that the shop keeps such things was over.</summary>
    public bool? AfterItsTime { get; init; }
}
