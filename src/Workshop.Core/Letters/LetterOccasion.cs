using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Words;

namespace Workshop.Core.Letters;

/// <summary>Why something is not said, though it was due.</summary>
public enum LetterDrop
{
    /// <summary>What it was about has passed: the watch was collected, the quote answered.</summary>
    Passed,

    /// <summary>A newer one of its kind says it.</summary>
    Newer,

    /// <summary>It stands in another letter already.</summary>
    SaidOtherwise,

    /// <summary>Nobody could send it for so long that it is no news.</summary>
    TooLate,

    /// <summary>They did not allow it.</summary>
    NoPermission,

    /// <summary>They are reached by another way only, or by none.</summary>
    NoContact,

    /// <summary>Nobody knows where to write.</summary>
    NoAddress,

    Deceased,

    /// <summary>A letter came back.</summary>
    CameBack,

    /// <summary>The shop says that nobody writes of this.</summary>
    NobodyWrites,

    /// <summary>Every attempt to send it failed; the desk tells them.</summary>
    GivenUp,
}

/// <summary>Why something waits that is due.</summary>
public enum LetterWait
{
    /// <summary>Its day or hour has not come.</summary>
    NotYet,
    QuietHours,

    /// <summary>They have had a letter today.</summary>
    OneADay,

    /// <summary>A gift: its day has not come.</summary>
    Gift,

    /// <summary>The job is held; nothing is said meanwhile.</summary>
    Held,
}

/// <summary>Something to be said about a job, or let fall.</summary>
/// <param name="Occasion">Which of several of its kind; lower case, digits, points and hyphens.</param>
/// <param name="Due">When it is due.</param>
/// <param name="Drop">Why it is not said, as the job is now; null where it may be.</param>
public sealed record LetterOccasion(LetterMoment Moment, string Occasion, Instant Due, LetterDrop? Drop = null)
{
    /// <summary>One id for the letter, for what the storefront is given, and for its entry.</summary>
    /// <param name="job">The job's label, or that of an arrival.</param>
    /// <param name="customer">To whom; the customer of the intake needs no naming.</param>
    public string IdFor(Label job, string customer, string ofIntake) =>
        customer == ofIntake ? $"{job}/{Word.Of(Moment)}/{Occasion}" : $"{job}/{Word.Of(Moment)}/{Occasion}/{customer}";
}

/// <summary>What letters depend on and no job says of itself.</summary>
public sealed record LetterSurroundings
{
    public static readonly LetterSurroundings None = new();

    /// <summary>The watch is in the house again, under another job.</summary>
    public bool BackInHouse { get; init; }

    /// <summary>Another job on the same watch was taken in after this one was handed over.</summary>
    public bool NewerJob { get; init; }

    /// <summary>The watch belongs to somebody else by now, or is lost.</summary>
    public bool Gone { get; init; }

    public bool Chronograph { get; init; }
}
