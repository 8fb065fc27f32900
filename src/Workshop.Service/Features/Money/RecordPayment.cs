using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
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

public sealed record PaymentBody
{
    public required PaymentKind Kind { get; init; }

    /// <summary>Minor units, more than nothing; for a refund what was paid back.</summary>
    [Range(1, MoneyBook.MinorAtMost)]
    public required long AmountMinor { get; init; }

    /// <summary>ISO 4217.</summary>
    [RegularExpression("[A-Z]{3}")]
    public required string Currency { get; init; }

    public required PaymentHow How { get; init; }

    /// <summary>The receipt's number, or the bank's; no name.</summary>
    [StringLength(100)]
    public string? Reference { get; init; }

    /// <summary>When it was; now where left out.</summary>
    public Instant? At { get; init; }

    /// <summary>The badge of whoever took it.</summary>
    [StringLength(60)]
    public string? Person { get; init; }

    /// <summary>The short number of that person, where somebody of the house has one and this is no manager's device. It is not kept.</summary>
    [RegularExpression("[0-9]{4,8}")]
    public string? Proof { get; init; }
}

/// <summary>Money changed hands: it is written down, and where the shop keeps its money here a balance of nothing settles the job.</summary>
public static class RecordPayment
{
    public static async Task<Once<Results<Done<AccountView>, ProblemHttpResult>>> Handle(
        string label, JsonBody<PaymentBody> body, Once once, Caller caller, LanguageAsked language, Writer writer, DeskProof proofs, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var job, out var refusal))
        {
            return new Once<Results<Done<AccountView>, ProblemHttpResult>>(refusal);
        }

        var told = await proofs.Compare(caller, body.Value.Person, body.Value.Proof, cancel);

        // A repeat is known by what was said, without the number: not even a digest of it is kept.
        var said = JsonSerializer.SerializeToUtf8Bytes(body.Value with { Proof = null }, WorkshopJson.Options);
        return await once.Do(writer, said, turn => Record(turn, job, body.Value, told, caller, language.Best));
    }

    private static Results<Done<AccountView>, ProblemHttpResult> Record(Turn turn, Label label, PaymentBody body, ToldProof? told, Caller caller, Language language)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        var at = DeskCommand.Told(turn, body.At);
        if (Faults(history.Job, body, at, turn.Now).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var paid = new PaymentRecorded
        {
            Payment = history.Job.Money.Payments.Length + 1,
            Kind = body.Kind,
            AmountMinor = body.AmountMinor,
            Currency = body.Currency,
            How = body.How,
            Reference = body.Reference,
        };
        var decision = DeskCommand.Say(turn, history, caller, paid, body.Person, at: at, proof: id => DeskProof.Settle(turn, told, body.Proof, id));
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Done(AccountView.Of(decision.Job, turn.History(label)!.Entries, turn.Rules, language));
    }

    private static IEnumerable<Fault> Faults(Job job, PaymentBody body, Instant at, Instant now)
    {
        var account = Account.Of(job);
        if (account.Currency is { } currency && currency != body.Currency)
        {
            yield return new Fault("/currency", $"The account of this job is in {currency}");
        }

        if (body.Kind == PaymentKind.Refund && body.AmountMinor > account.PaidMinor - account.RefundedMinor)
        {
            yield return new Fault("/amountMinor", "More would be paid back than was paid");
        }

        if (job.Money.Payments.Length >= MoneyBook.PaymentsAtMost)
        {
            yield return new Fault("", $"A job has at most {MoneyBook.PaymentsAtMost} payments");
        }

        if (at > now)
        {
            yield return new Fault("/at", "This moment is to come");
        }
        else if (at < job.Intake.TakenInAt)
        {
            yield return new Fault("/at", "This moment is before the watch was taken in");
        }
    }
}
