using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Agenda;
using Workshop.Core.Labels;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>Something that falls due in a job.</summary>
/// <param name="Due">The physical moment; absent while a check is paused.</param>
/// <param name="Task">When somebody is there to do it: the next opening.</param>
public sealed record NextCheck(AgendaKind Kind, string Ref, Instant? Due, Instant? Task, bool Overdue, string Line);

/// <summary>What falls due in this job, the earliest first; what waits without a moment comes last.</summary>
public sealed record NextChecks(Label Job, ImmutableArray<NextCheck> Items);

public static class ReadNextChecks
{
    public static async Task<Results<Seen<NextChecks>, ProblemHttpResult>> Handle(
        string label, Caller caller, JobStore store, ShopRulesSource rules, IClock clock, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, name, cancel) is not { Job: var job })
        {
            return PathLabel.NoJob();
        }

        var now = clock.GetCurrentInstant();
        var rows = AgendaPlan.For(job, await rules.Read(caller.Site, cancel));
        return Answer.Seen(job.Version, new NextChecks(
            job.Label,
            [
                .. rows.OrderBy(row => row.Task ?? Instant.MaxValue).ThenBy(row => row.Kind).ThenBy(row => row.Ref, StringComparer.Ordinal)
                    .Select(row => new NextCheck(row.Kind, row.Ref, row.Due, row.Task, row.Task < now, row.Line)),
            ]));
    }
}
