using Workshop.Core.Jobs;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>
/// The gates around the verdict on rate sets. A shop that tells rates without the wind state has no verdict and meets none of them; a set
/// that lacks a position is noted when regulation is finished, and stops whoever would sign for it.
/// </summary>
public static class RateGates
{
    /// <summary>What the newest sets of this adjustment say when regulation is finished.</summary>
    public static IEnumerable<Objection> Finish(Job job, Asking asking)
    {
        var verdicts = Newest(job, asking).ToArray();
        if (verdicts.FirstOrDefault(one => one.Outcome == RateOutcome.Outside) is { } outside)
        {
            var worst = outside.Failing.First();
            yield return GateTable.Objects(
                "tolerance-met", asking.Rules, VerdictWords.Failing(worst), Phrase.Of("regulate again; a manager may sign an exception"),
                names: [("criterion", Word.Of(worst.Kind)), ("tolerance", outside.Tolerance.Kind)]);
        }
        else if (verdicts.FirstOrDefault(one => one.Outcome == RateOutcome.Incomplete) is { } incomplete)
        {
            // The amplitude of a first look is often read in two positions alone: told, never stopped.
            yield return GateTable.Objects(
                "tolerance-met", asking.Rules, VerdictWords.Incomplete(incomplete), Phrase.Of("measure the positions that are missing"), Strength.Note,
                ("tolerance", incomplete.Tolerance.Kind));
        }
    }

    /// <summary>Signed is what somebody has seen: a figure that fails, over all positions.</summary>
    public static IEnumerable<Objection> Sign(Job job, Asking asking, ToleranceExcepted excepted)
    {
        var judged = Newest(job, asking).Where(one => one.Criteria.Any(criterion => criterion.Kind == excepted.Criterion)).ToArray();
        if (judged.FirstOrDefault(one => one.Outcome == RateOutcome.Incomplete) is { } incomplete)
        {
            yield return GateTable.Objects(
                "positions-complete", asking.Rules, VerdictWords.Incomplete(incomplete), Phrase.Of("measure the positions that are missing"),
                names: [("tolerance", incomplete.Tolerance.Kind), ("missing", string.Join(", ", incomplete.MissingPositions.Select(Word.Of)))]);
        }
        else if (!judged.Any(one => one.Criteria.Any(criterion => criterion.Kind == excepted.Criterion && criterion.Outcome == CriterionOutcome.Fails)))
        {
            yield return GateTable.Objects(
                "criterion-fails", asking.Rules, Phrase.Of("No set fails it: nothing to sign"), Phrase.Of("measure first; sign what you see"),
                names: [("criterion", Word.Of(excepted.Criterion))]);
        }
    }

    // One of each kind: at full wind, a day later, and the same with the chronograph running.
    private static IEnumerable<RateVerdict> Newest(Job job, Asking asking)
    {
        var record = job.Timekeeping;
        var tolerance = asking.Rules.ToleranceOf(job.Route);
        return record.RateSets.Reverse().Where(set => set.Adjustment == record.Adjustment)
            .Select(set => RateVerdict.Of(set, record, tolerance, asking.Rules.Timekeeping.Plausibility)).OfType<RateVerdict>()
            .DistinctBy(one => (one.Wind, one.Running));
    }
}
