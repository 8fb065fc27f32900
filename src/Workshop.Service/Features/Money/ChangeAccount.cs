using System.ComponentModel.DataAnnotations;
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

public sealed record AccountBody
{
    public required bool OnAccount { get; init; }

    /// <summary>What is asked for work that is done without a quote: minor units, tax included; as it was where left out.</summary>
    [Range(0, MoneyBook.MinorAtMost)]
    public long? AskedMinor { get; init; }

    /// <summary>ISO 4217; needed with an amount.</summary>
    [RegularExpression("[A-Z]{3}")]
    public string? Currency { get; init; }

    [StringLength(500, MinimumLength = 1)]
    public required string Reason { get; init; }

    /// <summary>The badge of whoever says so.</summary>
    [StringLength(60)]
    public string? Person { get; init; }

    /// <summary>The short number of that person, where somebody of the house has one and this is no manager's device. It is not kept.</summary>
    [RegularExpression("[0-9]{4,8}")]
    public string? Proof { get; init; }
}

/// <summary>A customer who pays at the end of the month takes the watch along; or no longer. Work without a quote gets its price here.</summary>
public static class ChangeAccount
{
    public static async Task<Results<Seen<AccountView>, ProblemHttpResult>> Handle(
        string label, JsonBody<AccountBody> body, Caller caller, LanguageAsked language, Writer writer, DeskProof proofs, CancellationToken cancel)
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
        return await writer.Turn(caller.Site, turn => Change(turn, job, body.Value, told, caller, language.Best), cancel);
    }

    private static Results<Seen<AccountView>, ProblemHttpResult> Change(Turn turn, Label label, AccountBody body, ToldProof? told, Caller caller, Language language)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        if (Faults(history.Job, body).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var money = history.Job.Money;
        if (money.OnAccount == body.OnAccount && (body.AskedMinor is null || (body.AskedMinor == money.AskedMinor && body.Currency == money.AskedCurrency)))
        {
            return Answer.Seen(history.Job.Version, AccountView.Of(history.Job, history.Entries, turn.Rules, language));
        }

        var decision = DeskCommand.Say(
            turn, history, caller, new AccountChanged { OnAccount = body.OnAccount, AskedMinor = body.AskedMinor, Currency = body.Currency, Reason = body.Reason }, body.Person, proof: id => DeskProof.Settle(turn, told, body.Proof, id));
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Seen(decision.Job.Version, AccountView.Of(decision.Job, turn.History(label)!.Entries, turn.Rules, language));
    }

    private static IEnumerable<Fault> Faults(Job job, AccountBody body)
    {
        if ((body.AskedMinor is null) != (body.Currency is null))
        {
            yield return new Fault(body.Currency is null ? "/currency" : "/askedMinor", "An amount and its currency go together");
        }
        else if (body.AskedMinor is not null && (!job.Quotes.AgreedWithoutQuote || job.Quotes.Agreed is not null))
        {
            yield return new Fault("/askedMinor", "What is asked here is what a quote says");
        }
        else if (body.Currency is { } currency && job.Money.Currency is { } paid && paid != currency)
        {
            yield return new Fault("/currency", $"The account of this job is in {paid}");
        }
    }
}
