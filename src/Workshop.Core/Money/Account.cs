using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Words;

namespace Workshop.Core.Money;

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

    /// <summary>In one sentence.</summary>
    public Phrase Words => this switch
    {
        { AskedMinor: null, PaidMinor: var paid } when paid - RefundedMinor == 0 => Phrase.Of("Nothing is agreed or paid yet"),
        { AskedMinor: null } => Phrase.Of("Nothing is agreed yet, {0} paid", Amount.Said(PaidMinor - RefundedMinor, Currency)),
        { RefundMinor: > 0 } => Phrase.Of("{0} to be paid back", Amount.Said(RefundMinor, Currency)),
        { DueMinor: > 0, OnAccount: true } => Phrase.Of("{0} still to be paid of {1}, on account", Amount.Said(DueMinor, Currency), Amount.Said(AskedMinor.Value, Currency)),
        { DueMinor: > 0 } => Phrase.Of("{0} still to be paid of {1}", Amount.Said(DueMinor, Currency), Amount.Said(AskedMinor.Value, Currency)),
        _ => Phrase.Of("Nothing is owed; {0} was asked", Amount.Said(AskedMinor.Value, Currency)),
    };

    /// <summary>
    /// The newest version that was accepted is what was agreed, its required lines and the options that were accepted, and supplements on top; for work without a quote what the desk says, in the paper book what was
    /// written there; for the kind of work the job is: what was agreed for another kind settles nothing. A watch that comes back under
    /// warranty costs nothing, and one that goes back unrepaired what the quote said of a refusal.
    /// </summary>
    public static Account Of(Job job)
    {
        var agreed = job.Quotes.Agreed?.AgreedMinor
            ?? (job.Quotes.AgreedWithoutQuote ? job.Money.AskedMinor : null) ?? AdoptedMinor(job) ?? (job.Intake.WarrantyOf is not null ? 0 : null);
        var counted = job.Money.Payments.Where(one => !one.Corrected).ToArray();
        return new Account(
            FixedCurrency(job) ?? job.Quotes.Newest?.Currency,
            job.Standings.ReturnsUnrepaired ? job.Quotes.Versions.LastOrDefault(one => one.Accepted == false)?.FeeOnRefusalMinor ?? 0
                : agreed + job.Quotes.SupplementsMinor,
            counted.Where(one => one.Kind != PaymentKind.Refund).Sum(one => one.AmountMinor), counted.Where(one => one.Kind == PaymentKind.Refund).Sum(one => one.AmountMinor),
            job.Money.OnAccount);
    }

    /// <summary>
    /// What is owed is final: no quote waits for an answer, and the work is controlled or will not be done. Before that a balance of
    /// nothing settles nothing.
    /// </summary>
    public static bool IsFinal(Job job) =>
        job.Standings.ReturnsUnrepaired
        || (job.Standings.Stands(Stage.FinalControl) && !(job.Quotes.Newest is { Accepted: null } open && job.Quotes.IsForThisKind(open)));

    /// <summary>The currency that a further version of the quote keeps to: sums of two make no balance. Null while nothing is agreed or paid.</summary>
    public static string? FixedCurrency(Job job) =>
        job.Money.Currency ?? job.Quotes.Agreed?.Currency ?? (job.Quotes.AgreedWithoutQuote && job.Money.AskedMinor is not null ? job.Money.AskedCurrency : null);

    private static long? AdoptedMinor(Job job) => job.Quotes.AgreedToAnotherKind ? null : job.Intake.Adopted?.QuotedMinor;
}
