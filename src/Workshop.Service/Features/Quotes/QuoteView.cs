using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Quotes;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Service.Features.Quotes;

/// <summary>How a version of the quote stands.</summary>
public enum QuoteState
{
    /// <summary>Waits for an answer.</summary>
    Open,
    Accepted,
    Refused,

    /// <summary>Unanswered, and a newer version was sent.</summary>
    Superseded,

    /// <summary>Unanswered, and its last day is over.</summary>
    Expired,
}

/// <summary>What a refusal costs, and what the customer may then choose.</summary>
public sealed record IfRefusedView(long FeeMinor, ImmutableArray<CustomersChoice> Choices);

/// <summary>A line that became dearer after it was agreed. Minor units, tax included.</summary>
/// <param name="Borne">The shop bears the difference; else the line asks for a new version.</param>
public sealed record PriceRiseView(string Line, long AcceptedMinor, long NewAmountMinor, bool Borne, string? Reason, Instant At);

/// <summary>One version of the quote. Amounts in minor units of the currency, tax included.</summary>
public sealed record QuoteView
{
    public required Label Job { get; init; }

    public required int Version { get; init; }

    public required QuoteState State { get; init; }

    public required Instant SentAt { get; init; }

    public required string Currency { get; init; }

    public required ImmutableArray<QuoteLine> Lines { get; init; }

    /// <summary>What is asked whatever is chosen; options come on top.</summary>
    public required long TotalMinor { get; init; }

    /// <summary>The tax inside <see cref="TotalMinor"/>.</summary>
    public required long TaxMinor { get; init; }

    /// <summary>Required lines and accepted options; absent unless it was accepted.</summary>
    public long? AgreedMinor { get; init; }

    /// <summary>The tax inside <see cref="AgreedMinor"/>.</summary>
    public long? AgreedTaxMinor { get; init; }

    /// <summary>It adds to what is agreed; absent where it takes its place.</summary>
    public bool? Supplementary { get; init; }

    /// <summary>What the price does not cover; absent where nothing is said of it.</summary>
    public ImmutableArray<string>? NotCovered { get; init; }

    public required IfRefusedView IfRefused { get; init; }

    /// <summary>What the customer says yes to, or said, in the words they see.</summary>
    public string? ConsentText { get; init; }

    /// <summary>Every option and the customer's word about it; absent where there is none.</summary>
    public ImmutableArray<OptionAnswer>? Options { get; init; }

    /// <summary>What is to become of the watch after a refusal; absent where nobody said.</summary>
    public CustomersChoice? Choice { get; init; }

    /// <summary>Who answered, by the reference of their record.</summary>
    public string? AnsweredBy { get; init; }

    /// <summary>Lines that became dearer after they were agreed.</summary>
    public required ImmutableArray<PriceRiseView> PriceRises { get; init; }

    /// <summary>Good to the end of this day in the workshop's own time.</summary>
    public required LocalDate ValidThrough { get; init; }

    /// <summary>Open days from approval to the promised date; of a supplement, those it adds.</summary>
    public required int WorkingDays { get; init; }

    /// <summary>Asked before the work begins; absent where nothing is.</summary>
    public long? DepositMinor { get; init; }

    /// <summary>What a refusal costs the customer; absent where it costs nothing.</summary>
    public long? FeeOnRefusalMinor { get; init; }

    public Instant? AnsweredAt { get; init; }

    public AnswerChannel? Channel { get; init; }

    public string? Witness { get; init; }

    /// <summary>All versions that count, the first one first.</summary>
    public static ImmutableArray<QuoteView> AllOf(Job job, IEnumerable<Entry> entries, ShopCalendar calendar, Instant now, Language language = Language.English)
    {
        var counted = entries.Where(entry => entry.Counts).Select(entry => entry.Event).ToArray();
        var sent = counted.OfType<QuoteSent>().GroupBy(one => one.Version).ToDictionary(group => group.Key, group => group.Last());
        var answered = counted.OfType<QuoteAnswered>().GroupBy(one => one.Version).ToDictionary(group => group.Key, group => group.Last());
        var rises = counted.OfType<QuotePriceChanged>().ToLookup(one => (one.Version, one.Line, one.NewAmountMinor), one => one.Reason);
        return
        [
            .. job.Quotes.Versions.Where(version => sent.ContainsKey(version.Version))
                .Select(version => Of(job, version, sent[version.Version], answered.GetValueOrDefault(version.Version), rises, calendar, now, language)),
        ];
    }

    private static QuoteView Of(Job job, QuoteVersion version, QuoteSent sent, QuoteAnswered? answered, ILookup<(int, string, long), string> rises, ShopCalendar calendar, Instant now, Language language) => new()
    {
        Job = job.Label,
        Version = version.Version,
        State = StateOf(job, version, calendar, now),
        SentAt = version.SentAt,
        Currency = sent.Currency,
        Lines = [.. sent.Named],
        TotalMinor = sent.TotalMinor,
        TaxMinor = sent.Lines.Where(line => !line.IsOptional).Sum(line => line.TaxMinor),
        AgreedMinor = version.Accepted == true ? version.AgreedMinor : null,
        AgreedTaxMinor = version.Accepted == true ? sent.Named.Where(line => !line.IsOptional || version.Options.Any(option => option.Id == line.Id && option.Accepted == true)).Sum(line => line.TaxMinor) : null,
        Supplementary = sent.Supplementary,
        NotCovered = sent.NotCovered,
        IfRefused = new IfRefusedView(sent.FeeOnRefusalMinor ?? 0, sent.ChoicesOnRefusal ?? [CustomersChoice.Return]),
        ConsentText = answered?.ConsentText ?? sent.ConsentText?.In(language),
        Options = OptionsOf(version) is { Length: > 0 } options ? options : null,
        Choice = version.IfRefused,
        AnsweredBy = answered?.AnsweredBy,
        PriceRises =
        [
            .. job.Quotes.PriceRises.Where(rise => rise.Version == version.Version).Select(rise => new PriceRiseView(
                rise.Line, rise.AcceptedMinor, rise.NewAmountMinor, rise.Borne, rises[(rise.Version, rise.Line, rise.NewAmountMinor)].LastOrDefault(), rise.At)),
        ],
        ValidThrough = version.ValidThrough,
        WorkingDays = version.WorkingDays,
        DepositMinor = sent.DepositMinor,
        FeeOnRefusalMinor = sent.FeeOnRefusalMinor,
        AnsweredAt = version.AnsweredAt,
        Channel = answered?.Channel,
        Witness = answered?.Witness,
    };

    internal static ImmutableArray<OptionAnswer> OptionsOf(QuoteVersion version) =>
        version.Accepted == true ? [.. version.Options.Select(option => new OptionAnswer(option.Id, option.Accepted == true))] : [];

    private static QuoteState StateOf(Job job, QuoteVersion version, ShopCalendar calendar, Instant now) => version.Accepted switch
    {
        true => QuoteState.Accepted,
        false => QuoteState.Refused,
        null when job.Quotes.Newest!.Version != version.Version => QuoteState.Superseded,
        null => calendar.DateOf(now) > version.ValidThrough ? QuoteState.Expired : QuoteState.Open,
    };
}
