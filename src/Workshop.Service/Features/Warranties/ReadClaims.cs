using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Labels;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Warranties;

/// <summary>Every claim of a job, the first one first.</summary>
public sealed record ClaimsView(Label Job, ImmutableArray<ClaimView> Items);

public static class ReadClaims
{
    public static async Task<Results<Seen<ClaimsView>, ProblemHttpResult>> All(string label, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource rules, CancellationToken cancel) =>
        !PathLabel.TryReadJob(label, out var job, out var refusal) ? refusal
        : await store.Find(caller.Site, job, cancel) is { } read && (await rules.Read(caller.Site, cancel)).Calendar is var calendar
            ? Answer.Seen(read.Job.Version, new ClaimsView(job, [.. read.Job.Warranty.Claims.Select(claim => ClaimView.Of(read.Job, read.Entries, claim, calendar, caller, language.Best))]))
        : PathLabel.NoJob();

    public static async Task<Results<Seen<ClaimView>, ProblemHttpResult>> One(string label, int claim, Caller caller, LanguageAsked language, JobStore store, ShopRulesSource rules, CancellationToken cancel) =>
        !PathLabel.TryReadJob(label, out var job, out var refusal) ? refusal
        : await store.Find(caller.Site, job, cancel) is not { } read ? PathLabel.NoJob()
        : read.Job.Warranty.Claims.FirstOrDefault(one => one.Number == claim) is { } found
            ? Answer.Seen(read.Job.Version, ClaimView.Of(read.Job, read.Entries, found, (await rules.Read(caller.Site, cancel)).Calendar, caller, language.Best))
        : NoClaim();

    internal static ProblemHttpResult NoClaim() => Problems.Of(ProblemCatalogue.NoSuchThing, "The job has no claim with this number.");
}
