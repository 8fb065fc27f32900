using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Disputes;
using Workshop.Core.Labels;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Disputes;

/// <summary>Every dispute of a job, the first one first.</summary>
public sealed record DisputesView(Label Job, ImmutableArray<DisputeView> Items);

public static class ReadDisputes
{
    public static async Task<Results<Seen<DisputesView>, ProblemHttpResult>> All(string label, Caller caller, LanguageAsked language, JobStore store, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, job, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        var items = ImmutableArray.CreateBuilder<DisputeView>();
        foreach (var one in read.Job.Disputes.All)
        {
            items.Add(await View(read, one, caller, language.Best, store, cancel));
        }

        return Answer.Seen(read.Job.Version, new DisputesView(job, items.ToImmutable()));
    }

    public static async Task<Results<Seen<DisputeView>, ProblemHttpResult>> One(string label, int dispute, Caller caller, LanguageAsked language, JobStore store, CancellationToken cancel) =>
        !PathLabel.TryReadJob(label, out var job, out var refusal) ? refusal
        : await store.Find(caller.Site, job, cancel) is not { } read ? PathLabel.NoJob()
        : read.Job.Disputes.Find(dispute) is { } found ? Answer.Seen(read.Job.Version, await View(read, found, caller, language.Best, store, cancel))
        : NoDispute();

    internal static ProblemHttpResult NoDispute() => Problems.Of(ProblemCatalogue.NoSuchThing, "The job has no dispute with this number.");

    private static async Task<DisputeView> View(JobReading read, Dispute one, Caller caller, Language language, JobStore store, CancellationToken cancel)
    {
        var claim = read.Job.Warranty.Claims.FirstOrDefault(claim => claim.Number == one.Claim);
        var back = claim?.Job is { } other ? await store.Find(caller.Site, other, cancel) : null;
        return DisputeView.Of(read.Job, read.Entries, one, ClaimEvidence.Of(read.Job, read.Entries, claim, back?.Entries), caller, language);
    }
}
