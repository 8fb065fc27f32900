using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;

namespace Workshop.Core.Quotes;

/// <summary>Something the workshop offered and the customer declined: what wears there later is not the workshop's.</summary>
/// <param name="Version">Of the quote.</param>
/// <param name="Line">Its id in that version.</param>
/// <param name="At">When it was declined.</param>
/// <param name="Answer">The entry that says so.</param>
public sealed record DeclinedLine(int Version, string Line, string Text, long AmountMinor, string Currency, bool Recommended, Instant At, EventId Answer)
{
    /// <summary>Options of accepted versions that were not chosen, and every line of supplements that were refused; the first one first.</summary>
    public static ImmutableArray<DeclinedLine> Of(Job job, IEnumerable<Entry> entries)
    {
        var counted = entries.Where(entry => entry.Counts).ToArray();
        return
        [
            .. from version in job.Quotes.Versions
               where version.Accepted is not null && job.Quotes.IsForThisKind(version)
               let sent = counted.Select(entry => entry.Event).OfType<QuoteSent>().LastOrDefault(one => one.Version == version.Version)
               let answer = counted.LastOrDefault(entry => entry.Event is QuoteAnswered answered && answered.Version == version.Version)
               where sent is not null && answer is not null
               from line in sent.Named
               where version.Accepted == true ? version.Options.Any(option => option.Id == line.Id && option.Accepted != true) : version.Supplementary
               select new DeclinedLine(version.Version, line.Id!, line.Text, line.AmountMinor, version.Currency, line.Recommended == true, version.AnsweredAt!.Value, answer.Id),
        ];
    }
}
