using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Money;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.People;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Money;

public sealed record PaymentCorrectionBody
{
    [StringLength(500, MinimumLength = 1)]
    public required string Reason { get; init; }

    /// <summary>The badge of whoever says so.</summary>
    [StringLength(60)]
    public string? Person { get; init; }

    /// <summary>The short number of that person, where somebody of the house has one and this is no manager's device. It is not kept.</summary>
    [RegularExpression("[0-9]{4,8}")]
    public string? Proof { get; init; }
}

/// <summary>A payment was written down wrong: it counts no longer. Both stay visible; what is right is written down as a payment of its own.</summary>
public static class CorrectPayment
{
    public static async Task<Once<Results<Done<AccountView>, ProblemHttpResult>>> Handle(
        string label, int payment, JsonBody<PaymentCorrectionBody> body, Once once, Caller caller, LanguageAsked language, Writer writer, DeskProof proofs, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return new Once<Results<Done<AccountView>, ProblemHttpResult>>(refusal);
        }

        var told = await proofs.Compare(caller, body.Value.Person, body.Value.Proof, cancel);

        // A repeat is known by what was said, without the number: not even a digest of it is kept.
        var said = JsonSerializer.SerializeToUtf8Bytes(body.Value with { Proof = null }, WorkshopJson.Options);
        return await once.Do(writer, said, turn => Correct(turn, job, payment, body.Value, told, caller, language.Best));
    }

    private static Results<Done<AccountView>, ProblemHttpResult> Correct(Turn turn, Label label, int number, PaymentCorrectionBody body, ToldProof? told, Caller caller, Language language)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        if (history.Job.Money.Payments.FirstOrDefault(one => one.Number == number) is not { } payment)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "The job has no such payment.");
        }

        if (payment.Corrected)
        {
            return Answer.Done(AccountView.Of(history.Job, history.Entries, turn.Rules, language));
        }

        if (Faults(history.Job, payment, body).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var decision = DeskCommand.Say(
            turn, history, caller, new PaymentCorrected { Payment = number, Reason = body.Reason }, body.Person, proof: id => DeskProof.Settle(turn, told, body.Proof, id));
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Done(AccountView.Of(decision.Job, turn.History(label)!.Entries, turn.Rules, language));
    }

    private static IEnumerable<Fault> Faults(Job job, Payment payment, PaymentCorrectionBody body)
    {
        if (string.IsNullOrWhiteSpace(body.Reason))
        {
            yield return new Fault("/reason", "Why is missing; somebody will ask.");
        }

        if (job.Money.NetMinor - payment.SignedMinor < 0)
        {
            yield return new Fault("", "More was paid back than would be left; correct that first");
        }
    }
}
