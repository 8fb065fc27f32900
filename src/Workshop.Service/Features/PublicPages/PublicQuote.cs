using System.Collections.Immutable;
using NodaTime;

namespace Workshop.Service.Features.PublicPages;

/// <summary>What a line of a quote is about, as its customer is told.</summary>
public enum PublicLineKind
{
    Work,
    Part,
    Case,
    Option,
}

/// <summary>What a customer may want with a watch whose repair they refuse.</summary>
public enum IfRefusedChoice
{
    Return,
    ScrapValue,
    AskMe,
}

/// <param name="Id">What an option is answered by; absent for lines that are not answered one by one.</param>
/// <param name="AmountMinor">Tax included.</param>
/// <param name="Optional">Accepted or declined by itself.</param>
/// <param name="Recommended">The house advises it.</param>
public sealed record PublicQuoteLine(string? Id, string Text, PublicLineKind Kind, long AmountMinor, long TaxMinor, bool Optional, bool Recommended);

/// <param name="FeeMinor">What a refusal costs.</param>
public sealed record PublicIfRefused(long FeeMinor, ImmutableArray<IfRefusedChoice> Choices);

/// <summary>The newest version of a quote, to be decided about. Minor units of the currency.</summary>
public sealed record PublicQuote
{
    /// <summary>The number under which it is answered; the same as <see cref="Version"/>.</summary>
    public required int N { get; init; }

    public required int Version { get; init; }

    public required LocalDate ValidThrough { get; init; }

    public required ImmutableArray<PublicQuoteLine> Lines { get; init; }

    /// <summary>Of all lines, options among them.</summary>
    public required long TotalMinor { get; init; }

    public required long TaxMinor { get; init; }

    public required string Currency { get; init; }

    /// <summary>What this kind of work gives no warranty on.</summary>
    public ImmutableArray<string> NotCovered { get; init; } = [];

    public required PublicIfRefused IfRefused { get; init; }

    /// <summary>Open days from the answer to the promised date.</summary>
    public required int DurationWorkingDays { get; init; }

    /// <summary>What the customer agrees to; an answer sends it back as it was shown.</summary>
    public required string ConsentText { get; init; }

    /// <summary>The newest version, where this is an older one.</summary>
    public int? Newest { get; init; }
}
