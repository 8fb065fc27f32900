using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Money;
using Workshop.Core.Shipments;
using Workshop.Service.Features.Customers;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Storefront;

/// <summary>Names of a storefront's own: a text of 1 to 100 characters.</summary>
internal static class StorefrontNames
{
    public const int AtMost = 100;
}

/// <summary>A customer as a storefront tells of one.</summary>
public record ToldCustomer : ToldParty
{
    /// <summary>The storefront's own name of the customer.</summary>
    [StringLength(StorefrontNames.AtMost, MinimumLength = 1)]
    public required string Ref { get; init; }

    [Length(0, 2)]
    public ImmutableArray<CustomerConsent>? Consents { get; init; }
}

public sealed record ToldLine
{
    [StringLength(StorefrontNames.AtMost, MinimumLength = 1)]
    public required string Line { get; init; }

    [StringLength(StorefrontNames.AtMost, MinimumLength = 1)]
    public required string Product { get; init; }

    [Range(1, 20)]
    public required int Quantity { get; init; }

    [Length(0, 50)]
    public ImmutableArray<string> Options { get; init; } = [];

    /// <summary>Of the whole line, tax included; minor units.</summary>
    [Range(0, MoneyBook.MinorAtMost)]
    public required long AmountMinor { get; init; }

    [Range(0, MoneyBook.MinorAtMost)]
    public long TaxMinor { get; init; }

    /// <summary>What the customer wrote about the watch.</summary>
    [StringLength(2_000)]
    public string? CustomersWords { get; init; }

    /// <summary>As the customer wrote it.</summary>
    [StringLength(60)]
    public string? Serial { get; init; }

    /// <summary>Addresses of pictures at the storefront.</summary>
    [Length(0, 20)]
    public ImmutableArray<string> Photos { get; init; } = [];
}

public sealed record ToldWishes
{
    public LocalDate? FixedDate { get; init; }

    public PolishWish? Polish { get; init; }

    public bool? OldPartsBack { get; init; }
}

/// <summary>Data of <c>order.created</c> and <c>order.changed</c>: the whole order, never a difference.</summary>
public sealed record OrderTold
{
    [StringLength(StorefrontNames.AtMost, MinimumLength = 1)]
    public required string Order { get; init; }

    [Range(0, 1_000_000_000)]
    public required int Revision { get; init; }

    public required Instant PlacedAt { get; init; }

    [RegularExpression("[A-Z]{3}")]
    public required string Currency { get; init; }

    public required ToldCustomer Customer { get; init; }

    public ToldParty? BillTo { get; init; }

    public ToldParty? ShipTo { get; init; }

    [Length(1, 50)]
    public required ImmutableArray<ToldLine> Lines { get; init; }

    public ToldWishes? Wishes { get; init; }

    /// <summary>For a gift: who gets the watch.</summary>
    public ToldParty? Recipient { get; init; }

    /// <summary>Before this day the recipient hears nothing.</summary>
    public LocalDate? NotBefore { get; init; }
}

/// <summary>Data of <c>order.paid</c>, <c>order.refunded</c>, <c>payment.disputed</c> and <c>payment.dispute-closed</c>.</summary>
public sealed record PaymentTold
{
    [StringLength(StorefrontNames.AtMost, MinimumLength = 1)]
    public required string Order { get; init; }

    /// <summary>The storefront's own name of the payment.</summary>
    [StringLength(StorefrontNames.AtMost, MinimumLength = 1)]
    public required string Payment { get; init; }

    /// <summary>Of a payment <c>deposit</c> or <c>balance</c>, of a dispute that is closed <c>kept</c> or <c>paid-back</c>.</summary>
    [StringLength(40)]
    public string? Kind { get; init; }

    [Range(1, MoneyBook.MinorAtMost)]
    public required long AmountMinor { get; init; }

    [RegularExpression("[A-Z]{3}")]
    public required string Currency { get; init; }

    public required Instant At { get; init; }
}

/// <summary>Data of <c>order.cancelled</c>; without lines the whole order.</summary>
public sealed record CancellationTold
{
    [StringLength(StorefrontNames.AtMost, MinimumLength = 1)]
    public required string Order { get; init; }

    [Length(0, 50)]
    public ImmutableArray<string> Lines { get; init; } = [];

    [StringLength(2_000)]
    public string? Reason { get; init; }
}

/// <summary>Data of <c>customer.changed</c>: what is left out stays as it was.</summary>
public sealed record CustomerChangeTold : ToldCustomer
{
    /// <summary>From when on it holds, such as the day of a move; from the event's own time where left out.</summary>
    public LocalDate? ValidFrom { get; init; }
}

/// <summary>Data of <c>customer.erasure-asked</c>.</summary>
public sealed record ErasureTold
{
    [StringLength(StorefrontNames.AtMost, MinimumLength = 1)]
    public required string Ref { get; init; }
}

/// <summary>Data of <c>shipment.sent</c>, <c>shipment.delivered</c> and <c>shipment.lost</c>; of an order or of a job.</summary>
public sealed record ShipmentData
{
    [StringLength(StorefrontNames.AtMost, MinimumLength = 1)]
    public string? Order { get; init; }

    [StringLength(20)]
    public string? Job { get; init; }

    public required ParcelDirection Direction { get; init; }

    [StringLength(100)]
    public string? Carrier { get; init; }

    [StringLength(100)]
    public string? Number { get; init; }

    public required Instant At { get; init; }
}

/// <summary>Data of <c>claim.reported</c>.</summary>
public sealed record ClaimTold
{
    [StringLength(20)]
    public string? Job { get; init; }

    /// <summary>Where the customer has only the watch: as engraved.</summary>
    [StringLength(60)]
    public string? Serial { get; init; }

    public Instant? ReportedAt { get; init; }

    [StringLength(4_000, MinimumLength = 1)]
    public required string Text { get; init; }
}

/// <summary>Data of <c>wear.reported</c>.</summary>
public sealed record WearTold
{
    [StringLength(20)]
    public string? Job { get; init; }

    [StringLength(60)]
    public string? Serial { get; init; }

    public Instant? ReportedAt { get; init; }

    /// <summary>More than nothing where it gains, less where it loses.</summary>
    [Range(-1_000_000, 1_000_000)]
    public decimal? SecondsGained { get; init; }

    [Range(0.01, 3_650)]
    public decimal? OverDays { get; init; }

    public bool? Stopped { get; init; }

    [StringLength(4_000, MinimumLength = 1)]
    public string? Text { get; init; }
}
