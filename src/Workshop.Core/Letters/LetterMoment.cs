using System.Collections.Frozen;
using System.Collections.Immutable;

namespace Workshop.Core.Letters;

/// <summary>The moments at which somebody round a watch is written to, in the order in which a letter about several tells them.</summary>
public enum LetterMoment
{
    OrderReceived,
    KitSent,
    ArrivalAsked,
    ReceivedSafely,
    QuoteReady,
    QuoteReminder,
    QuoteExpired,
    ApprovalConfirmed,
    SupplementaryQuote,
    PartDelayed,
    DateChanged,
    Tested,
    ReadyToCollect,
    ReadyReminder,
    Dispatched,
    HandedOver,
    WearAskedWeek,
    WearAskedMonth,
    WearAskedBack,
    WearInvitation,
    ClaimReceived,
    ClaimDecided,
    WarrantyEndsSoon,
    WaterTestDue,
    CellDue,
    ServiceDue,
    ReturnedUnrepaired,
    RefundOwed,
    PaymentAsked,
    DamageTold,
    LossTold,
}

/// <summary>What somebody must have allowed for a letter.</summary>
public enum LetterPermission
{
    /// <summary>To be written to about this job.</summary>
    Job,

    /// <summary>To be reminded after the work.</summary>
    Care,
}

/// <summary>Whom a moment is told.</summary>
public enum LetterAudience
{
    /// <summary>Whoever is named to be told.</summary>
    Told,

    /// <summary>Whose yes or no to a quote counts.</summary>
    Decider,

    Payer,

    /// <summary>Whoever is named to be told, and who gets the watch.</summary>
    ToldAndRecipient,

    Owner,
}

/// <summary>Who writes of a moment.</summary>
public enum LetterSpeaker
{
    Workshop,
    Storefront,
    Nobody,
}

/// <summary>One row of the table of moments.</summary>
/// <param name="Released">Only after a manager has said so, never by itself.</param>
public sealed record MomentFacts(LetterMoment Moment, LetterPermission Permission, LetterAudience Audience, bool Released = false);

/// <summary>The one table of moments. Common practice.</summary>
public static class LetterMoments
{
    private static readonly ImmutableArray<MomentFacts> Rows =
    [
        new(LetterMoment.OrderReceived, LetterPermission.Job, LetterAudience.Told),
        new(LetterMoment.KitSent, LetterPermission.Job, LetterAudience.Told),
        new(LetterMoment.ArrivalAsked, LetterPermission.Job, LetterAudience.Told),
        new(LetterMoment.ReceivedSafely, LetterPermission.Job, LetterAudience.Told),
        new(LetterMoment.QuoteReady, LetterPermission.Job, LetterAudience.Decider),
        new(LetterMoment.QuoteReminder, LetterPermission.Job, LetterAudience.Decider),
        new(LetterMoment.QuoteExpired, LetterPermission.Job, LetterAudience.Decider),
        new(LetterMoment.ApprovalConfirmed, LetterPermission.Job, LetterAudience.Told),
        new(LetterMoment.SupplementaryQuote, LetterPermission.Job, LetterAudience.Decider),
        new(LetterMoment.PartDelayed, LetterPermission.Job, LetterAudience.Told),
        new(LetterMoment.DateChanged, LetterPermission.Job, LetterAudience.Told),
        new(LetterMoment.Tested, LetterPermission.Job, LetterAudience.Told),
        new(LetterMoment.ReadyToCollect, LetterPermission.Job, LetterAudience.Told),
        new(LetterMoment.ReadyReminder, LetterPermission.Job, LetterAudience.Told),
        new(LetterMoment.Dispatched, LetterPermission.Job, LetterAudience.ToldAndRecipient),
        new(LetterMoment.HandedOver, LetterPermission.Job, LetterAudience.ToldAndRecipient),
        new(LetterMoment.WearAskedWeek, LetterPermission.Job, LetterAudience.Owner),
        new(LetterMoment.WearAskedMonth, LetterPermission.Job, LetterAudience.Owner),
        new(LetterMoment.WearAskedBack, LetterPermission.Job, LetterAudience.Owner),
        new(LetterMoment.WearInvitation, LetterPermission.Job, LetterAudience.Owner),
        new(LetterMoment.ClaimReceived, LetterPermission.Job, LetterAudience.Owner),
        new(LetterMoment.ClaimDecided, LetterPermission.Job, LetterAudience.Owner),
        new(LetterMoment.WarrantyEndsSoon, LetterPermission.Care, LetterAudience.Owner),
        new(LetterMoment.WaterTestDue, LetterPermission.Care, LetterAudience.Owner),
        new(LetterMoment.CellDue, LetterPermission.Care, LetterAudience.Owner),
        new(LetterMoment.ServiceDue, LetterPermission.Care, LetterAudience.Owner),
        new(LetterMoment.ReturnedUnrepaired, LetterPermission.Job, LetterAudience.ToldAndRecipient),
        new(LetterMoment.RefundOwed, LetterPermission.Job, LetterAudience.Payer),
        new(LetterMoment.PaymentAsked, LetterPermission.Job, LetterAudience.Payer),
        new(LetterMoment.DamageTold, LetterPermission.Job, LetterAudience.Owner, Released: true),
        new(LetterMoment.LossTold, LetterPermission.Job, LetterAudience.Owner, Released: true),
    ];

    private static readonly FrozenDictionary<LetterMoment, MomentFacts> ByMoment = Rows.ToFrozenDictionary(row => row.Moment);

    public static IEnumerable<MomentFacts> All => Rows;

    public static MomentFacts Of(LetterMoment moment) => ByMoment[moment];
}
