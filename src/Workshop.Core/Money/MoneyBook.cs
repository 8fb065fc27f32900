using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Quotes;

namespace Workshop.Core.Money;

/// <summary>A payment as it was written down.</summary>
public sealed record Payment(int Number, PaymentKind Kind, long AmountMinor, string Currency, PaymentHow How, string? Reference, Instant At)
{
    /// <summary>What it adds to what was paid.</summary>
    public long SignedMinor => Kind == PaymentKind.Refund ? -AmountMinor : AmountMinor;
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

    public MoneyBook Apply(Entry entry) => entry.Event switch
    {
        PaymentRecorded paid => this with { Payments = Payments.Add(new(paid.Payment, paid.Kind, paid.AmountMinor, paid.Currency, paid.How, paid.Reference, entry.Effective)) },
        AccountChanged changed => this with { OnAccount = changed.OnAccount },
        _ => this,
    };
}

/// <summary>How a job stands with its money; minor units of one currency.</summary>
/// <param name="Currency">Null while nothing was asked or paid.</param>
/// <param name="AskedMinor">What the customer has agreed to; null while that is not known.</param>
/// <param name="PaidMinor">All that came in.</param>
/// <param name="RefundedMinor">All that went back.</param>
public sealed record Account(string? Currency, long? AskedMinor, long PaidMinor, long RefundedMinor, bool OnAccount)
{
    /// <summary>Still owed by the customer; less than nothing is never shown as such.</summary>
    public long DueMinor => Math.Max(0, (AskedMinor ?? 0) - (PaidMinor - RefundedMinor));

    /// <summary>Owed to the customer; nothing while it is not known what the work costs: a deposit is not owed back.</summary>
    public long RefundMinor => AskedMinor is { } asked ? Math.Max(0, PaidMinor - RefundedMinor - asked) : 0;

    /// <summary>Nothing keeps the watch here: it is known what it costs, and that is paid or on account.</summary>
    public bool IsSettled => OnAccount || (AskedMinor is not null && DueMinor == 0);

    /// <summary>
    /// The newest version that was accepted is what was agreed, in the paper book what was written there, for the kind of work the job is:
    /// what was agreed for another kind settles nothing. A watch that comes back under warranty, or goes back unrepaired, costs nothing.
    /// </summary>
    public static Account Of(Job job)
    {
        var agreed = Agreed(job);
        var (paid, refunded) = (job.Money.Payments.Where(one => one.Kind != PaymentKind.Refund), job.Money.Payments.Where(one => one.Kind == PaymentKind.Refund));
        return new Account(
            job.Money.Payments.FirstOrDefault()?.Currency ?? agreed?.Currency ?? job.Quotes.Newest?.Currency,
            job.Standings.ReturnsUnrepaired ? 0 : agreed?.TotalMinor ?? AdoptedMinor(job) ?? (job.Intake.WarrantyOf is not null ? 0 : null),
            paid.Sum(one => one.AmountMinor), refunded.Sum(one => one.AmountMinor), job.Money.OnAccount);
    }

    /// <summary>The currency that a further version of the quote keeps to: sums of two make no balance. Null while nothing is agreed or paid.</summary>
    public static string? FixedCurrency(Job job) => job.Money.Payments.FirstOrDefault()?.Currency ?? Agreed(job)?.Currency;

    private static QuoteVersion? Agreed(Job job) => job.Quotes.Versions.LastOrDefault(one => one.Accepted == true && job.Quotes.IsForThisKind(one));

    private static long? AdoptedMinor(Job job) => job.Quotes.AgreedToAnotherKind ? null : job.Intake.Adopted?.QuotedMinor;
}
