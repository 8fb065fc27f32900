using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Quotes;
using Workshop.Core.Shop;

namespace Workshop.Core.Letters;

/// <summary>What is said of quotes: sent, asked for again, run out, approved.</summary>
internal static class QuoteLetters
{
    public static IEnumerable<LetterOccasion> Of(Job job, ShopRules rules, Instant now)
    {
        var today = rules.Calendar.DateOf(now);
        var newest = job.Quotes.Newest;
        foreach (var (i, quote) in job.Quotes.Versions.Index())
        {
            var answered = quote.Accepted is not null || job.Standings.HandedOver;
            var over = answered ? LetterDrop.Passed : quote != newest || !job.Quotes.IsForThisKind(quote) ? LetterDrop.Newer : today > quote.ValidThrough ? LetterDrop.Passed : (LetterDrop?)null;
            var supplementary = quote.Supplementary || job.Quotes.Versions.Take(i).Any(before => before.Accepted == true && before.AnsweredAt <= quote.SentAt);
            yield return new LetterOccasion(supplementary ? LetterMoment.SupplementaryQuote : LetterMoment.QuoteReady, $"{quote.Version}", quote.SentAt, over);
            foreach (var reminder in Reminders(quote, over, rules, now))
            {
                yield return reminder;
            }

            yield return new LetterOccasion(
                LetterMoment.QuoteExpired, $"{quote.Version}", LetterJudge.At(quote.ValidThrough.PlusDays(1), rules.Messages.RemindAt, rules),
                answered ? LetterDrop.Passed : quote != newest ? LetterDrop.Newer : null);

            if (quote is { Accepted: true, AnsweredAt: { } at })
            {
                yield return new LetterOccasion(
                    LetterMoment.ApprovalConfirmed, $"{quote.Version}", at,
                    job.Standings.IsReady || job.Standings.HandedOver ? LetterDrop.Passed : job.Quotes.Agreed != quote && !job.Quotes.Supplements.Contains(quote) ? LetterDrop.Newer : null);
            }
        }
    }

    // One that could not go is not made up for on the day of the next.
    private static IEnumerable<LetterOccasion> Reminders(QuoteVersion quote, LetterDrop? over, ShopRules rules, Instant now)
    {
        var all = rules.Messages.QuoteReminderDays.Select(days => (Days: days, Due: LetterPlan.Later(quote.SentAt, days, rules))).ToArray();
        foreach (var (i, (days, due)) in all.Index())
        {
            yield return new LetterOccasion(
                LetterMoment.QuoteReminder, $"{quote.Version}-{days}", due, over ?? (i + 1 < all.Length && all[i + 1].Due <= now ? LetterDrop.Newer : null));
        }
    }
}
