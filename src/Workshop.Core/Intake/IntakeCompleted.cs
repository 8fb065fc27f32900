using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Intake;

/// <summary>Members that were missing at intake are known now, or a wish is another one than it was.</summary>
public sealed record IntakeCompleted : WorkshopEvent
{
    public required ImmutableArray<string> Known { get; init; }

    /// <summary>Missing from now on: a polish that is wished for is to be confirmed.</summary>
    public ImmutableArray<MissingMember> Missing { get; init; } = [];

    /// <summary>The wish as it is from now on; absent where it is as before.</summary>
    public PolishWish? Polish { get; init; }

    /// <summary>The day the customer needs it by, from now on; absent where it is as before.</summary>
    public LocalDate? FixedDate { get; init; }

    /// <summary>No day is fixed any more.</summary>
    public bool? FixedDateGone { get; init; }
}

/// <summary>The customer was asked again before the polish, and said yes again: metal that is taken off does not come back.</summary>
public sealed record PolishConfirmed : WorkshopEvent;
