using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Warranties;

/// <summary>One piece of evidence.</summary>
/// <param name="Id">A decision names it by this.</param>
/// <param name="Words">What it says, in the language asked for.</param>
/// <param name="Text">What a person wrote or the customer said, word for word.</param>
public sealed record EvidenceItem(string Id, EvidenceKind Kind, Instant At, string Words, string? Text)
{
    public static ImmutableArray<EvidenceItem> Of(IEnumerable<Evidence> side, Caller caller, Language language) =>
        [.. side.Select(one => new EvidenceItem(one.Id, one.Kind, one.At, one.Words.In(language), caller.MaySee(Sight.Names) ? one.Text : null))];
}

/// <summary>What is known about a claim, both sides side by side.</summary>
/// <param name="Back">The job under which the watch came back; absent while it has not.</param>
/// <param name="Ours">How the watch left the house, the oldest first.</param>
/// <param name="Theirs">What the customer told and showed, and how the watch came back.</param>
public sealed record EvidenceView(Label Job, int Claim, Label? Back, ImmutableArray<EvidenceItem> Ours, ImmutableArray<EvidenceItem> Theirs);

/// <summary>The evidence about a claim, laid side by side for whoever decides.</summary>
public static class ReadEvidence
{
    public static async Task<Results<Seen<EvidenceView>, ProblemHttpResult>> Handle(
        string label, int claim, Caller caller, LanguageAsked language, HttpResponse response, JobStore store, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (await store.Find(caller.Site, job, cancel) is not { } read)
        {
            return PathLabel.NoJob();
        }

        if (read.Job.Warranty.Claims.FirstOrDefault(one => one.Number == claim) is not { } told)
        {
            return ReadClaims.NoClaim();
        }

        var back = told.Job is { } other ? await store.Find(caller.Site, other, cancel) : null;
        var evidence = ClaimEvidence.Of(read.Job, read.Entries, told, back?.Entries);
        response.Headers.ContentLanguage = LanguageAsked.Tag(language.Best);

        // It grows with either job.
        return Answer.Seen(
            read.Job.Version + (back?.Job.Version ?? 0),
            new EvidenceView(job, claim, told.Job, EvidenceItem.Of(evidence.Ours, caller, language.Best), EvidenceItem.Of(evidence.Theirs, caller, language.Best)));
    }
}
