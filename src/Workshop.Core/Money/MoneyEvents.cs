using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Core.Money;

/// <summary>What a payment is for; a refund goes the other way.</summary>
public enum PaymentKind
{
    Deposit,
    Balance,
    Refund,
}

public enum PaymentHow
{
    Cash,
    Card,
    Transfer,
    Other,
}

/// <summary>Money changed hands. It is written down here; nothing is charged.</summary>
public sealed record PaymentRecorded : WorkshopEvent
{
    /// <summary>1, 2, 3 … within the job.</summary>
    public required int Payment { get; init; }

    public required PaymentKind Kind { get; init; }

    /// <summary>Minor units, more than nothing, also for a refund.</summary>
    [Range(1, MoneyBook.MinorAtMost)]
    public required long AmountMinor { get; init; }

    /// <summary>ISO 4217.</summary>
    public required string Currency { get; init; }

    public required PaymentHow How { get; init; }

    /// <summary>The receipt's number, or the bank's; no name.</summary>
    public string? Reference { get; init; }
}

/// <summary>A payment that was written down wrong is void, and stays visible; what is right is written down anew.</summary>
public sealed record PaymentCorrected : WorkshopEvent
{
    /// <summary>The payment's number.</summary>
    public required int Payment { get; init; }

    public required string Reason { get; init; }
}

/// <summary>
/// The job is on the customer's account, or no longer: the watch may go before it is paid for. For work that is done without a quote also
/// what is asked.
/// </summary>
public sealed record AccountChanged : WorkshopEvent
{
    public required bool OnAccount { get; init; }

    /// <summary>What is asked for work that is done without a quote, minor units, tax included; as it was where left out.</summary>
    [Range(0, MoneyBook.MinorAtMost)]
    public long? AskedMinor { get; init; }

    /// <summary>ISO 4217, together with <see cref="AskedMinor"/>.</summary>
    public string? Currency { get; init; }

    public required string Reason { get; init; }
}
