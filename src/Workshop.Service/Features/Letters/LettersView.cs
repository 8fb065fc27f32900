using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Letters;

namespace Workshop.Service.Features.Letters;

/// <summary>How something to be said stands.</summary>
public enum LetterStanding
{
    /// <summary>It is due later, or waits for its hour.</summary>
    Waiting,

    /// <summary>It goes at the next round.</summary>
    Going,
    Said,

    /// <summary>It is not said, for the reason given.</summary>
    Dropped,

    /// <summary>The mail server would not have it.</summary>
    Returned,
}

/// <summary>One thing that was, will be or will not be said to somebody.</summary>
/// <param name="Id">The letter's id, and that of <c>message.due</c>.</param>
/// <param name="Customer">The customer's id.</param>
/// <param name="Drop">Why it is not said.</param>
/// <param name="Wait">What it waits for.</param>
/// <param name="Until">When it is asked again, where that is known.</param>
/// <param name="Letter">The letter it stands in.</param>
/// <param name="Attempts">How often it was tried to send it.</param>
public sealed record LetterView(
    string Id, LetterMoment Moment, string Occasion, string Customer, LetterSpeaker Speaker, Instant Due, LetterStanding Standing, LetterDrop? Drop, LetterWait? Wait, Instant? Until,
    LetterChannel? Channel, string? Letter, Instant? SaidAt, long? Attempts);

/// <summary>All that is said about a job: what was, what is due, what was let fall and why; by the time at which it was due.</summary>
public sealed record LettersView(Label Job, ImmutableArray<LetterView> Items);
