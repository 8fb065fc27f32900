using System.Collections.Immutable;
using Workshop.Core.Corrections;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>
/// A stage that is done has everything it rests on, or somebody has let it through without. Walked anew over the table of stages,
/// for the job as it was after every entry: no order of arrival may leave a result standing on what has fallen.
/// </summary>
internal sealed class NoResultStandsWithoutItsGround : IChecker
{
    public IEnumerable<string> FaultsIn(Evidence evidence) => evidence.Jobs.SelectMany(job => FaultsOf(job.Label, job.Entries));

    private static IEnumerable<string> FaultsOf(Label label, ImmutableArray<Entry> entries)
    {
        // As it counts now: void or not, settled reports with the gates they were let through.
        var inOrder = Reckoning.InOrder(entries);
        var byId = inOrder.ToDictionary(entry => entry.Id);
        var job = new Job { Label = label };
        foreach (var entry in inOrder)
        {
            job = job.Apply(entry);
            foreach (var fault in FaultsOf(job, byId))
            {
                yield return $"{label}, after {entry.Event.Type} ({entry.Id}): {fault}";
            }
        }
    }

    /// <summary>What is done in a job although its ground is not.</summary>
    internal static IEnumerable<string> FaultsOf(Job job, IReadOnlyDictionary<EventId, Entry> entries)
    {
        var standings = job.Standings;
        if (standings.Route is not { } route || standings.ReturnsUnrepaired)
        {
            yield break;
        }

        foreach (var (stage, standing) in standings.Touched)
        {
            if (standing.State != StageState.Done || standings.InPlan(stage) is null)
            {
                continue;
            }

            var required = route.Stages.Where(one => !one.Optional).Select(one => one.Stage).ToArray();
            var ground = StageTable.Of(stage).RestsOnAllBefore ? required.TakeWhile(one => one != stage) : StageTable.Of(stage).RestsOn.Where(route.Has);
            foreach (var one in ground.Where(one => !standings.Stands(one)))
            {
                var letThrough = LetThrough(stage, entries[standing.By!.Value], entries.Values);
                if (!letThrough.Contains($"needs/{Word.Of(one)}"))
                {
                    yield return $"{Word.Of(stage)} is done, {Word.Of(one)} is not.";
                }
            }
        }
    }

    // Whoever let a worn check start has let its result through.
    private static IEnumerable<string> LetThrough(Stage stage, Entry result, IEnumerable<Entry> entries) => stage == Stage.WearCheck
        ? [.. result.Judged.Passing, .. entries.Where(entry => entry is { Event: WearCheckStarted, Fate: Fate.AsWritten } && entry.Effective <= result.Effective).SelectMany(entry => entry.Judged.Passing)]
        : result.Judged.Passing;
}
