using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Money;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.People;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Money;

public sealed record AccountBody
{
    public required bool OnAccount { get; init; }

    [StringLength(500, MinimumLength = 1)]
    public required string Reason { get; init; }

    /// <summary>The badge of whoever says so.</summary>
    [StringLength(60)]
    public string? Person { get; init; }

    /// <summary>The short number of that person, where somebody of the house has one and this is no manager's device. It is not kept.</summary>
    [RegularExpression("[0-9]{4,8}")]
    public string? Proof { get; init; }
}

/// <summary>A customer who pays at the end of the month takes the watch along; or no longer.</summary>
public static class ChangeAccount
{
    public static async Task<Results<Seen<AccountView>, ProblemHttpResult>> Handle(
        string label, JsonBody<AccountBody> body, Caller caller, Writer writer, DeskProof proofs, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return refusal;
        }

        if (string.IsNullOrWhiteSpace(body.Value.Reason))
        {
            return Problems.BadFields(new Fault("/reason", "Why is missing; somebody will ask."));
        }

        var told = await proofs.Compare(caller, body.Value.Person, body.Value.Proof, cancel);
        return await writer.Turn(caller.Site, turn => Change(turn, job, body.Value, told, caller), cancel);
    }

    private static Results<Seen<AccountView>, ProblemHttpResult> Change(Turn turn, Label label, AccountBody body, ToldProof? told, Caller caller)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        if (history.Job.Money.OnAccount == body.OnAccount)
        {
            return Answer.Seen(history.Job.Version, AccountView.Of(history.Job, history.Entries, turn.Rules));
        }

        var decision = DeskCommand.Say(
            turn, history, caller, new AccountChanged { OnAccount = body.OnAccount, Reason = body.Reason }, body.Person, proof: id => DeskProof.Settle(turn, told, body.Proof, id));
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Seen(decision.Job.Version, AccountView.Of(decision.Job, turn.History(label)!.Entries, turn.Rules));
    }
}
