using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Takedown;

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

/// <summary>How sure the day is on which a parcel arrived.</summary>
public enum DeliveryBasis
{
    /// <summary>By the carrier, or by a signature.</summary>
    Proven,

    /// <summary>By the customer's word, or the desk's.</summary>
    Said,

    /// <summary>By the shop's rule, while nobody has said a later day.</summary>
    Presumed,
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

    /// <summary>What the customer showed, by the hashes of the photos.</summary>
    public ImmutableArray<string>? Photos { get; init; }
}

/// <summary>Whether a covered fault was there before.</summary>
public enum Comeback
{
    /// <summary>The same fault again.</summary>
    Repeat,

    /// <summary>Another fault.</summary>
    New,
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

    /// <summary>The evidence it rests on, of both sides, by its ids.</summary>
    public ImmutableArray<string>? Because { get; init; }

    /// <summary>The evidence does not decide it: for the customer, once in a job's life.</summary>
    public bool? InDoubt { get; init; }

    /// <summary>Where the fault lies.</summary>
    public WatchSystem? System { get; init; }

    /// <summary>Of a covered fault.</summary>
    public Comeback? Comeback { get; init; }
}

/// <summary>From which day to which the watch was in the house for a claim; told again, the newest counts.</summary>
public sealed record ClaimStayRecorded : WorkshopEvent
{
    public required int Claim { get; init; }

    public required LocalDate ReceivedOn { get; init; }

    public LocalDate? ReturnedOn { get; init; }

    /// <summary>The job under which the watch is here for it.</summary>
    public Label? Job { get; init; }
}

/// <summary>The day after the last warranty line: the job is closed, not deleted.</summary>
public sealed record JobClosed : WorkshopEvent;
