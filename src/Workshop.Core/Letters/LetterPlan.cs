using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.FinalControls;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Money;
using Workshop.Core.Orders;
using Workshop.Core.Promises;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Warranties;

namespace Workshop.Core.Letters;

/// <summary>
/// All that is to be said about a job in its whole life as it stands now, past and to come, each with what speaks against it: computed
/// from the folded job alone, so that nothing need be remembered but what was said.
/// </summary>
public static class LetterPlan
{
    /// <param name="entries">The job's entries in the order of their places, each as it counts.</param>
    /// <param name="now">Drop rules that name a day ask it.</param>
    public static ImmutableArray<LetterOccasion> Of(Job job, IReadOnlyCollection<Entry> entries, LetterSurroundings around, ShopRules rules, Instant now) =>
        !job.TakenIn ? []
        : [
            .. Received(job),
            .. QuoteLetters.Of(job, rules, now),
            .. PartSlips.Of(job, entries, rules),
            .. DateChanges(job, rules),
            .. Tested(job, rules),
            .. Ready(job, entries, rules),
            .. Left(job),
            .. AfterLetters.Of(job, around, rules),
            .. Money(job, rules),
            .. job.Letters.Released.Select(one => new LetterOccasion(one.Moment, $"{one.Number}", one.At)),
        ];

    /// <summary>The people a moment is told, each once.</summary>
    public static IEnumerable<string> Readers(Job job, LetterMoment moment) => LetterMoments.Of(moment).Audience switch
    {
        LetterAudience.Decider => [job.Parties.Decides],
        LetterAudience.Payer => [job.Parties.Payer],
        LetterAudience.Owner => [job.Parties.Owner],
        LetterAudience.ToldAndRecipient => job.Parties.Told.Append(job.Parties.Recipient).Distinct(StringComparer.Ordinal),
        _ => job.Parties.Told,
    };

    /// <summary>What is to be said of a watch that has not come.</summary>
    public static ImmutableArray<LetterOccasion> Of(ArrivalMoments moments)
    {
        LetterDrop? over = moments.Over ? LetterDrop.Passed : null;
        return
        [
            new LetterOccasion(LetterMoment.OrderReceived, "1", moments.OrderReceivedAt, over),
            .. moments.KitSentAt is { } sent ? [new LetterOccasion(LetterMoment.KitSent, "1", sent, over)] : Array.Empty<LetterOccasion>(),
            new LetterOccasion(LetterMoment.ArrivalAsked, "1", moments.AskedAt, over),
        ];
    }

    /// <summary>When the work was over: the second person has passed it, or it is put together again as it came. What is owed is paid later.</summary>
    public static Instant? ReadySince(Job job)
    {
        var over = job.Standings.ReturnsUnrepaired ? Stage.ReturnUnrepaired : job.Route?.Has(Stage.FinalControl) == true ? Stage.FinalControl : Stage.Ready;
        return job.Standings.Of(over) is { State: StageState.Done, Since: var since } ? since : null;
    }

    /// <summary>The shop's hour for what is counted in days, so many days later.</summary>
    internal static Instant Later(Instant moment, int days, ShopRules rules) => LetterJudge.At(rules.Calendar.DateOf(moment).PlusDays(days), rules.Messages.RemindAt, rules);

    /// <summary>The date that was said in a letter before one that moved: smaller moves between were none.</summary>
    /// <param name="number">Of the move, 1 for the first.</param>
    public static LocalDate SaidBefore(Job job, int number, ShopRules rules) =>
        job.Promise.History.Take(number).Skip(1).Aggregate(job.Promise.History[0].On, (said, move) => IsNews(said, move.On, rules) ? move.On : said);

    private static bool IsNews(LocalDate said, LocalDate moved, ShopRules rules) =>
        rules.Calendar.OpenDaysBetween(LocalDate.Min(said, moved), LocalDate.Max(said, moved)) > rules.Promises.MessageBeyondWorkingDays;

    // A job of the paper book was received before there were letters.
    private static IEnumerable<LetterOccasion> Received(Job job)
    {
        if (job.Intake is { TakenInAt: { } at, Adopted: null })
        {
            yield return new LetterOccasion(LetterMoment.ReceivedSafely, "1", at, job.Standings.HandedOver ? LetterDrop.Passed : null);
        }
    }

    // Small moves add up: what counts is how far the day has gone from the one that was said last.
    private static IEnumerable<LetterOccasion> DateChanges(Job job, ShopRules rules)
    {
        if (job.Promise.History is not [var first, .. var moves])
        {
            yield break;
        }

        var (said, changes) = (first.On, new List<(int Number, SaidDate Date)>());
        foreach (var (i, move) in moves.Index())
        {
            if (IsNews(said, move.On, rules))
            {
                changes.Add((i + 1, move));
                said = move.On;
            }
        }

        // An approval that was not confirmed yet says the day as it is now.
        var approval = job.Quotes.Agreed is { } agreed && !job.Letters.Said.Any(one => one.Moment == LetterMoment.ApprovalConfirmed && one.Occasion == $"{agreed.Version}") ? agreed.AnsweredAt : null;
        foreach (var (number, date) in changes)
        {
            yield return new LetterOccasion(
                LetterMoment.DateChanged, $"{number}", date.SaidAt,
                job.Standings.IsReady || job.Standings.HandedOver ? LetterDrop.Passed
                : number != changes[^1].Number ? LetterDrop.Newer
                : approval is { } answered && rules.Calendar.DateOf(answered) == rules.Calendar.DateOf(date.SaidAt) ? LetterDrop.SaidOtherwise
                : null);
        }
    }

    private static IEnumerable<LetterOccasion> Tested(Job job, ShopRules rules)
    {
        if (rules.Messages.TellTested && job.Standings.Of(Stage.WearCheck) is { State: StageState.Done, Since: { } at })
        {
            yield return new LetterOccasion(LetterMoment.Tested, "1", at, job.Standings.IsReady || job.Standings.HandedOver ? LetterDrop.Passed : null);
        }
    }

    // A second final control after a fault is news of its own: it is ready again.
    private static IEnumerable<LetterOccasion> Ready(Job job, IEnumerable<Entry> entries, ShopRules rules)
    {
        if (ReadySince(job) is not { } since)
        {
            yield break;
        }

        LetterDrop? passed = job.Standings.HandedOver ? LetterDrop.Passed : null;
        var time = entries.Count(entry => entry.Counts && entry.Event is FinalControlPassed);
        yield return new LetterOccasion(LetterMoment.ReadyToCollect, $"{time}", since, passed);
        foreach (var days in rules.Messages.ReadyReminderDays)
        {
            yield return new LetterOccasion(LetterMoment.ReadyReminder, $"{time}-{days}", Later(since, days, rules), passed);
        }
    }

    private static IEnumerable<LetterOccasion> Left(Job job)
    {
        if (job.Standings.Of(Stage.HandedOver) is not { State: StageState.Done, Since: { } at })
        {
            yield break;
        }

        if (job.Warranty.How == HandedOverHow.Dispatched)
        {
            yield return new LetterOccasion(LetterMoment.Dispatched, "1", at, job.Warranty.DeliveredOn is null ? null : LetterDrop.Passed);
        }

        yield return new LetterOccasion(job.Standings.ReturnsUnrepaired ? LetterMoment.ReturnedUnrepaired : LetterMoment.HandedOver, "1", at);
    }

    // Only a shop that keeps its money here knows what is owed.
    private static IEnumerable<LetterOccasion> Money(Job job, ShopRules rules)
    {
        if (rules.Money.Kept != MoneyKept.Here)
        {
            yield break;
        }

        if (Deposit.AskedMinor(job) is not null && job.Quotes.Agreed is { AnsweredAt: { } answered } agreed)
        {
            yield return new LetterOccasion(LetterMoment.PaymentAsked, $"deposit-{agreed.Version}", answered, Deposit.IsHere(job) ? LetterDrop.Passed : null);
        }

        if (Account.IsFinal(job) && Account.Of(job) is { RefundMinor: > 0 and var owed })
        {
            var last = job.Money.Payments.Select(one => one.At).Concat(job.Quotes.Versions.Select(one => one.AnsweredAt ?? one.SentAt)).Max();
            yield return new LetterOccasion(LetterMoment.RefundOwed, $"{owed}", last);
        }
    }
}
