using System.Collections.Immutable;
using System.Data.Common;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Cleaning;
using Workshop.Core.Jobs;
using Workshop.Core.Shop;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Cleaning;

/// <summary>One run, cage by cage.</summary>
public static class ReadRun
{
    public static async Task<Results<Done<RunView>, ProblemHttpResult>> Handle(string run, Caller caller, Reader reader, CancellationToken cancel) =>
        await reader.Read(connection => Find(connection, caller.Site, run), cancel) is { } view ? Answer.Done(view) : Problems.Of(ProblemCatalogue.NoSuchThing, "Nobody has told of this run.");

    private static RunView? Find(DbConnection connection, string site, string id)
    {
        var run = RunStore.Read(connection, site, id);
        return run.Version == 0 ? null : Shown(run, ShopRulesReader.Read(connection, site), job => Job.Replay(job, Reader.Entries(connection, site, job)));
    }

    internal static RunView Shown(Run run, ShopRules rules, Func<Core.Labels.Label, Job> jobOf) => new()
    {
        Run = run.Id,
        State = run.State,
        Machine = run.Machine,
        Programme = run.Programme,
        PlannedAt = run.PlannedAt,
        StartedAt = run.Started?.Effective,
        StartedBy = run.StartedBy,
        EndedAt = run.EndedAt,
        EndedBy = run.State switch { RunState.Finished => run.FinishedBy, RunState.Aborted => run.AbortedBy, _ => null },
        AbortReason = run.AbortReason,
        CountsAs = run.Started is null ? null : run.Terms.CountsAs,
        Batches = run.Terms.Batches,
        Overridden = run.Terms.Overridden,
        Cages = [.. run.Cages.OrderBy(cage => cage.LoadedAt).Select(cage => Shown(cage, jobOf(cage.Job).Groups.Find(cage.Group)?.Flags ?? [], rules.Cleaning))],
    };

    private static RunCageView Shown(RunCage cage, ImmutableArray<string> flags, CleaningRules rules)
    {
        var parts = rules.FlagsThatDecide(flags).Select(flag => rules.Parts.GetValueOrDefault(flag)).OfType<PartsDemand>().ToArray();
        return new RunCageView(
            cage.Job, cage.Group, cage.Cage, cage.LoadedAt.Effective, cage.LoadedBy, cage.Count, cage.EmptiedAt, cage.EmptiedBy, cage.CountOut, cage.Doubted,
            [.. parts.SelectMany(one => one.Before).Distinct()], [.. parts.SelectMany(one => one.After).Distinct()]);
    }
}
