using Workshop.Core.Gates;
using Workshop.Core.Journal;
using Workshop.Core.Reports;
using Workshop.Core.Shop;

namespace Workshop.Core.Jobs;

/// <summary>
/// Reports look again by themselves: when a late entry has changed what came before them, those that were noted are judged again at their
/// own places, in order, and one that passes now counts. So two benches that come back in the wrong order end where the right order ends.
/// </summary>
internal static class SecondLooks
{
    /// <param name="cause">The entry that was accepted at a place before others.</param>
    public static void Take(GrowingJob growing, Entry cause, Facts facts)
    {
        while (!growing.Job.Reviews.IsEmpty && growing.Entries.FirstOrDefault(report => Waits(growing.Job, report) && Passes(growing, report, facts.Rules)) is { } report)
        {
            var before = growing.Job;
            growing.AddConsequence(
                new ReportSettled { Of = report.Id, As = SettledAs.Happened, Reason = "what it rested on was reported since" }, cause, at: cause.Received, about: report.Id);
            Consequences.Follow(growing, before, report with { Disposition = Disposition.Applied }, [], facts);
        }
    }

    /// <summary>
    /// Whether a later applied entry would no longer be allowed: its job gates are asked with and without the new one, two folds side by
    /// side. Gates about facts are never asked again.
    /// </summary>
    public static bool TakesAwayFromLater(GrowingJob growing, Job before, Entry entry, ShopRules rules)
    {
        if (growing.IsInOrder(entry.Place))
        {
            return false;
        }

        var without = before;
        var with = before.Apply(entry);
        foreach (var later in growing.Entries.Where(one => one.Place.CompareTo(entry.Place) > 0))
        {
            if (later.Counts && !BadNews.IsMeasurement(later.Event) && Passes(without, later, rules) && !Passes(with, later, rules))
            {
                return true;
            }

            without = without.Apply(later);
            with = with.Apply(later);
        }

        return false;
    }

    private static bool Waits(Job job, Entry report) => report.Disposition == Disposition.Noted && job.Reviews.Any(review => review.Id == report.Id);

    private static bool Passes(GrowingJob growing, Entry report, ShopRules rules)
    {
        if (report.Judged.Failed.Any(gate => GateTable.Of(gate).Kind == GateKind.Fact))
        {
            return false;
        }

        var before = growing.JobBefore(report.Place);
        return Passes(before, report, rules) && !TakesAwayFromLater(growing, before, report with { Disposition = Disposition.Applied }, rules);
    }

    private static bool Passes(Job job, Entry entry, ShopRules rules) =>
        JobGates.Ask(job, Asking.Again(entry, rules)).All(one => one.Strength == Strength.Note || entry.Judged.Passing.Contains(one.Gate));
}
