using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Money;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Core.Shop;

namespace Workshop.Service.Features.Money;

/// <summary>What a line of an account is about.</summary>
public enum AccountEntry
{
    /// <summary>A version of the quote was accepted; its total takes the place of what was agreed before.</summary>
    Agreed,

    Deposit,
    Balance,
    Refund,
}

/// <summary>One line of an account.</summary>
/// <param name="Number">Of the quote's version, or of the payment.</param>
/// <param name="AmountMinor">Agreed in all, paid, or paid back.</param>
/// <param name="DueMinor">Still owed behind this line.</param>
public sealed record AccountLine(Instant At, AccountEntry What, int Number, long AmountMinor, long DueMinor, PaymentHow? How, string? Reference);

/// <summary>How a job stands with its money; nothing is charged here. Amounts in minor units, tax included.</summary>
/// <param name="Kept">Where the shop keeps its money; elsewhere the desk says when it is settled.</param>
/// <param name="Settled">The stage settlement stands.</param>
/// <param name="AskedMinor">Agreed; absent while nothing is.</param>
/// <param name="DueMinor">Still owed by the customer.</param>
/// <param name="RefundMinor">Owed to the customer.</param>
/// <param name="Version">The version of the job.</param>
public sealed record AccountView(
    Label Job, MoneyKept Kept, string? Currency, long? AskedMinor, long PaidMinor, long RefundedMinor, long DueMinor, long RefundMinor, bool OnAccount, bool Settled,
    ImmutableArray<AccountLine> Lines, long Version)
{
    public static AccountView Of(Job job, IEnumerable<Entry> entries, ShopRules rules)
    {
        var account = Account.Of(job);
        return new AccountView(
            job.Label, rules.Money.Kept, account.Currency, account.AskedMinor, account.PaidMinor, account.RefundedMinor, account.DueMinor, account.RefundMinor, account.OnAccount,
            job.Standings.Of(Stage.Settlement).State == StageState.Done, LinesOf(job, entries), job.Version);
    }

    private static ImmutableArray<AccountLine> LinesOf(Job job, IEnumerable<Entry> entries)
    {
        var lines = ImmutableArray.CreateBuilder<AccountLine>();
        var (agreed, paid) = (job.Intake.Adopted?.QuotedMinor ?? 0, 0L);
        foreach (var entry in entries.Where(entry => entry.Counts))
        {
            switch (entry.Event)
            {
                case QuoteAnswered { Accepted: true } answered when job.Quotes.Versions.FirstOrDefault(one => one.Version == answered.Version) is { Accepted: true } version:
                    agreed = version.TotalMinor;
                    lines.Add(new AccountLine(entry.Effective, AccountEntry.Agreed, version.Version, version.TotalMinor, Math.Max(0, agreed - paid), null, null));
                    break;
                case VariantChanged:
                    // It is to be agreed anew.
                    agreed = 0;
                    break;
                case PaymentRecorded one:
                    paid += one.Kind == PaymentKind.Refund ? -one.AmountMinor : one.AmountMinor;
                    lines.Add(new AccountLine(entry.Effective, WhatOf(one.Kind), one.Payment, one.AmountMinor, Math.Max(0, agreed - paid), one.How, one.Reference));
                    break;
            }
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
