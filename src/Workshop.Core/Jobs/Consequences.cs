using System.Collections.Immutable;
using Workshop.Core.Disputes;
using Workshop.Core.FinalControls;
using Workshop.Core.Gates;
using Workshop.Core.Groups;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Money;
using Workshop.Core.Parts;
using Workshop.Core.Pieces;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;
using Workshop.Core.Route;

namespace Workshop.Core.Jobs;

/// <summary>
/// What follows from an entry in the same turn, each as an entry of its own. Their ids are made from the cause, so writing one twice is
/// impossible.
/// </summary>
internal static class Consequences
{
    /// <param name="before">The job before the entry came.</param>
    /// <param name="against">What stood against an entry that was noted.</param>
    /// <param name="because">For a report that counts since it was settled: the settlement, at the report's place. With it all that follows falls.</param>
    public static void Follow(GrowingJob growing, Job before, Entry entry, ImmutableArray<Objection> against, Facts facts, Entry? because = null)
    {
        var cause = because ?? entry;

        // A report that breaks a gate of strength stop is kept, and the job waits for a manager; the hold counts from receipt.
        if (entry.Disposition == Disposition.Noted && against.Any(one => one.Strength == Strength.Stop))
        {
            growing.AddConsequence(
                new HoldPlaced { Hold = HoldReason.Query, Reason = $"{entry.Event.Type} was reported late against {against[0].Gate}{Beside(growing.Job, against)}" }, cause, at: entry.Received);
        }

        if (!entry.Counts)
        {
            return;
        }

        switch (entry.Event)
        {
            case JobTakenIn { Adopted: { PromisedOn: { } told } adopted }:
                growing.AddConsequence(
                    PromiseArithmetic.GivenBefore(told, adopted.TakenInOn, growing.Job.Route?.TargetWorkingDaysBefore ?? 0, facts.Rules.Calendar), cause);
                break;
            case JobTakenIn { Adopted: null } or PaymentRecorded or AccountChanged or IntakeCompleted:
                GiveThePromise(growing, cause, facts);
                break;
            case VariantChanged:
                AskAnew(growing, before, cause);
                GiveThePromise(growing, cause, facts);
                break;
            case QuoteSent when growing.Job.Quotes.AnyAccepted && !growing.Job.Holds.Holds(HoldReason.Approval):
                growing.AddConsequence(new HoldPlaced { Hold = HoldReason.Approval, Reason = "a new version of the quote waits for an answer" }, cause);
                break;
            case QuoteAnswered answered:
                HearTheAnswer(growing, before, answered, cause, facts);
                break;

            // A watch that has left is nobody's to hold back.
            case DisputeOpened opened when !growing.Job.Standings.HandedOver && !growing.Job.Holds.Holds(HoldReason.Dispute):
                growing.AddConsequence(new HoldPlaced { Hold = HoldReason.Dispute, Reason = $"dispute {opened.Dispute}" }, cause);
                break;
            case DisputeClosed when !growing.Job.Disputes.Stand && growing.Job.Holds.Holds(HoldReason.Dispute):
                growing.AddConsequence(new HoldLifted { Hold = HoldReason.Dispute, Reason = "settled" }, cause);
                break;

            // Whether something was lost there or miscounted here is a manager's question; the hold counts from receipt.
            case PieceTaken or PiecePut when entry.Has(EntryFlag.CountDiffers):
                growing.AddConsequence(new HoldPlaced { Hold = HoldReason.Query, Reason = "another number came back from a firm than went there" }, cause, at: entry.Received);
                break;
            case PartFitted fitted:
                TakeFromOthers(growing, before, entry, cause, fitted, facts);
                break;
        }

        ReportWhatDiffers(growing, before, cause, facts);
        AskAboutWhatIsNeverWashed(growing, cause);
        SettleByTheBalance(growing, entry, cause, facts);
        if (!before.Holds.All.SequenceEqual(growing.Job.Holds.All))
        {
            MoveThePromise(growing, cause, facts);
        }
    }

    /// <summary>
    /// Work waits no longer; a customer who refused and wants the watch neither done nor back is a person's to speak to, and once they
    /// have chosen nobody waits for that any more.
    /// </summary>
    private static void HearTheAnswer(GrowingJob growing, Job before, QuoteAnswered answered, Entry cause, Facts facts)
    {
        if (growing.Job.Holds.Holds(HoldReason.Approval))
        {
            growing.AddConsequence(new HoldLifted { Hold = HoldReason.Approval, Reason = "answered" }, cause);
        }

        if (before.Quotes.Versions.FirstOrDefault(one => one.Version == answered.Version)?.IfRefused == CustomersChoice.AskMe && growing.Job.Holds.Holds(HoldReason.Customer))
        {
            growing.AddConsequence(new HoldLifted { Hold = HoldReason.Customer, Reason = "answered" }, cause);
        }

        if (!answered.Accepted && !before.Quotes.AnyAccepted && !before.Quotes.AgreedToAnotherKind)
        {
            var calendar = facts.Rules.Calendar;
            var soon = calendar.OpenDayAfter(calendar.DateOf(cause.Received), 1);
            HoldPlaced? asks = answered.IfRefused switch
            {
                CustomersChoice.AskMe => new() { Hold = HoldReason.Customer, Reason = "refused the quote: ask what is to become of the watch", Until = soon },
                CustomersChoice.ScrapValue => new() { Hold = HoldReason.Query, Reason = "refused the quote: would leave the watch for its scrap value", Until = soon },
                _ => null,
            };
            if (asks is not null)
            {
                growing.AddConsequence(asks, cause);
            }
        }

        GiveThePromise(growing, cause, facts);
        if (growing.Job.Quotes.Supplements.FirstOrDefault(one => one.Version == answered.Version) is { WorkingDays: > 0 and var days }
            && before.Quotes.Supplements.All(one => one.Version != answered.Version) && before.Promise.On is not null
            && growing.Job.Promise is { Base: { } from, On: { } on } && PromiseStart.Owed(growing.Job) is null)
        {
            Promise(
                growing,
                PromiseArithmetic.MovedBySupplement(from, on, days, cause.Effective, growing.Job.Route?.TargetWorkingDaysBefore ?? 0, Stops(growing.Job), facts.Rules.Calendar),
                cause, facts);
        }
    }

    private static IEnumerable<StopInterval> Stops(Job job) => job.Holds.All.Where(hold => hold.StopsPromise).Select(hold => new StopInterval(hold.From, hold.Until));

    /// <summary>A part that was set aside for another job is in this watch now: the other one waits for a new one, and its own stream says so.</summary>
    private static void TakeFromOthers(GrowingJob growing, Job before, Entry entry, Entry cause, PartFitted fitted, Facts facts)
    {
        if (facts.StockOf(fitted.Part) is not { } stock)
        {
            return;
        }

        foreach (var victim in PartGates.Victims(before, fitted, stock, facts))
        {
            var released = new PartReleased
            {
                Part = fitted.Part,
                Count = victim.Count,
                Reason = "fitted in another watch",
                TakenBy = growing.Job.Label.ToString(),
                ExpectedOn = PartGates.UsuallyOn(entry.Received, stock, facts.Rules),
                Essential = stock.Essential,
            };
            growing.WriteElsewhere(
                victim.Job,
                growing.Consequence(released, cause.Id, cause.Place, cause.Received, facts.Rules.Version, victim.Job, facts.NextStreamVersion(victim.Job), entry.Received)
                    with
                { Flags = [EntryFlag.PartTaken] });
        }
    }

    /// <summary>A count that differs is said once, with whoever had the parts last and the watches that were near by when it was found.</summary>
    private static void ReportWhatDiffers(GrowingJob growing, Job before, Entry cause, Facts facts)
    {
        var known = before.Groups.Differences.Select(one => (one.Step.Entry, one.Point)).ToHashSet();
        foreach (var one in growing.Job.Groups.Differences.Where(one => !known.Contains((one.Step.Entry, one.Point))).ToImmutableArray())
        {
            var group = growing.Job.Groups.Find(one.Group)!;
            var near = facts.NearBy(growing.Job.Label, one.Step.Bench ?? one.Seen?.Step.Bench, [.. group.Loads.Select(load => load.Run).Distinct()]);
            CountEvent said = one.IsLoss ? new LossReported { Group = one.Group, At = one.Point, Expected = one.Expected, Counted = one.Counted }
                : new CountDiffers { Group = one.Group, At = one.Point, Expected = one.Expected, Counted = one.Counted };
            growing.AddConsequence(
                said with { SeenAt = one.Seen?.Point, SeenBy = one.Seen?.Step.By, SeenOn = one.Seen?.Step.At, SeenBench = one.Seen?.Step.Bench, Candidates = near },
                cause, at: cause.Received, about: one.Step.Entry);
        }
    }

    /// <summary>
    /// Parts that must never be washed have been: where the report of their cage does not wait for a manager, and none has settled it, they
    /// are asked, whether the wash became known or what the parts are.
    /// </summary>
    private static void AskAboutWhatIsNeverWashed(GrowingJob growing, Entry cause)
    {
        foreach (var group in growing.Job.Groups.Groups.Where(group => group.WashedAgainstTheRule).ToImmutableArray())
        {
            var washed = group.Loads.Last(load => load.State == WashState.Washed);
            var result = washed.Result!.Entry;
            var told = growing.Reckoning.Find(result)?.CausedBy ?? result;
            var text = $"{group.Id} is never washed, and was in {washed.Cage}, run {washed.Run}";
            if (growing.Job.Reviews.All(review => review.Id != told) && growing.Reckoning.SettledBy(told) is null && growing.Job.Holds.All.All(hold => hold.Reason != HoldReason.Query || hold.Text != text))
            {
                growing.AddConsequence(new HoldPlaced { Hold = HoldReason.Query, Reason = text }, cause, at: cause.Received, about: result);
            }
        }
    }

    // Where another watch is concerned it is named, so that whoever looks has both before them.
    private static string Beside(Job job, ImmutableArray<Objection> against) =>
        against.Select(one => one.Names.GetValueOrDefault("other")).FirstOrDefault(other => other is not null && other != job.Label.ToString()) is { } named ? $", beside {named}" : "";

    /// <summary>
    /// Where the shop keeps its money here, settlement follows the balance as long as the watch is here: done once what is owed is final and
    /// paid, or on account; open again when something is asked, paid back, corrected or no longer on account. Work that is done again leaves it alone.
    /// </summary>
    private static void SettleByTheBalance(GrowingJob growing, Entry entry, Entry cause, Facts facts)
    {
        var job = growing.Job;
        if (facts.Rules.Money.Kept != MoneyKept.Here || job.Standings.HandedOver || job.Standings.InPlan(Stage.Settlement) is null
            || entry.Event is not (PaymentRecorded or PaymentCorrected or AccountChanged or QuoteAnswered or VariantChanged or FinalControlPassed))
        {
            return;
        }

        var (account, done) = (Account.Of(job), job.Standings.Of(Stage.Settlement).State == StageState.Done);
        if (!done && account.IsSettled && (account.OnAccount || Account.IsFinal(job)))
        {
            growing.AddConsequence(new StageFinished { Stage = Stage.Settlement }, cause);
        }
        else if (done && !account.IsSettled && (account.AskedMinor is not null || entry.Event is AccountChanged { OnAccount: false } or VariantChanged))
        {
            growing.AddConsequence(new StageSentBack { Stage = Stage.Settlement, To = Stage.Settlement, Reason = "something is owed again" }, cause);
        }
    }

    /// <summary>The date is said once day 0 is known; until then the customer hears what it waits for.</summary>
    private static void GiveThePromise(GrowingJob growing, Entry cause, Facts facts)
    {
        if (PromiseStart.Owed(growing.Job) is not { } owed || PromiseStart.Of(growing.Job, owed.At, facts.Rules) is not { IsKnown: true, At: var from })
        {
            return;
        }

        var target = growing.Job.Route?.TargetWorkingDaysBefore ?? 0;
        Promise(
            growing,
            growing.Job.Promise is { Given: not null, On: { } on }
                ? PromiseArithmetic.Anew(on, from, owed.WorkingDays, target, facts.Rules.Calendar)
                : PromiseArithmetic.Given(from, owed.WorkingDays, target, facts.Rules.Calendar),
            cause, facts);
    }

    /// <summary>What the customer had agreed to is something else now: the work waits for their word, unless there is none to give.</summary>
    private static void AskAnew(GrowingJob growing, Job before, Entry cause)
    {
        var (asks, held) = (growing.Job.Route?.Has(Stage.Quote) == true, growing.Job.Holds.Holds(HoldReason.Approval));
        if (asks && !held && before.Quotes.AnyAccepted)
        {
            growing.AddConsequence(new HoldPlaced { Hold = HoldReason.Approval, Reason = "another kind of work waits for an answer" }, cause);
        }
        else if (!asks && held)
        {
            growing.AddConsequence(new HoldLifted { Hold = HoldReason.Approval, Reason = "this kind of work is done without a quote" }, cause);
        }
    }

    private static void MoveThePromise(GrowingJob growing, Entry cause, Facts facts)
    {
        // A date that is to be said anew is not moved before.
        if (growing.Job.Promise is not { Base: { } from, On: { } on } || PromiseStart.Owed(growing.Job) is not null)
        {
            return;
        }

        var moved = PromiseArithmetic.Moved(
            from, on, growing.Job.Route?.TargetWorkingDaysBefore ?? 0, [.. Stops(growing.Job)], facts.Rules.Calendar, ReasonOf([.. growing.Job.Holds.All.Where(hold => hold.StopsPromise)]));
        if (moved is not null)
        {
            Promise(growing, moved, cause, facts);
        }
    }

    // An answer told late may give the date anew and meet a stop that came after its moment: the second move follows from the first.
    private static void Promise(GrowingJob growing, WorkshopEvent promised, Entry cause, Facts facts) =>
        growing.AddConsequence(
            promised, cause, about: growing.LastOf(promised.Type, cause.Id), flag: PromiseArithmetic.IsBeyondCalendar(promised, facts.Rules.Calendar) ? EntryFlag.BeyondCalendar : null);

    private static PromiseReason ReasonOf(Hold[] stops) => stops.MaxBy(hold => hold.Until)?.Reason switch
    {
        HoldReason.Approval or HoldReason.Customer or HoldReason.Payment => PromiseReason.WaitedForYou,
        HoldReason.Parts => PromiseReason.Part,
        HoldReason.OutsideFirm => PromiseReason.OutsideFirm,
        HoldReason.Person => PromiseReason.Absence,
        _ => PromiseReason.Other,
    };
}
