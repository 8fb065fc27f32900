using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Money;
using Workshop.Core.Quotes;

namespace Workshop.Service.Features.Quotes;

public sealed record QuoteLineBody
{
    private const long MinorAtMost = 1_000_000_000_000;

    /// <summary>By which an answer names it; the line's number where left out.</summary>
    [RegularExpression("[A-Za-z0-9][A-Za-z0-9._-]{0,39}")]
    public string? Id { get; init; }

    [StringLength(500, MinimumLength = 1)]
    public required string Text { get; init; }

    /// <summary>Work where left out, or an option.</summary>
    public QuoteLineKind? Kind { get; init; }

    /// <summary>Minor units, tax included; less than nothing for a reduction.</summary>
    [Range(-MinorAtMost, MinorAtMost)]
    public required long AmountMinor { get; init; }

    /// <summary>The tax inside the amount; by its rate where left out, and nothing without one.</summary>
    [Range(-MinorAtMost, MinorAtMost)]
    public long? TaxMinor { get; init; }

    /// <summary>Per cent, of the amount without the tax.</summary>
    [Range(0d, 100d)]
    public decimal? TaxRate { get; init; }

    /// <summary>The customer says yes or no to it by itself.</summary>
    public bool Optional { get; init; }

    /// <summary>An option that the workshop advises.</summary>
    public bool Recommended { get; init; }

    internal QuoteLine ToLine(int index) => new()
    {
        Id = IdAt(index),
        Text = Text,
        Kind = Kind ?? (Optional ? QuoteLineKind.Option : QuoteLineKind.Work),
        AmountMinor = AmountMinor,
        TaxMinor = TaxMinor ?? ByRate() ?? 0,
        TaxRate = TaxRate,
        Optional = Optional ? true : null,
        Recommended = Recommended ? true : null,
    };

    internal string IdAt(int index) => Id ?? $"{index + 1}";

    /// <summary>The tax that its rate makes, rounded to the nearest minor unit; null without a rate.</summary>
    internal long? ByRate() => TaxRate is { } rate ? (long)Math.Round(AmountMinor * rate / (100 + rate), MidpointRounding.AwayFromZero) : null;
}

/// <summary>What a refusal costs, and what a customer may then choose.</summary>
public sealed record IfRefusedBody
{
    /// <summary>Minor units; nothing where left out.</summary>
    [Range(0, MoneyBook.MinorAtMost)]
    public long FeeMinor { get; init; }

    /// <summary>Return alone where left out.</summary>
    [Length(1, 3)]
    public ImmutableArray<CustomersChoice>? Choices { get; init; }
}

public sealed record QuoteBody
{
    [Length(1, 100)]
    public required ImmutableArray<QuoteLineBody> Lines { get; init; }

    /// <summary>ISO 4217.</summary>
    [RegularExpression("[A-Z]{3}")]
    public required string Currency { get; init; }

    /// <summary>It adds to what is agreed; without it a version takes the place of what was agreed before.</summary>
    public bool Supplementary { get; init; }

    /// <summary>Good through this day; as many days after today as the shop's rules say where left out.</summary>
    public LocalDate? ValidThrough { get; init; }

    /// <summary>Open days from approval to the promised date; as the kind of work says where left out. Of a supplement: the open days that it adds, none where left out.</summary>
    [Range(0, 1_000)]
    public int? WorkingDays { get; init; }

    /// <summary>Minor units asked before the work, nothing to the total; as the shop's rules say of what is agreed where left out, and nothing for a supplement.</summary>
    [Range(0, MoneyBook.MinorAtMost)]
    public long? DepositMinor { get; init; }

    /// <summary>Minor units that a refusal costs the customer; nothing where left out.</summary>
    [Range(0, MoneyBook.MinorAtMost)]
    public long? FeeOnRefusalMinor { get; init; }

    /// <summary>The same fee together with what a customer who refuses may choose.</summary>
    public IfRefusedBody? IfRefused { get; init; }

    /// <summary>What the price does not cover.</summary>
    [Length(0, 40)]
    public ImmutableArray<string>? NotCovered { get; init; }

    /// <summary>What the customer says yes to; the shop's own text where left out.</summary>
    public ConsentText? ConsentText { get; init; }

    /// <summary>Gates that ask and are to be passed.</summary>
    [Length(0, 20)]
    public ImmutableArray<string>? Despite { get; init; }

    /// <summary>The badge of whoever wrote it.</summary>
    [StringLength(60)]
    public string? Person { get; init; }

    internal long RequiredMinor => Lines.Where(line => !line.Optional).Sum(line => line.AmountMinor);

    internal IEnumerable<Fault> Faults(Job job, LocalDate today, int validForDaysAtMost)
    {
        if (Account.FixedCurrency(job) is { } currency && currency != Currency)
        {
            yield return new Fault("/currency", $"The account of this job is in {currency}");
        }

        if (Supplementary && !job.Quotes.AnyAccepted)
        {
            yield return new Fault("/supplementary", "Nothing is agreed yet that this could be added to");
        }

        if (WorkingDays == 0 && !Supplementary)
        {
            yield return new Fault("/workingDays", "Work takes a day at least; a supplement alone may take none");
        }

        foreach (var (i, line) in Lines.Index())
        {
            foreach (var fault in Faults(line, i))
            {
                yield return fault;
            }
        }

        if (RequiredMinor < 0)
        {
            yield return new Fault("/lines", "The lines come to less than nothing");
        }

        if (DepositMinor > RequiredMinor)
        {
            yield return new Fault("/depositMinor", "A deposit is no more than the lines come to");
        }

        if (FeeOnRefusalMinor is not null && IfRefused is not null && FeeOnRefusalMinor != IfRefused.FeeMinor)
        {
            yield return new Fault("/ifRefused/feeMinor", "A refusal costs one fee");
        }

        foreach (var (i, text) in (NotCovered ?? []).Index().Where(one => string.IsNullOrWhiteSpace(one.Item) || one.Item.Length > 500))
        {
            yield return new Fault($"/notCovered/{i}", "What is not covered has 1 to 500 characters");
        }

        foreach (var fault in ConsentText is { } consent ? new QuoteRules { ConsentText = consent }.Faults("") : [])
        {
            yield return fault;
        }

        if (ValidThrough < today || ValidThrough > today.PlusDays(validForDaysAtMost))
        {
            yield return new Fault("/validThrough", $"This is no day from {today:uuuu-MM-dd} to {today.PlusDays(validForDaysAtMost):uuuu-MM-dd}");
        }
    }

    private IEnumerable<Fault> Faults(QuoteLineBody line, int i)
    {
        if (string.IsNullOrWhiteSpace(line.Text))
        {
            yield return new Fault($"/lines/{i}/text", "A line says what it is for");
        }

        var tax = line.TaxMinor ?? 0;
        if (Math.Abs(tax) > Math.Abs(line.AmountMinor) || Math.Sign(tax) * Math.Sign(line.AmountMinor) < 0)
        {
            yield return new Fault($"/lines/{i}/taxMinor", "The tax lies inside the amount");
        }
        else if (line.TaxMinor is { } told && line.ByRate() is { } reckoned && Math.Abs(told - reckoned) > 1)
        {
            yield return new Fault($"/lines/{i}/taxMinor", $"At this rate the tax is {reckoned}");
        }

        if (Lines.Take(i).Index().Any(before => before.Item.IdAt(before.Index) == line.IdAt(i)))
        {
            yield return new Fault($"/lines/{i}/id", $"Another line is '{line.IdAt(i)}'");
        }

        if (!line.Optional && (line.Recommended || line.Kind == QuoteLineKind.Option))
        {
            yield return new Fault($"/lines/{i}/optional", "Only what may be left out is an option, or advised");
        }
    }
}
