using Workshop.Core.Journal;

namespace Workshop.Core.Letters;

/// <summary>How something was said.</summary>
public enum LetterChannel
{
    /// <summary>By the workshop's own letter.</summary>
    Email,

    /// <summary>Handed to the storefront, which writes.</summary>
    Storefront,

    /// <summary>By the desk, where a letter could not be sent.</summary>
    Telephone,

    /// <summary>By the desk, on paper.</summary>
    Post,
    InPerson,
}

/// <summary>Somebody round a watch was written to, or what was due to be said was let fall: an entry, so that it is said once.</summary>
public sealed record CustomerTold : WorkshopEvent
{
    public required LetterMoment Moment { get; init; }

    /// <summary>Which of several of its kind: a quote's version, days of a reminder, a claim's number.</summary>
    public required string Occasion { get; init; }

    /// <summary>The customer's id.</summary>
    public required string Customer { get; init; }

    public required LetterChannel Channel { get; init; }

    /// <summary>The letter it stood in, or was to.</summary>
    public required string Letter { get; init; }
}

/// <summary>A manager lets the customer be told of a damage or a loss: nothing says that by itself.</summary>
public sealed record LetterReleased : WorkshopEvent
{
    /// <summary>1, 2, 3 … within the job and moment.</summary>
    public required int Number { get; init; }

    /// <summary><c>damage-told</c> or <c>loss-told</c>.</summary>
    public required LetterMoment Moment { get; init; }

    /// <summary>What the customer is told, in the manager's own words; kept here, and in the letter.</summary>
    [Erasable]
    public required string Words { get; init; }
}
