using Workshop.Core.Corrections;
using Workshop.Core.Gates;
using Workshop.Core.Journal;
using Workshop.Core.Reports;

namespace Workshop.Core.Jobs;

/// <summary>
/// Reports look again by themselves: when something was accepted that may change what came before them, those that were noted are judged
/// again at their own places, in order, by the rules they were first judged by, and one that passes now counts. So two benches that come
/// back in the wrong order end where the right order ends, and one settled report releases those that waited behind it.
/// </summary>
internal static class SecondLooks
{
    /// <param name="cause">What was accepted: a late entry, a correction, a settlement, a waiver, a mended badge.</param>
    public static void Take(GrowingJob growing, Entry cause, Facts facts)
    {
        while (!growing.Job.Reviews.IsEmpty && FirstThatPasses(growing, cause, facts) is { } released)
        {
            var before = growing.Job;
            var settlement = growing.AddConsequence(Happened(released.Report), cause, at: cause.Received, about: released.Report.Id, judged: released.Judged);
            Consequences.Follow(
                growing, before, released.Report with { Disposition = Disposition.Applied }, [], facts, because: settlement with { Place = released.Report.Place });
        }
    }

    private static (Entry Report, Judged Judged)? FirstThatPasses(GrowingJob growing, Entry cause, Facts facts)
    {
        foreach (var report in growing.Entries.Where(entry => entry.Disposition == Disposition.Noted && growing.Job.Reviews.Any(review => review.Id == entry.Id)))
        {
            if (LookAgain(growing, report, cause, facts) is { } judged)
            {
                return (report, judged);
            }
        }

        return null;
    }

    /// <summary>What is frozen in the settlement of a report that passes now, with the waivers that let it through; null where it still fails.</summary>
    private static Judged? LookAgain(GrowingJob growing, Entry report, Entry cause, Facts facts)
    {
        // What the turn knew and the job does not say cannot be asked again.
        if (report.Judged.Failed.Any(gate => GateTable.Of(gate).Kind == GateKind.Fact) || NamesWhatIsVoid(growing.Reckoning, report))
        {
            return null;
        }

        var rules = facts.RulesOf(report.RulesVersion);
        var settlement = growing.Consequence(Happened(report), cause.Id, cause.Place, cause.Received, cause.RulesVersion, growing.Job.Label, growing.Job.Version + 1, cause.Received);
        var before = growing.JobBefore(report.Place, growing.EntriesWith(settlement));
        var against = JobGates.Ask(before, Asking.Again(report, rules)).Where(one => one.Strength != Strength.Note && !report.Judged.Passing.Contains(one.Gate)).ToArray();
        var waivers = against.Select(one => one.Waivable ? before.Waivers.For(one.Gate, report.Effective) : null).ToArray();
        return waivers.Any(waiver => waiver is null) || !SideBySide.Harmed(growing, settlement, rules).IsEmpty ? null
            : new Judged { Passing = [.. against.Select(one => one.Gate)], WaiversUsed = [.. waivers.Select(waiver => waiver!.Id).Distinct()] };
    }

    private static bool NamesWhatIsVoid(Reckoning reckoning, Entry report) => report.Event switch
    {
        CorrectionMade made => reckoning.IsVoid(made.Of),
        _ => report.Judged.InsteadOf is { } replaced && reckoning.IsVoid(replaced.Entry),
    };

    private static ReportSettled Happened(Entry report) => new() { Of = report.Id, As = SettledAs.Happened, Reason = "what it rested on was reported since" };
}
