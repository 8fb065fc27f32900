using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.Letters;

/// <summary>The shop's figures about letters. JSON member of the rules document: <c>messages</c>. Common practice throughout.</summary>
public sealed record LetterRules
{
    public static readonly LetterRules Usual = new();

    /// <summary>
    /// Who writes of which moment, by its word; <c>workshop</c>, <c>storefront</c> or <c>nobody</c>. What is left out is the workshop's where
    /// it can send by itself and the watch came under no order, else the storefront's.
    /// </summary>
    public ImmutableSortedDictionary<string, LetterSpeaker> SpokenBy { get; init; } = ImmutableSortedDictionary<string, LetterSpeaker>.Empty;

    /// <summary>From this time of the shop's day on nothing goes out.</summary>
    public LocalTime QuietFrom { get; init; } = new(20, 0);

    /// <summary>From this time on letters go again; the same as <see cref="QuietFrom"/> for a shop that knows no quiet hours.</summary>
    public LocalTime QuietUntil { get; init; } = new(8, 0);

    /// <summary>When on its day that falls due what is counted in days.</summary>
    public LocalTime RemindAt { get; init; } = new(9, 0);

    /// <summary>Days after a quote at which it is asked for again.</summary>
    [Length(0, 10)]
    public ImmutableArray<int> QuoteReminderDays { get; init; } = [3, 7, 14];

    /// <summary>Days after it was ready at which the customer is reminded.</summary>
    [Length(0, 10)]
    public ImmutableArray<int> ReadyReminderDays { get; init; } = [7, 21, 60];

    /// <summary>Days after it was ready from which on it is the manager's: no letter, a row on the agenda.</summary>
    [Range(1, 3_650)]
    public int UnclaimedDays { get; init; } = 180;

    /// <summary>Days after hand-over at which the customer is first asked how it runs.</summary>
    [Range(1, 365)]
    public int WearAskedFirstDays { get; init; } = 7;

    /// <summary>Days after hand-over at which the customer is asked again.</summary>
    [Range(1, 365)]
    public int WearAskedAgainDays { get; init; } = 30;

    /// <summary>Days before the last day of a warranty line at which it is said that it ends.</summary>
    [Range(1, 365)]
    public int WarrantyEndsDays { get; init; } = 30;

    /// <summary>Months after hand-over.</summary>
    [Range(1, 240)]
    public int WaterTestMonths { get; init; } = 12;

    /// <summary>Months after hand-over.</summary>
    [Range(1, 240)]
    public int CellMonths { get; init; } = 24;

    /// <summary>Months after hand-over.</summary>
    [Range(1, 240)]
    public int ServiceMonths { get; init; } = 60;

    /// <summary>Months after hand-over, for a chronograph.</summary>
    [Range(1, 240)]
    public int ChronographServiceMonths { get; init; } = 48;

    /// <summary>Whether the customer is told that it has passed the check after wear, before it is ready.</summary>
    public bool TellTested { get; init; }

    /// <summary>Days after which what nobody could send is not sent any more: a shop that begins to write does not write of last year.</summary>
    [Range(1, 365)]
    public int TooLateDays { get; init; } = 7;

    public bool IsQuiet(LocalTime time) =>
        QuietFrom > QuietUntil ? time >= QuietFrom || time < QuietUntil : time >= QuietFrom && time < QuietUntil;

    /// <summary>Who writes of a moment.</summary>
    /// <param name="canSend">The workshop has somebody who carries its letters.</param>
    /// <param name="ordered">The watch came under an order of a storefront.</param>
    public LetterSpeaker SpeakerOf(LetterMoment moment, bool canSend, bool ordered) =>
        SpokenBy.TryGetValue(Word.Of(moment), out var said) ? said : canSend && !ordered ? LetterSpeaker.Workshop : LetterSpeaker.Storefront;

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        foreach (var moment in SpokenBy.Keys.Where(moment => Word.Read<LetterMoment>(moment) is null))
        {
            yield return new Fault($"{pointer}/spokenBy/{moment}", "There is no such moment");
        }

        foreach (var (name, days) in new[] { ("quoteReminderDays", QuoteReminderDays), ("readyReminderDays", ReadyReminderDays) })
        {
            foreach (var (i, day) in days.Index().Where(one => one.Item is < 1 or > 365 || (one.Index > 0 && days[one.Index - 1] >= one.Item)))
            {
                yield return new Fault($"{pointer}/{name}/{i}", $"Days are 1 to 365, each more than the one before; this is {day}");
            }
        }

        if (WearAskedAgainDays <= WearAskedFirstDays)
        {
            yield return new Fault($"{pointer}/wearAskedAgainDays", "The second question comes after the first");
        }

        if (IsQuiet(RemindAt))
        {
            yield return new Fault($"{pointer}/remindAt", "This lies in the quiet hours");
        }
    }
}
