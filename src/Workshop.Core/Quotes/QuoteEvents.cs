using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.Quotes;

/// <summary>What a line of a quote is for.</summary>
public enum QuoteLineKind
{
    Work,
    Part,
    Case,
    Option,
}

/// <summary>One line of a quote; the tax is inside <see cref="AmountMinor"/>.</summary>
public sealed record QuoteLine
{
    public required string Text { get; init; }

    /// <summary>Minor units of the quote's currency, tax included.</summary>
    public required long AmountMinor { get; init; }

    public long TaxMinor { get; init; }

    /// <summary>Within its version; a line without one goes by its number, beginning with 1.</summary>
    public string? Id { get; init; }

    /// <summary>Work where left out, or an option.</summary>
    public QuoteLineKind? Kind { get; init; }

    /// <summary>The customer says yes or no to it by itself.</summary>
    public bool? Optional { get; init; }

    /// <summary>An option that the workshop advises.</summary>
    public bool? Recommended { get; init; }

    /// <summary>Per cent of tax inside the amount, where it was told.</summary>
    public decimal? TaxRate { get; init; }

    public bool IsOptional => Optional == true;
}

/// <summary>What a customer who refuses would have done with the watch.</summary>
public enum CustomersChoice
{
    /// <summary>It goes back unrepaired.</summary>
    Return,

    /// <summary>The workshop keeps it for what its material is worth.</summary>
    ScrapValue,

    /// <summary>They want to be asked.</summary>
    AskMe,
}

/// <summary>What the customer says yes to, in the words they see.</summary>
public sealed record ConsentText
{
    public required string En { get; init; }

    /// <summary>The English text where left out.</summary>
    public string? De { get; init; }

    public string In(Language language) => language == Language.German ? De ?? En : En;
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

    /// <summary>Open days from approval to the promised date; of a supplementary quote, the open days it adds to that date.</summary>
    public required int WorkingDays { get; init; }

    /// <summary>Asked before the work begins, part of the total; nothing where left out. Minor units.</summary>
    public long? DepositMinor { get; init; }

    /// <summary>Per cent of what will be agreed, asked before the work begins; takes the place of <see cref="DepositMinor"/> once options are chosen.</summary>
    public int? DepositSharePercent { get; init; }

    /// <summary>Only where more than this is agreed is that share asked. Minor units.</summary>
    public long? DepositAboveMinor { get; init; }

    /// <summary>What a refusal costs the customer; nothing where left out. Minor units.</summary>
    public long? FeeOnRefusalMinor { get; init; }

    /// <summary>What a customer who refuses may choose from; return alone where left out.</summary>
    public ImmutableArray<CustomersChoice>? ChoicesOnRefusal { get; init; }

    /// <summary>It adds to what is agreed; without it a version takes the place of what was agreed before.</summary>
    public bool? Supplementary { get; init; }

    /// <summary>What the price does not cover, in the shop's words.</summary>
    public ImmutableArray<string>? NotCovered { get; init; }

    public ConsentText? ConsentText { get; init; }

    /// <summary>Lines that are asked whatever is chosen; options come on top.</summary>
    public long TotalMinor => Lines.Where(line => !line.IsOptional).Sum(line => line.AmountMinor);

    /// <summary>Every line with its id and its kind.</summary>
    public IEnumerable<QuoteLine> Named => Lines.Select((line, i) => line with
    {
        Id = line.Id ?? $"{i + 1}",
        Kind = line.Kind ?? (line.IsOptional ? QuoteLineKind.Option : QuoteLineKind.Work),
    });
}

/// <summary>How an answer came to the house.</summary>
public enum AnswerChannel
{
    Desk,
    Telephone,
    Letter,
    Mail,
    Storefront,

    /// <summary>The customer's own page of the watch.</summary>
    Page,
}

/// <summary>One option and the customer's word about it.</summary>
/// <param name="Option">The line's id.</param>
public readonly record struct OptionAnswer(string Option, bool Accepted);

public sealed record QuoteAnswered : WorkshopEvent
{
    public required int Version { get; init; }

    public required bool Accepted { get; init; }

    public AnswerChannel Channel { get; init; }

    /// <summary>Who of the house heard it, for the telephone.</summary>
    public string? Witness { get; init; }

    /// <summary>Every option of the version; one that is missing was declined.</summary>
    public ImmutableArray<OptionAnswer>? Options { get; init; }

    /// <summary>What is to become of the watch after a refusal; it goes back where left out.</summary>
    public CustomersChoice? IfRefused { get; init; }

    /// <summary>The text that the customer said yes to, word for word.</summary>
    public string? ConsentText { get; init; }

    /// <summary>Who answered, by the reference of their record; no name.</summary>
    public string? AnsweredBy { get; init; }

    /// <summary>The network address of the device it was sent from.</summary>
    [Erasable]
    public string? Address { get; init; }
}

/// <summary>
/// A line that was agreed has become dearer. Within the shop's share the shop bears it; beyond it the line asks for a new version, and
/// nothing else does.
/// </summary>
public sealed record QuotePriceChanged : WorkshopEvent
{
    /// <summary>The accepted version.</summary>
    public required int Version { get; init; }

    /// <summary>The line's id.</summary>
    public required string Line { get; init; }

    /// <summary>As accepted, minor units, tax included.</summary>
    public required long AcceptedMinor { get; init; }

    /// <summary>What it costs now, minor units, tax included.</summary>
    public required long NewAmountMinor { get; init; }

    /// <summary>The shop bears the difference, and the customer pays what they agreed to.</summary>
    public required bool Borne { get; init; }

    public required string Reason { get; init; }
}
