using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Disputes;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.Warranties;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Disputes;

public sealed record DisputeBody
{
    /// <summary>The customer's own words.</summary>
    [StringLength(4_000, MinimumLength = 1)]
    public required string Text { get; init; }

    /// <summary>The claim it is about, where it is about one.</summary>
    public int? Claim { get; init; }

    /// <summary>What the customer showed: photos that the house keeps, by their hashes.</summary>
    [Length(0, 20)]
    public ImmutableArray<string>? Photos { get; init; }

    /// <summary>The badge of whoever heard it.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>A customer disputes something. The watch stays where it is, also one that is back for the claim in dispute, until a manager has settled it.</summary>
public static class OpenDispute
{
    public static async Task<Once<Results<Made<DisputeView>, ProblemHttpResult>>> Handle(string label, JsonBody<DisputeBody> body, Once once, Caller caller, LanguageAsked language, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Open(turn, job, body.Value, caller, language.Best))
            : new Once<Results<Made<DisputeView>, ProblemHttpResult>>(refusal);

    private static Results<Made<DisputeView>, ProblemHttpResult> Open(Turn turn, Label label, DisputeBody body, Caller caller, Language language)
    {
        if (turn.History(label) is not { Job.TakenIn: true } history)
        {
            return PathLabel.NoJob();
        }

        var claim = history.Job.Warranty.Claims.FirstOrDefault(one => one.Number == body.Claim);
        if (Faults(body, claim).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var number = history.Job.Disputes.All.Select(one => one.Number).DefaultIfEmpty().Max() + 1;
        var opened = new DisputeOpened { Dispute = number, Claim = body.Claim, Text = body.Text, Photos = body.Photos is { Length: > 0 } photos ? photos : null };
        var decision = DeskCommand.Say(turn, history, caller, opened, body.Person);
        if (decision.Outcome == Core.Jobs.Outcome.Refused)
        {
            return TypedResults.Problem(DeskCommand.Refusal(decision));
        }

        if (claim?.Job is { } back && turn.History(back) is { Job: { Standings.HandedOver: false } here } watch && !here.Holds.Holds(HoldReason.Dispute))
        {
            DeskCommand.Say(turn, watch, caller, new HoldPlaced { Hold = HoldReason.Dispute, Reason = $"dispute {number} of {label}" }, body.Person);
        }

        var after = turn.History(label)!;
        return Answer.Made(
            $"/v1/jobs/{label}/disputes/{number}", after.Job.Version,
            DisputeView.Of(after.Job, after.Entries, after.Job.Disputes.Find(number)!, EvidenceInTurn.Of(turn, after, claim), caller, language));
    }

    private static IEnumerable<Fault> Faults(DisputeBody body, Core.Warranties.Claim? claim)
    {
        if (body.Claim is not null && claim is null)
        {
            yield return new Fault("/claim", "The job has no claim with this number");
        }

        if (string.IsNullOrWhiteSpace(body.Text))
        {
            yield return new Fault("/text", "A dispute has the customer's words");
        }

        foreach (var fault in PhotoHashes.Faults(body.Photos))
        {
            yield return fault;
        }
    }
}
