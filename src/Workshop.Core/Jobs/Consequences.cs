using System.Collections.Immutable;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;

namespace Workshop.Core.Jobs;

/// <summary>
/// What follows from an entry in the same turn, each as an entry of its own. Their ids are made from the cause, so writing one twice is
/// impossible.
/// </summary>
internal static class Consequences
{
    public static void Follow(GrowingJob growing, Job before, Entry entry, ImmutableArray<Objection> against, Facts facts)
    {
        // A report that breaks a gate of strength stop is kept, and the job waits for a manager; the hold counts from receipt.
        if (entry.Disposition == Disposition.Noted && against.Any(one => one.Strength == Strength.Stop))
        {
            growing.AddConsequence(
                new HoldPlaced { Hold = HoldReason.Query, Reason = $"{entry.Event.Type} was reported late against {against[0].Gate}" }, entry, at: entry.Received);
        }

        if (!entry.Counts)
        {
            return;
        }

        switch (entry.Event)
        {
            case QuoteSent when growing.Job.Quotes.AnyAccepted && !growing.Job.Holds.Holds(HoldReason.Approval):
                growing.AddConsequence(new HoldPlaced { Hold = HoldReason.Approval, Reason = "a new version of the quote waits for an answer" }, entry);
                break;
            case QuoteAnswered answered:
                if (growing.Job.Holds.Holds(HoldReason.Approval))
                {
                    growing.AddConsequence(new HoldLifted { Hold = HoldReason.Approval, Reason = "answered" }, entry);
                }

                GiveThePromise(growing, entry, answered, facts);
                break;
        }

        if (!before.Holds.All.SequenceEqual(growing.Job.Holds.All))
        {
            MoveThePromise(growing, entry, facts);
        }
    }

    private static void GiveThePromise(GrowingJob growing, Entry entry, QuoteAnswered answered, Facts facts)
    {
        if (answered.Accepted && growing.Job.Promise.Given is null && growing.Job.Quotes.Versions.FirstOrDefault(one => one.Version == answered.Version) is { } version)
        {
            growing.AddConsequence(
                PromiseArithmetic.Given(entry.Effective, version.WorkingDays, growing.Job.Route?.TargetWorkingDaysBefore ?? 0, facts.Rules.Calendar), entry);
        }
    }

    private static void MoveThePromise(GrowingJob growing, Entry entry, Facts facts)
    {
        if (growing.Job.Promise is not { Given: { } given, On: { } on })
        {
            return;
        }

        var stops = growing.Job.Holds.All.Where(hold => hold.StopsPromise).ToArray();
        var moved = PromiseArithmetic.Moved(
            given, on, growing.Job.Route?.TargetWorkingDaysBefore ?? 0, [.. stops.Select(hold => new StopInterval(hold.From, hold.Until))], facts.Rules.Calendar, ReasonOf(stops));
        if (moved is not null)
        {
            growing.AddConsequence(moved, entry);
        }
    }

    private static PromiseReason ReasonOf(Hold[] stops) => stops.MaxBy(hold => hold.Until)?.Reason switch
    {
        HoldReason.Approval or HoldReason.Customer or HoldReason.Payment => PromiseReason.WaitedForYou,
        HoldReason.Parts => PromiseReason.Part,
        HoldReason.OutsideFirm => PromiseReason.OutsideFirm,
        HoldReason.Person => PromiseReason.Absence,
        _ => PromiseReason.Other,
    };
}
