using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
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

public sealed record DisputeEndBody
{
    public required DisputeOutcome Outcome { get; init; }

    [StringLength(2_000, MinimumLength = 1)]
    public required string Reason { get; init; }

    /// <summary>The evidence it rests on, of both sides, by its ids.</summary>
    [Length(0, 50)]
    public ImmutableArray<string>? Because { get; init; }

    /// <summary>The day the customer was told; today where left out.</summary>
    public LocalDate? ToldOn { get; init; }

    /// <summary>The manager's badge.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>A manager has settled a dispute and told the customer; only then may the watch go on.</summary>
public static class CloseDispute
{
    public static async Task<Once<Results<Done<DisputeView>, ProblemHttpResult>>> Handle(
        string label, int dispute, JsonBody<DisputeEndBody> body, Once once, Caller caller, LanguageAsked language, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Close(turn, job, dispute, body.Value, caller, language.Best))
            : new Once<Results<Done<DisputeView>, ProblemHttpResult>>(refusal);

    private static Results<Done<DisputeView>, ProblemHttpResult> Close(Turn turn, Label label, int number, DisputeEndBody body, Caller caller, Language language)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        if (history.Job.Disputes.Find(number) is not { } dispute)
        {
            return ReadDisputes.NoDispute();
        }

        var claim = history.Job.Warranty.Claims.FirstOrDefault(one => one.Number == dispute.Claim);
        if (dispute.Outcome is { } outcome)
        {
            return outcome == body.Outcome
                ? Answer.Done(DisputeView.Of(history.Job, history.Entries, dispute, EvidenceInTurn.Of(turn, history, claim), caller, language))
                : Problems.Of(ProblemCatalogue.DisputeSettled, $"Dispute {number} ended otherwise.", ("job", label), ("dispute", number), ("outcome", outcome));
        }

        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var toldOn = body.ToldOn ?? today;
        if (Faults(turn, body, toldOn, today, dispute).Concat(EvidenceInTurn.Unknown(body.Because, () => EvidenceInTurn.Of(turn, history, claim))).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var closed = new DisputeClosed { Dispute = number, Outcome = body.Outcome, Reason = body.Reason, Because = body.Because is { Length: > 0 } because ? because : null, ToldOn = toldOn };
        var decision = DeskCommand.Say(turn, history, caller, closed, body.Person);
        if (decision.Outcome == Core.Jobs.Outcome.Refused)
        {
            return TypedResults.Problem(DeskCommand.Refusal(decision));
        }

        var after = turn.History(label)!;
        if (claim?.Job is { } back && after.Job.Disputes.All.All(one => !one.Stands || one.Claim != claim.Number)
            && turn.History(back) is { Job: { Disputes.Stand: false } here } watch && here.Holds.Holds(HoldReason.Dispute))
        {
            DeskCommand.Say(turn, watch, caller, new HoldLifted { Hold = HoldReason.Dispute, Reason = $"dispute {number} of {label} is settled" }, body.Person);
        }

        return Answer.Done(DisputeView.Of(after.Job, after.Entries, after.Job.Disputes.Find(number)!, EvidenceInTurn.Of(turn, after, claim), caller, language));
    }

    private static IEnumerable<Fault> Faults(Turn turn, DisputeEndBody body, LocalDate toldOn, LocalDate today, Dispute dispute)
    {
        if (string.IsNullOrWhiteSpace(body.Reason))
        {
            yield return new Fault("/reason", "A settlement has its reason");
        }

        if (toldOn > today || toldOn < turn.Rules.Calendar.DateOf(dispute.OpenedAt))
        {
            yield return new Fault("/toldOn", "The customer was told on a day from the dispute's to today");
        }
    }
}
