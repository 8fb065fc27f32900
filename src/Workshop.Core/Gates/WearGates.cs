using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.WearChecks;

namespace Workshop.Core.Gates;

/// <summary>The gates around the worn check. Common practice of the trade.</summary>
public static class WearGates
{
    public static IEnumerable<Objection> Start(Job job, Asking asking, WearCheckStarted started)
    {
        if (started.FullyWound != true)
        {
            yield return GateTable.Objects("fully-wound", asking.Rules, "Is it fully wound? Say so", "wind it by hand, then start");
        }

        if (started.OffsetSeconds is null)
        {
            yield return GateTable.Objects("offset-noted", asking.Rules, "Note the offset against the reference", "set it, read the offset, then start");
        }

        if (job.WearChecks.Running is { } running)
        {
            yield return GateTable.Objects("one-check", asking.Rules, "A check is already running", "read that one first", names: [("since", running.StartedAt.ToString())]);
        }

        if (job.WearChecks.LastJudged is { Verdict: WearVerdict.Stopped, EndedAt: { } stoppedAt } && !(job.Standings.Of(Stage.Diagnosis) is { State: StageState.Done, Since: { } told } && told > stoppedAt))
        {
            yield return GateTable.Objects("cause-written", asking.Rules, "It stopped; no cause is written yet", "a diagnosis; a manager may waive it", names: [("stoppedAt", stoppedAt.ToString())]);
        }

        var limit = job.Route?.Wear?.FailsBeforeTheManager ?? int.MaxValue;
        if (job.WearChecks.CountedFails >= limit)
        {
            yield return GateTable.Objects("repeats-decided", asking.Rules, $"Failed {job.WearChecks.CountedFails} times; a manager decides", "a manager", names: [("fails", job.WearChecks.CountedFails.ToString())]);
        }
    }

    public static IEnumerable<Objection> Running(Job job, Asking asking)
    {
        if (job.WearChecks.Running is null)
        {
            yield return GateTable.Objects("check-running", asking.Rules, "No worn check is running", "start one");
        }
    }

    /// <summary>After a fail far outside the window the index is not the cure.</summary>
    public static IEnumerable<Objection> NoRegulationOverAFault(Job job, Asking asking)
    {
        if (job.WearChecks.FaultSuspected)
        {
            yield return GateTable.Objects("no-regulation-over-a-fault", asking.Rules, "Far outside: look for the fault first", "inspection or rebuild");
        }
    }
}
