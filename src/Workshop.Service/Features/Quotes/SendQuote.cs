using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Quotes;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Quotes;

/// <summary>A version of the quote goes to the customer; an answer is only taken to the newest.</summary>
public static class SendQuote
{
    private const int ValidForDaysAtMost = 366;

    public static async Task<Once<Results<Made<QuoteView>, ProblemHttpResult>>> Handle(string label, JsonBody<QuoteBody> body, Once once, Caller caller, LanguageAsked language, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Send(turn, job, body.Value, caller, language.Best))
            : new Once<Results<Made<QuoteView>, ProblemHttpResult>>(refusal);

    internal static Results<Made<QuoteView>, ProblemHttpResult> Send(Turn turn, Label label, QuoteBody body, Caller caller, Language language = Language.English)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        var calendar = turn.Rules.Calendar;
        var today = calendar.DateOf(turn.Now);
        if (body.Faults(history.Job, today, ValidForDaysAtMost).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var decision = DeskCommand.Say(turn, history, caller, ToEvent(turn, history.Job, body, today), body.Person, body.Despite);
        if (decision.Outcome == Outcome.Refused)
        {
            return TypedResults.Problem(DeskCommand.Refusal(decision));
        }

        var quote = QuoteView.AllOf(decision.Job, turn.History(label)!.Entries, calendar, turn.Now, language)[^1];
        return Answer.Made($"/v1/jobs/{label}/quotes/{quote.Version}", quote.Version, quote);
    }

    private static QuoteSent ToEvent(Turn turn, Job job, QuoteBody body, LocalDate today)
    {
        var (rules, money) = (turn.Rules.Quotes, turn.Rules.Money);

        // What will be agreed is known once options are chosen: then the share counts, and the amount is what it would be without them.
        var byShare = body is { DepositMinor: null, Supplementary: false } && money.DepositSharePercent > 0 && body.Lines.Any(line => line.Optional);
        return new QuoteSent
        {
            Version = (job.Quotes.Newest?.Version ?? 0) + 1,
            Lines = [.. body.Lines.Select((line, i) => line.ToLine(i))],
            Currency = body.Currency,
            ValidThrough = body.ValidThrough ?? today.PlusDays(rules.ValidForDays),
            DepositMinor = Asked(body.DepositMinor ?? (body.Supplementary ? 0 : money.DepositOf(body.RequiredMinor))),
            DepositSharePercent = byShare ? money.DepositSharePercent : null,
            DepositAboveMinor = byShare ? money.DepositAboveMinor : null,
            FeeOnRefusalMinor = Asked(body.IfRefused?.FeeMinor ?? body.FeeOnRefusalMinor),
            ChoicesOnRefusal = body.IfRefused?.Choices is { } choices ? [.. choices.Distinct()] : null,
            WorkingDays = body.WorkingDays ?? (body.Supplementary ? 0 : job.Route?.PromisedWorkingDays ?? 0),
            Supplementary = body.Supplementary ? true : null,
            NotCovered = body.NotCovered is { Length: > 0 } not ? not : null,
            ConsentText = body.ConsentText ?? rules.ConsentText,
        };
    }

    private static long? Asked(long? minor) => minor > 0 ? minor : null;
}
