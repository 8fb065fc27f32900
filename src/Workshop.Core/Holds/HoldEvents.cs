using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Holds;

/// <summary>Why a job is held.</summary>
public enum HoldReason
{
    Approval,
    Parts,
    OutsideFirm,
    Customer,
    Payment,
    Person,
    Query,
    MixUp,
    Damage,
    Loss,
    Dispute,
    Legal,
    Other,
}

/// <summary>A hold begins; several may stand at once.</summary>
public sealed record HoldPlaced : WorkshopEvent
{
    public required HoldReason Hold { get; init; }

    /// <summary>Free text.</summary>
    [Erasable]
    public string? Reason { get; init; }

    /// <summary>A day to look again; its passing lifts nothing.</summary>
    public LocalDate? Until { get; init; }

    [Erasable]
    public string? Note { get; init; }

    /// <summary>Overrides whether this reason stops the promise.</summary>
    public bool? StopsPromise { get; init; }
}

/// <summary>All holds of a reason end.</summary>
public sealed record HoldLifted : WorkshopEvent
{
    public required HoldReason Hold { get; init; }

    [Erasable]
    public string? Reason { get; init; }

    [Erasable]
    public string? Note { get; init; }
}
