using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Disputes;

/// <summary>The customer disputes what was done, found or decided; the watch stays where it is until it is settled.</summary>
public sealed record DisputeOpened : WorkshopEvent
{
    /// <summary>1, 2, 3 … within the job.</summary>
    public required int Dispute { get; init; }

    /// <summary>The claim it is about, where it is about one.</summary>
    public int? Claim { get; init; }

    /// <summary>The customer's words; kept here, never sent out.</summary>
    [Erasable]
    public required string Text { get; init; }

    /// <summary>What the customer showed, by the hashes of the photos.</summary>
    public ImmutableArray<string>? Photos { get; init; }
}

/// <summary>How a dispute ended.</summary>
public enum DisputeOutcome
{
    CustomerWasRight,
    WorkshopWasRight,

    /// <summary>Both gave way.</summary>
    Agreement,

    /// <summary>The customer let it rest.</summary>
    Withdrawn,
}

/// <summary>A dispute was settled, and the customer was told how.</summary>
public sealed record DisputeClosed : WorkshopEvent
{
    public required int Dispute { get; init; }

    public required DisputeOutcome Outcome { get; init; }

    /// <summary>In the manager's words.</summary>
    [Erasable]
    public required string Reason { get; init; }

    /// <summary>The evidence it rests on, of both sides.</summary>
    public ImmutableArray<string>? Because { get; init; }

    /// <summary>The day the customer was told.</summary>
    public required LocalDate ToldOn { get; init; }
}
