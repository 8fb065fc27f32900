using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.Money;

/// <summary>A payment as it was written down.</summary>
public sealed record Payment(int Number, PaymentKind Kind, long AmountMinor, string Currency, PaymentHow How, string? Reference, Instant At, bool Corrected = false)
{
    /// <summary>What it adds to what was paid; nothing once it was corrected.</summary>
    public long SignedMinor => Corrected ? 0 : Kind == PaymentKind.Refund ? -AmountMinor : AmountMinor;
}

/// <summary>The payments of a job, and whether it is on account.</summary>
public sealed record MoneyBook
{
    /// <summary>The largest single amount, in minor units: sums of a thousand of them fit.</summary>
    public const long MinorAtMost = 1_000_000_000_000;

    /// <summary>More of them are a mistake.</summary>
    public const int PaymentsAtMost = 1_000;

    public ImmutableArray<Payment> Payments { get; init; } = [];

    public bool OnAccount { get; init; }

    /// <summary>Since when; null where it is not.</summary>
    public Instant? OnAccountSince { get; init; }

    /// <summary>What the desk says is asked for work without a quote, minor units.</summary>
    public long? AskedMinor { get; init; }

    public string? AskedCurrency { get; init; }

    /// <summary>What came in less what went back, minor units.</summary>
    public long NetMinor => Payments.Sum(one => one.SignedMinor);

    public string? Currency => Payments.FirstOrDefault(one => !one.Corrected)?.Currency;

    public MoneyBook Apply(Entry entry) => entry.Event switch
    {
        PaymentRecorded paid => this with { Payments = Payments.Add(new(paid.Payment, paid.Kind, paid.AmountMinor, paid.Currency, paid.How, paid.Reference, entry.Effective)) },
        PaymentCorrected corrected => this with { Payments = [.. Payments.Select(one => one.Number == corrected.Payment ? one with { Corrected = true } : one)] },
        AccountChanged changed => this with
        {
            OnAccount = changed.OnAccount,
            OnAccountSince = !changed.OnAccount ? null : OnAccount ? OnAccountSince : entry.Effective,
            AskedMinor = changed.AskedMinor ?? AskedMinor,
            AskedCurrency = changed.AskedMinor is null ? AskedCurrency : changed.Currency,
        },

        // Another kind of work has another price.
        VariantChanged => this with { AskedMinor = null, AskedCurrency = null },
        _ => this,
    };
}
