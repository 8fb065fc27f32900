using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Agenda;

/// <summary>How loud a due thing has become.</summary>
public enum AgendaLevel
{
    /// <summary>It fell due.</summary>
    Due,

    /// <summary>Four working hours later.</summary>
    Overdue,

    /// <summary>One working day later: the manager's.</summary>
    Manager,
}

/// <summary>What kind of thing falls due.</summary>
public enum AgendaKind
{
    WearCheck,
    WearCheckFails,
    Review,
    GroundLost,
    Promise,
    QuoteExpiry,
    HoldUntil,
    ClaimUndecided,
    WarrantyOver,
    HandOff,
    Orphan,

    /// <summary>The service holds the job and asks a manager: by a mended badge something would not have been allowed.</summary>
    Query,

    /// <summary>A piece is with an outside firm.</summary>
    WithFirm,

    /// <summary>A device has not been heard for some open hours.</summary>
    DeviceSilent,

    /// <summary>A filling of a jar grows old.</summary>
    FluidOld,

    /// <summary>A filling of a jar has had nearly all its runs.</summary>
    FluidRuns,

    /// <summary>The newest back-up is too old, or there is none.</summary>
    BackUp,

    /// <summary>By plain arithmetic the work left no longer fits before the promised day.</summary>
    PromiseAtRisk,

    /// <summary>Numbers at casing disagreed: this watch may be another.</summary>
    MixUp,

    /// <summary>A part has not come on the day it was to come.</summary>
    PartLate,

    /// <summary>A customer told of their watch, and waits for an answer.</summary>
    WearReport,

    /// <summary>The safe is to be counted before the shop is locked.</summary>
    EveningList,

    /// <summary>Something was not in the safe when it was counted.</summary>
    SafeMissing,

    /// <summary>A watch whose reserve is tested is to be looked at.</summary>
    ReserveTest,

    /// <summary>Whoever decided about the watch has died.</summary>
    DeciderGone,

    /// <summary>A letter to somebody round the watch came back.</summary>
    Unreachable,

    /// <summary>Ready for half a year, and nobody has come.</summary>
    Unclaimed,

    /// <summary>An agreed line has become so much dearer that the customer is to be asked.</summary>
    QuoteNeeded,

    /// <summary>The customer disputes something, and nobody has settled it.</summary>
    Dispute,

    /// <summary>A parcel is lost on its way.</summary>
    ParcelLost,

    /// <summary>An ordered watch has not come within its days.</summary>
    ArrivalOverdue,

    /// <summary>A storefront's message could not be followed as it stands.</summary>
    StorefrontFlagged,

    /// <summary>A customer asks to be forgotten.</summary>
    ErasureAsked,

    /// <summary>No messages are sent to an endpoint any more.</summary>
    WebhookStopped,

    /// <summary>A letter could not be sent: somebody is to be told otherwise.</summary>
    LetterUnsent,
}

/// <summary>The service said that something fell due or is overdue; an entry, so that it is said once.</summary>
public sealed record DueAnnounced : WorkshopEvent
{
    public required AgendaKind Kind { get; init; }

    /// <summary>What it is about, unique within the stream and kind.</summary>
    public required string Ref { get; init; }

    public required AgendaLevel Level { get; init; }

    /// <summary>The due moment that was announced; one that moved is announced anew.</summary>
    public required Instant Due { get; init; }
}
