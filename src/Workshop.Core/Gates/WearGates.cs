using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>The gates around the worn check. Common practice of the trade.</summary>
public static class WearGates
{
    public static IEnumerable<Objection> Start(Job job, Asking asking, WearCheckStarted started)
    {
        // A quartz watch is not wound.
        if (started.FullyWound != true && job.Route?.Quartz != true)
        {
            yield return GateTable.Objects("fully-wound", asking.Rules, Phrase.Of("Is it fully wound? Say so"), Phrase.Of("wind it by hand, then start"));
        }

        if (started.OffsetSeconds is null)
        {
            yield return GateTable.Objects("offset-noted", asking.Rules, Phrase.Of("Note the offset against the reference"), Phrase.Of("set it, read the offset, then start"));
        }

        if (job.WearChecks.Running is { } running)
        {
            yield return GateTable.Objects("one-check", asking.Rules, Phrase.Of("A check is already running"), Phrase.Of("read that one first"), names: [("since", running.StartedAt.ToString())]);
        }

        if (job.WearChecks.LastJudged is { Verdict: WearVerdict.Stopped, EndedAt: { } stoppedAt } && !(job.Standings.Of(Stage.Diagnosis) is { State: StageState.Done, Since: { } told } && told > stoppedAt) && !job.Stops.ExplainedSince(stoppedAt))
        {
            yield return GateTable.Objects("cause-written", asking.Rules, Phrase.Of("It stopped; no cause is written yet"), Phrase.Of("a diagnosis; a manager may waive it"), names: [("stoppedAt", stoppedAt.ToString())]);
        }

        var limit = job.Route?.Wear?.FailsBeforeTheManager ?? int.MaxValue;
        if (job.WearChecks.CountedFails >= limit)
        {
            yield return GateTable.Objects("repeats-decided", asking.Rules, Phrase.Of("Failed {0} times; a manager decides", job.WearChecks.CountedFails), Phrase.Of("a manager"), names: [("fails", job.WearChecks.CountedFails.ToString())]);
        }
    }

    public static IEnumerable<Objection> Running(Job job, Asking asking)
    {
        if (job.WearChecks.Running is null)
        {
            yield return GateTable.Objects("check-running", asking.Rules, Phrase.Of("No worn check is running"), Phrase.Of("start one"));
        }
    }

    /// <summary>After a fail far outside the window the index is not the cure.</summary>
    public static IEnumerable<Objection> NoRegulationOverAFault(Job job, Asking asking)
    {
        if (job.WearChecks.FaultSuspected)
        {
            yield return GateTable.Objects("no-regulation-over-a-fault", asking.Rules, Phrase.Of("Far outside: look for the fault first"), Phrase.Of("inspection or rebuild"));
        }
    }
}
