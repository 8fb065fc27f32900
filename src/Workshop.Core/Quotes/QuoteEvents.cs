using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Quotes;

/// <summary>One line of a quote; the tax is inside <see cref="AmountMinor"/>.</summary>
public sealed record QuoteLine
{
    public required string Text { get; init; }

    /// <summary>Minor units of the quote's currency, tax included.</summary>
    public required long AmountMinor { get; init; }

    public long TaxMinor { get; init; }
}

/// <summary>A version of the quote went to the customer.</summary>
public sealed record QuoteSent : WorkshopEvent
{
    public required int Version { get; init; }

    public required ImmutableArray<QuoteLine> Lines { get; init; }

    /// <summary>ISO 4217.</summary>
    public required string Currency { get; init; }

    /// <summary>Good to the end of this day in the workshop's own time.</summary>
    public required LocalDate ValidThrough { get; init; }

    /// <summary>Open days from approval to the promised date.</summary>
    public required int WorkingDays { get; init; }

    /// <summary>Asked before the work begins, part of the total; nothing where left out. Minor units.</summary>
    public long? DepositMinor { get; init; }

    /// <summary>What a refusal costs the customer; nothing where left out. Minor units.</summary>
    public long? FeeOnRefusalMinor { get; init; }

    public long TotalMinor => Lines.Sum(line => line.AmountMinor);
}

/// <summary>How an answer came to the house.</summary>
public enum AnswerChannel
{
    Desk,
    Telephone,
    Letter,
    Mail,
    Storefront,
}

public sealed record QuoteAnswered : WorkshopEvent
{
    public required int Version { get; init; }

    public required bool Accepted { get; init; }

    public AnswerChannel Channel { get; init; }

    /// <summary>Who of the house heard it, for the telephone.</summary>
    public string? Witness { get; init; }
}
