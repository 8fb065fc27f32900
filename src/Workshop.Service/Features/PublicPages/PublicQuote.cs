using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Quotes;

namespace Workshop.Service.Features.PublicPages;

/// <param name="Id">What an answer names the line by.</param>
/// <param name="AmountMinor">Tax included.</param>
/// <param name="Optional">Accepted or declined by itself.</param>
/// <param name="Recommended">The house advises it.</param>
public sealed record PublicQuoteLine(string Id, string Text, QuoteLineKind Kind, long AmountMinor, long TaxMinor, bool Optional, bool Recommended);

/// <param name="FeeMinor">What a refusal costs.</param>
public sealed record PublicIfRefused(long FeeMinor, ImmutableArray<CustomersChoice> Choices);

/// <summary>The newest version of a quote, to be decided about. Minor units of the currency.</summary>
public sealed record PublicQuote
{
    /// <summary>The number under which it is answered; the same as <see cref="Version"/>.</summary>
    public required int N { get; init; }

    public required int Version { get; init; }

    public required LocalDate ValidThrough { get; init; }

    public required ImmutableArray<PublicQuoteLine> Lines { get; init; }

    /// <summary>What is asked whatever is chosen; options come on top.</summary>
    public required long TotalMinor { get; init; }

    public required long TaxMinor { get; init; }

    public required string Currency { get; init; }

    /// <summary>What the price does not cover.</summary>
    public ImmutableArray<string> NotCovered { get; init; } = [];

    public required PublicIfRefused IfRefused { get; init; }

    /// <summary>Open days from the answer to the promised date.</summary>
    public required int DurationWorkingDays { get; init; }

    /// <summary>It adds to what was agreed before; else it takes its place.</summary>
    public bool Supplementary { get; init; }

    /// <summary>What the customer says yes to; kept with the answer.</summary>
    public required string ConsentText { get; init; }

    /// <summary>The newest version, where this is an older one.</summary>
    public int? Newest { get; init; }
}
