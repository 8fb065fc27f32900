using System.Collections.Immutable;
using Workshop.Core.Groups;
using Workshop.Core.Labels;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>Other watches that are open at a bench or were in one of these runs: where a part that is missing here may have got to.</summary>
internal static class NearByJobs
{
    /// <summary>As many as anybody will look through.</summary>
    private const int AtMost = 20;

    private const string AtBenchSql = """
        select distinct job
        from holding
        where site = @site
          and holder = @holder
          and until_at is null
          and job <> @job
        order by job
        limit @limit
        """;

    /// <param name="bench">Where the parts were counted; null where nobody said.</param>
    /// <param name="runs">Runs that some of them were in.</param>
    public static ImmutableArray<MixUpCandidate> Of(Turn turn, Label job, string? bench, ImmutableArray<string> runs)
    {
        var atBench = bench is null ? []
            : turn.Query<string>(AtBenchSql, new { site = turn.Site, holder = $"benches/{bench}", job = job.ToString(), limit = AtMost })
                .Select(other => new MixUpCandidate(other, NearBy.SameBench, bench));
        var inRuns = runs.SelectMany(run => RunTable.Read(turn, run).Cages.Where(cage => cage.Job != job).Select(cage => cage.Job.ToString()).Distinct().Order(StringComparer.Ordinal)
            .Select(other => new MixUpCandidate(other, NearBy.SameRun, run)));
        return [.. atBench.Concat(inRuns).Distinct().Take(AtMost)];
    }
}
