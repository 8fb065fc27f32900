using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Money;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Service.Features.Money;

/// <summary>What a line of an account is about.</summary>
public enum AccountEntry
{
    /// <summary>A version of the quote was accepted: what is agreed in all from here on. A supplement adds to it, any other version takes its place.</summary>
    Agreed,

    /// <summary>What the desk says is asked for work without a quote, or what stood in the paper book.</summary>
    Asked,

    /// <summary>The quote was refused; what that costs is asked.</summary>
    Refused,

    /// <summary>The work is another kind, and is to be agreed anew.</summary>
    Reopened,

    Deposit,
    Balance,
    Refund,

    /// <summary>A payment was written down wrong: it counts no longer, and both lines stay.</summary>
    Corrected,
}

/// <summary>One line of an account.</summary>
/// <param name="Number">Of the quote's version, or of the payment; 0 where there is neither.</param>
/// <param name="AmountMinor">Agreed in all, paid, or paid back.</param>
/// <param name="DueMinor">Still owed behind this line.</param>
public sealed record AccountLine(Instant At, AccountEntry What, int Number, long AmountMinor, long DueMinor, PaymentHow? How, string? Reference);

/// <summary>How a job stands with its money; nothing is charged here. Amounts in minor units, tax included.</summary>
/// <param name="Words">In one sentence, in the caller's language.</param>
/// <param name="Kept">Where the shop keeps its money; elsewhere the desk says when it is settled.</param>
/// <param name="Settled">The stage settlement stands; for a watch that goes back unrepaired: nothing is owed either way, or it is on account.</param>
/// <param name="AskedMinor">Agreed; absent while nothing is.</param>
/// <param name="DepositMinor">Asked before the work; absent where nothing is.</param>
/// <param name="DueMinor">Still owed by the customer.</param>
/// <param name="RefundMinor">Owed to the customer.</param>
/// <param name="Version">The version of the job.</param>
public sealed record AccountView(
    Label Job, string Words, MoneyKept Kept, string? Currency, long? AskedMinor, long? DepositMinor, long PaidMinor, long RefundedMinor, long DueMinor, long RefundMinor, bool OnAccount,
    bool Settled, ImmutableArray<AccountLine> Lines, long Version)
{
    public static AccountView Of(Job job, IEnumerable<Entry> entries, ShopRules rules, Language language)
    {
        var account = Account.Of(job);
        return new AccountView(
            job.Label, account.Words.In(language), rules.Money.Kept, account.Currency, account.AskedMinor, Deposit.AskedMinor(job), account.PaidMinor, account.RefundedMinor, account.DueMinor,
            account.RefundMinor, account.OnAccount,
            job.Standings.ReturnsUnrepaired ? account is { IsSettled: true, RefundMinor: 0 } : job.Standings.Of(Stage.Settlement).State == StageState.Done, LinesOf(job, entries), job.Version);
    }

    // Each line says what the account said behind it, so that the last one says what it says now.
    private static ImmutableArray<AccountLine> LinesOf(Job job, IEnumerable<Entry> entries)
    {
        var lines = ImmutableArray.CreateBuilder<AccountLine>();
        var so = new Job { Label = job.Label };
        foreach (var entry in Reckoning.InOrder(entries))
        {
            var before = Account.Of(so).AskedMinor;
            so = so.Apply(entry);
            if (entry.OfNoEffect || !entry.Counts)
            {
                continue;
            }

            var account = Account.Of(so);
            AccountLine? line = entry.Event switch
            {
                QuoteAnswered { Accepted: true } answered when so.Quotes.Agreed?.Version == answered.Version || so.Quotes.Supplements.Any(one => one.Version == answered.Version) =>
                    Line(AccountEntry.Agreed, answered.Version, account.AskedMinor ?? so.Quotes.SupplementsMinor),
                QuoteAnswered answered when account.AskedMinor != before => Line(AccountEntry.Refused, answered.Version, account.AskedMinor ?? 0),
                VariantChanged when account.AskedMinor != before => Line(AccountEntry.Reopened, 0, 0),
                JobTakenIn { Adopted: not null } or AccountChanged when account.AskedMinor is { } asked && asked != before => Line(AccountEntry.Asked, 0, asked),
                PaymentRecorded one => Line(WhatOf(one.Kind), one.Payment, one.AmountMinor) with { How = one.How, Reference = one.Reference },
                PaymentCorrected corrected when so.Money.Payments.FirstOrDefault(one => one.Number == corrected.Payment) is { } wrong => Line(AccountEntry.Corrected, wrong.Number, wrong.AmountMinor),
                _ => null,
            };
            if (line is not null)
            {
                lines.Add(line);
            }

            AccountLine Line(AccountEntry what, int number, long amountMinor) => new(entry.Effective, what, number, amountMinor, account.DueMinor, null, null);
        }

        return lines.ToImmutable();
    }

    private static AccountEntry WhatOf(PaymentKind kind) => kind switch
    {
        PaymentKind.Deposit => AccountEntry.Deposit,
        PaymentKind.Balance => AccountEntry.Balance,
        PaymentKind.Refund => AccountEntry.Refund,
    };
}
