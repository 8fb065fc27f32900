using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Warranties;

public enum HandedOverHow
{
    Collected,
    Dispatched,
}

/// <summary>Pieces left the house; with the last one the job is handed over and its warranty begins.</summary>
public sealed record JobHandedOver : WorkshopEvent
{
    public required HandedOverHow How { get; init; }

    /// <summary>The pieces given back; all that are here when absent.</summary>
    public ImmutableArray<string>? Pieces { get; init; }

    public string? To { get; init; }

    public bool? IdentitySeen { get; init; }

    /// <summary>The day of hand-over in the workshop's own calendar.</summary>
    public required LocalDate On { get; init; }
}

/// <summary>Who says that a parcel was delivered.</summary>
public enum DeliveryProof
{
    Carrier,
    Signature,
    Customer,
}

/// <summary>A parcel was delivered. Told again, the latest day counts; one before the day the warranty is presumed to start changes nothing.</summary>
public sealed record DeliveryRecorded : WorkshopEvent
{
    /// <summary>The day of delivery in the workshop's own calendar.</summary>
    public required LocalDate On { get; init; }

    /// <summary>By whose word.</summary>
    public DeliveryProof? How { get; init; }
}

/// <summary>The customer reported a fault under warranty.</summary>
public sealed record ClaimReported : WorkshopEvent
{
    /// <summary>1, 2, 3 … within the job.</summary>
    public required int Claim { get; init; }

    public required LocalDate ReportedOn { get; init; }

    public LocalDate? ReceivedOn { get; init; }

    /// <summary>The customer's words; kept here, never sent out.</summary>
    [Erasable]
    public required string Text { get; init; }
}

public sealed record ClaimDecided : WorkshopEvent
{
    public required int Claim { get; init; }

    public required bool Covered { get; init; }

    /// <summary>The warranty lines the decision is about; all of them when absent.</summary>
    public ImmutableArray<string>? Lines { get; init; }

    public required string Reason { get; init; }

    /// <summary>What was put right free of charge although it is not covered; one of the rule set's.</summary>
    public string? Goodwill { get; init; }
}

/// <summary>From which day to which the watch was in the house for a claim; told again, the newest counts.</summary>
public sealed record ClaimStayRecorded : WorkshopEvent
{
    public required int Claim { get; init; }

    public required LocalDate ReceivedOn { get; init; }

    public LocalDate? ReturnedOn { get; init; }
}

/// <summary>The day after the last warranty line: the job is closed, not deleted.</summary>
public sealed record JobClosed : WorkshopEvent;
