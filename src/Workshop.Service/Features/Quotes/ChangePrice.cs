using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Money;
using Workshop.Core.Quotes;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Quotes;

public sealed record PriceChangeBody
{
    /// <summary>The id of a line that was agreed.</summary>
    [StringLength(40, MinimumLength = 1)]
    public required string Line { get; init; }

    /// <summary>What it costs now, more than was agreed. Minor units, tax included.</summary>
    [Range(1, MoneyBook.MinorAtMost)]
    public required long NewAmountMinor { get; init; }

    [StringLength(2_000, MinimumLength = 1)]
    public required string Reason { get; init; }

    /// <summary>The badge of whoever writes it down.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>Who pays for what became dearer.</summary>
public enum PriceChangeOutcome
{
    /// <summary>The shop: what was agreed stands.</summary>
    BorneByTheShop,

    /// <summary>Nobody yet: the customer is to be sent a new version.</summary>
    NewVersionNeeded,
}

/// <summary>What a dearer line leads to. Minor units, tax included.</summary>
/// <param name="RiseMinor">Over what was accepted.</param>
/// <param name="BorneAtMostMinor">The rise that the shop bears at most of this line.</param>
/// <param name="AgreedMinor">What the customer has agreed to in all; a dearer line never changes it.</param>
/// <param name="Version">The version of the job.</param>
public sealed record PriceChangeView(
    Label Job, int Quote, string Line, long AcceptedMinor, long NewAmountMinor, long RiseMinor, long BorneAtMostMinor, PriceChangeOutcome Outcome, long? AgreedMinor, long Version);

/// <summary>
/// A part has become dearer after the customer agreed to it. Up to the shop's share of that line's accepted amount the shop bears it;
/// beyond that a new version is asked for, and nothing else happens: what was agreed stands until the customer says otherwise.
/// </summary>
public static class ChangePrice
{
    public static async Task<Once<Results<Done<PriceChangeView>, ProblemHttpResult>>> Handle(string label, int version, JsonBody<PriceChangeBody> body, Once once, Caller caller, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Change(turn, job, version, body.Value, caller))
            : new Once<Results<Done<PriceChangeView>, ProblemHttpResult>>(refusal);

    internal static Results<Done<PriceChangeView>, ProblemHttpResult> Change(Turn turn, Label label, int version, PriceChangeBody body, Caller caller)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        var book = history.Job.Quotes;
        if (book.Versions.FirstOrDefault(one => one.Version == version) is not { } quote)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "The job has no quote of this version.");
        }

        if (quote != book.Agreed && !book.Supplements.Contains(quote))
        {
            return Problems.Of(ProblemCatalogue.QuoteNotAgreed, $"Version {version} is not what is agreed.", ("job", label), ("quote", version), ("agreed", book.Agreed?.Version));
        }

        var sent = history.Entries.Where(entry => entry.Counts).Select(entry => entry.Event).OfType<QuoteSent>().Last(one => one.Version == version);
        var agreed = sent.Named.Where(line => !line.IsOptional || quote.Options.Any(option => option.Id == line.Id && option.Accepted == true)).ToArray();
        var line = agreed.FirstOrDefault(one => one.Id == body.Line);
        if (line is null)
        {
            return Problems.BadFields(new Fault("/line", $"The lines that were agreed are {string.Join(", ", agreed.Select(one => one.Id))}"));
        }

        if (body.NewAmountMinor <= line.AmountMinor)
        {
            return Problems.BadFields(new Fault("/newAmountMinor", $"This is no rise: {line.AmountMinor} was agreed"));
        }

        if (string.IsNullOrWhiteSpace(body.Reason))
        {
            return Problems.BadFields(new Fault("/reason", "A dearer line has its reason"));
        }

        var rules = turn.Rules.Quotes;
        var borne = rules.Bears(line.AmountMinor, body.NewAmountMinor);
        if (book.PriceRises.LastOrDefault(one => one.Version == version && one.Line == body.Line) is { } told && told.NewAmountMinor == body.NewAmountMinor && told.Borne == borne)
        {
            return Answer.Done(View(history.Job, told, rules));
        }

        var changed = new QuotePriceChanged
        {
            Version = version,
            Line = body.Line,
            AcceptedMinor = line.AmountMinor,
            NewAmountMinor = body.NewAmountMinor,
            Borne = borne,
            Reason = body.Reason,
        };
        var decision = DeskCommand.Say(turn, history, caller, changed, body.Person);
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Done(View(decision.Job, decision.Job.Quotes.PriceRises[^1], rules));
    }

    private static PriceChangeView View(Job job, PriceRise rise, QuoteRules rules) => new(
        job.Label, rise.Version, rise.Line, rise.AcceptedMinor, rise.NewAmountMinor, rise.NewAmountMinor - rise.AcceptedMinor,
        (long)((Int128)rise.AcceptedMinor * rules.PriceRiseBornePercent / 100), rise.Borne ? PriceChangeOutcome.BorneByTheShop : PriceChangeOutcome.NewVersionNeeded,
        Account.Of(job).AskedMinor, job.Version);
}
