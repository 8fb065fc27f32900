using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Quotes;
using Workshop.Core.Shop;

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

/// <summary>One version of the quote. Amounts in minor units of the currency, tax included.</summary>
public sealed record QuoteView
{
    public required Label Job { get; init; }

    public required int Version { get; init; }

    public required QuoteState State { get; init; }

    public required Instant SentAt { get; init; }

    public required string Currency { get; init; }

    public required ImmutableArray<QuoteLine> Lines { get; init; }

    public required long TotalMinor { get; init; }

    /// <summary>The tax inside <see cref="TotalMinor"/>.</summary>
    public required long TaxMinor { get; init; }

    /// <summary>Good to the end of this day in the workshop's own time.</summary>
    public required LocalDate ValidThrough { get; init; }

    /// <summary>Open days from approval to the promised date.</summary>
    public required int WorkingDays { get; init; }

    /// <summary>Asked before the work begins; absent where nothing is.</summary>
    public long? DepositMinor { get; init; }

    /// <summary>What a refusal costs the customer; absent where it costs nothing.</summary>
    public long? FeeOnRefusalMinor { get; init; }

    public Instant? AnsweredAt { get; init; }

    public AnswerChannel? Channel { get; init; }

    public string? Witness { get; init; }

    /// <summary>All versions that count, the first one first.</summary>
    public static ImmutableArray<QuoteView> AllOf(Job job, IEnumerable<Entry> entries, ShopCalendar calendar, Instant now)
    {
        var counted = entries.Where(entry => entry.Counts).Select(entry => entry.Event).ToArray();
        var sent = counted.OfType<QuoteSent>().GroupBy(one => one.Version).ToDictionary(group => group.Key, group => group.Last());
        var answered = counted.OfType<QuoteAnswered>().GroupBy(one => one.Version).ToDictionary(group => group.Key, group => group.Last());
        return
        [
            .. job.Quotes.Versions.Where(version => sent.ContainsKey(version.Version))
                .Select(version => Of(job, version, sent[version.Version], answered.GetValueOrDefault(version.Version), calendar, now)),
        ];
    }

    private static QuoteView Of(Job job, QuoteVersion version, QuoteSent sent, QuoteAnswered? answered, ShopCalendar calendar, Instant now) => new()
    {
        Job = job.Label,
        Version = version.Version,
        State = StateOf(job, version, calendar, now),
        SentAt = version.SentAt,
        Currency = sent.Currency,
        Lines = sent.Lines,
        TotalMinor = sent.TotalMinor,
        TaxMinor = sent.Lines.Sum(line => line.TaxMinor),
        ValidThrough = version.ValidThrough,
        WorkingDays = version.WorkingDays,
        DepositMinor = sent.DepositMinor,
        FeeOnRefusalMinor = sent.FeeOnRefusalMinor,
        AnsweredAt = version.AnsweredAt,
        Channel = answered?.Channel,
        Witness = answered?.Witness,
    };

    private static QuoteState StateOf(Job job, QuoteVersion version, ShopCalendar calendar, Instant now) => version.Accepted switch
    {
        true => QuoteState.Accepted,
        false => QuoteState.Refused,
        null when job.Quotes.Newest!.Version != version.Version => QuoteState.Superseded,
        null => calendar.DateOf(now) > version.ValidThrough ? QuoteState.Expired : QuoteState.Open,
    };
}
