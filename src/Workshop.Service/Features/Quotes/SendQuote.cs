using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
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

public sealed record QuoteLineBody
{
    private const long MinorAtMost = 1_000_000_000_000;

    [StringLength(500, MinimumLength = 1)]
    public required string Text { get; init; }

    /// <summary>Minor units, tax included; less than nothing for a reduction.</summary>
    [Range(-MinorAtMost, MinorAtMost)]
    public required long AmountMinor { get; init; }

    /// <summary>The tax inside the amount.</summary>
    [Range(-MinorAtMost, MinorAtMost)]
    public long TaxMinor { get; init; }
}

public sealed record QuoteBody
{
    [Length(1, 100)]
    public required ImmutableArray<QuoteLineBody> Lines { get; init; }

    /// <summary>ISO 4217.</summary>
    [RegularExpression("[A-Z]{3}")]
    public required string Currency { get; init; }

    /// <summary>Good through this day; thirty days after today where left out.</summary>
    public LocalDate? ValidThrough { get; init; }

    /// <summary>Open days from approval to the promised date; as the kind of work says where left out.</summary>
    [Range(1, 1_000)]
    public int? WorkingDays { get; init; }

    /// <summary>Minor units asked before the work, nothing to the total; as the shop's rules say where left out.</summary>
    [Range(0, MoneyBook.MinorAtMost)]
    public long? DepositMinor { get; init; }

    /// <summary>Minor units that a refusal costs the customer; nothing where left out.</summary>
    [Range(0, MoneyBook.MinorAtMost)]
    public long? FeeOnRefusalMinor { get; init; }

    /// <summary>Gates that ask and are to be passed.</summary>
    [Length(0, 20)]
    public ImmutableArray<string>? Despite { get; init; }

    /// <summary>The badge of whoever wrote it.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>A version of the quote goes to the customer; an answer is only taken to the newest.</summary>
public static class SendQuote
{
    /// <summary>Common practice.</summary>
    private const int ValidForDays = 30;

    private const int ValidForDaysAtMost = 366;

    public static async Task<Once<Results<Made<QuoteView>, ProblemHttpResult>>> Handle(string label, JsonBody<QuoteBody> body, Once once, Caller caller, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Send(turn, job, body.Value, caller))
            : new Once<Results<Made<QuoteView>, ProblemHttpResult>>(refusal);

    internal static Results<Made<QuoteView>, ProblemHttpResult> Send(Turn turn, Label label, QuoteBody body, Caller caller)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        var calendar = turn.Rules.Calendar;
        var today = calendar.DateOf(turn.Now);
        if (Faults(history.Job, body, today).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var decision = DeskCommand.Say(
            turn,
            history,
            caller,
            new QuoteSent
            {
                Version = (history.Job.Quotes.Newest?.Version ?? 0) + 1,
                Lines = [.. body.Lines.Select(line => new QuoteLine { Text = line.Text, AmountMinor = line.AmountMinor, TaxMinor = line.TaxMinor })],
                Currency = body.Currency,
                ValidThrough = body.ValidThrough ?? today.PlusDays(ValidForDays),
                DepositMinor = Asked(body.DepositMinor ?? turn.Rules.Money.DepositOf(body.Lines.Sum(line => line.AmountMinor))),
                FeeOnRefusalMinor = Asked(body.FeeOnRefusalMinor),
                WorkingDays = body.WorkingDays ?? history.Job.Route?.PromisedWorkingDays ?? 0,
            },
            body.Person,
            body.Despite);
        if (decision.Outcome == Outcome.Refused)
        {
            return TypedResults.Problem(DeskCommand.Refusal(decision));
        }

        var quote = QuoteView.AllOf(decision.Job, turn.History(label)!.Entries, calendar, turn.Now)[^1];
        return Answer.Made($"/v1/jobs/{label}/quotes/{quote.Version}", quote.Version, quote);
    }

    private static long? Asked(long? minor) => minor > 0 ? minor : null;

    private static IEnumerable<Fault> Faults(Job job, QuoteBody body, LocalDate today)
    {
        if (Account.FixedCurrency(job) is { } currency && currency != body.Currency)
        {
            yield return new Fault("/currency", $"The account of this job is in {currency}");
        }

        foreach (var (i, line) in body.Lines.Index())
        {
            if (string.IsNullOrWhiteSpace(line.Text))
            {
                yield return new Fault($"/lines/{i}/text", "A line says what it is for");
            }

            if (Math.Abs(line.TaxMinor) > Math.Abs(line.AmountMinor) || Math.Sign(line.TaxMinor) * Math.Sign(line.AmountMinor) < 0)
            {
                yield return new Fault($"/lines/{i}/taxMinor", "The tax lies inside the amount");
            }
        }

        if (body.Lines.Sum(line => line.AmountMinor) < 0)
        {
            yield return new Fault("/lines", "The lines come to less than nothing");
        }

        if (body.DepositMinor > body.Lines.Sum(line => line.AmountMinor))
        {
            yield return new Fault("/depositMinor", "A deposit is no more than the lines come to");
        }

        if (body.ValidThrough < today || body.ValidThrough > today.PlusDays(ValidForDaysAtMost))
        {
            yield return new Fault("/validThrough", $"This is no day from {today:uuuu-MM-dd} to {today.PlusDays(ValidForDaysAtMost):uuuu-MM-dd}");
        }
    }
}
