using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Money;

namespace Workshop.Core.Quotes;

/// <summary>A line that the customer may leave out.</summary>
/// <param name="Id">Of the line within its version.</param>
/// <param name="Accepted">Null while the version is unanswered, and after a refusal.</param>
public sealed record QuoteOption(string Id, long AmountMinor, bool? Accepted = null);

/// <summary>One version of the quote and its answer.</summary>
/// <param name="TotalMinor">What is asked whatever is chosen; accepted options come on top.</param>
public sealed record QuoteVersion(int Version, Instant SentAt, long TotalMinor, string Currency, LocalDate ValidThrough, int WorkingDays, bool? Accepted, Instant? AnsweredAt, long DepositMinor = 0, long FeeOnRefusalMinor = 0)
{
    public ImmutableArray<QuoteOption> Options { get; init; } = [];

    /// <summary>It adds to what is agreed instead of taking its place.</summary>
    public bool Supplementary { get; init; }

    /// <summary>Per cent of what is agreed that is asked before the work; null where the version names an amount.</summary>
    public int? DepositSharePercent { get; init; }

    public long? DepositAboveMinor { get; init; }

    /// <summary>What the customer would have done with the watch after a refusal; null where nobody said.</summary>
    public CustomersChoice? IfRefused { get; init; }

    /// <summary>Required lines and accepted options. Minor units; nothing while it is not accepted.</summary>
    public long AgreedMinor => Accepted == true ? TotalMinor + Options.Where(option => option.Accepted == true).Sum(option => option.AmountMinor) : 0;

    /// <summary>Asked before the work, of what was agreed. Minor units.</summary>
    public long DepositAskedMinor => DepositSharePercent is { } share ? MoneyRules.ShareOf(AgreedMinor, share, DepositAboveMinor ?? 0) : DepositMinor;

    /// <summary>As it was sent.</summary>
    public static QuoteVersion Of(QuoteSent sent, Instant at) => new(
        sent.Version, at, sent.TotalMinor, sent.Currency, sent.ValidThrough, sent.WorkingDays, null, null, sent.DepositMinor ?? 0, sent.FeeOnRefusalMinor ?? 0)
    {
        Options = [.. sent.Named.Where(line => line.IsOptional).Select(line => new QuoteOption(line.Id!, line.AmountMinor))],
        Supplementary = sent.Supplementary == true,
        DepositSharePercent = sent.DepositSharePercent,
        DepositAboveMinor = sent.DepositAboveMinor,
    };

    /// <summary>With its answer. An option nobody spoke of is declined: what was not agreed is not done.</summary>
    public QuoteVersion Answer(QuoteAnswered answered, Instant at) => this with
    {
        Accepted = answered.Accepted,
        AnsweredAt = at,
        IfRefused = answered.Accepted ? null : answered.IfRefused,
        Options = answered.Accepted
            ? [.. Options.Select(option => option with { Accepted = answered.Options is { } told && told.Any(one => one.Option == option.Id && one.Accepted) })]
            : [.. Options.Select(option => option with { Accepted = null })],
    };

    /// <summary>Whether an answer says what the one that stands says.</summary>
    /// <param name="acceptedOptions">Ids of the options that are accepted.</param>
    public bool SaysTheSame(bool accepted, IEnumerable<string> acceptedOptions, CustomersChoice? ifRefused) =>
        Accepted == accepted
        && (accepted
            ? Options.Where(option => option.Accepted == true).Select(option => option.Id).ToHashSet(StringComparer.Ordinal).SetEquals(acceptedOptions)
            : ifRefused is null || ifRefused == (IfRefused ?? CustomersChoice.Return));
}

/// <summary>A line that became dearer after it was agreed. Minor units, tax included.</summary>
/// <param name="Line">Its id in the version.</param>
/// <param name="Borne">The shop bears the difference; else a new version is asked for.</param>
public sealed record PriceRise(int Version, string Line, long AcceptedMinor, long NewAmountMinor, bool Borne, Instant At);
