using Dapper;
using Workshop.Core.Cleaning;
using Workshop.Core.Corrections;
using Workshop.Core.Groups;
using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>
/// A run that has ended has said so in every job that was in it, once for each cage and of nothing that was not; one that was aborted has
/// left nothing washed that nobody has said to be unknown.
/// </summary>
internal sealed class WhatARunDidIsInEveryJob : IChecker
{
    private const string RunsSql = """
        select distinct stream
        from journal
        where site = @site
          and stream like 'run/%'
        order by stream
        """;

    public IEnumerable<string> FaultsIn(Evidence evidence)
    {
        var runs = evidence.Data.Query<string>(RunsSql, new { site = House.Site })
            .Select(stream => Run.Replay(stream["run/".Length..], Reader.Entries(evidence.Data, House.Site, stream)))
            .ToDictionary(run => run.Id);
        var counted = evidence.Jobs.SelectMany(job => Reckoning.InOrder(job.Entries).Where(entry => entry.Counts).Select(entry => (job.Label, Entry: entry))).ToArray();
        var washed = counted.Where(one => one.Entry.Event is GroupWashed).ToLookup(one => one.Entry.CausedBy!.Value);
        var unknown = counted.Where(one => one.Entry.Event is GroupUnknown).ToLookup(one => one.Entry.CausedBy!.Value);
        foreach (var run in runs.Values.Where(run => run.EndedAt is not null))
        {
            foreach (var cage in run.Contents)
            {
                var said = (run.State == RunState.Finished ? washed : unknown)[cage.Load].ToArray();
                if (said is not [{ } one] || one.Label != cage.Job)
                {
                    yield return $"Run {run.Id} is {run.State}; {cage.Job} was told of {cage.Group} in {cage.Cage} {said.Length} times.";
                }
            }
        }

        foreach (var (label, entry) in washed.SelectMany(one => one))
        {
            var run = runs.GetValueOrDefault(((GroupWashed)entry.Event).Run);
            if (run?.Finished is null || (run.Cages.All(cage => cage.Load != entry.CausedBy) && run.State == RunState.Finished))
            {
                yield return $"{label}: {entry.Event} came of no run that was finished with it.";
            }
        }
    }
}
