using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Quotes;

public sealed record QuoteAnswerBody
{
    public required bool Accepted { get; init; }

    /// <summary>How the answer came; over the counter where left out.</summary>
    public AnswerChannel Channel { get; init; }

    /// <summary>Who of the house heard it; needed for the telephone.</summary>
    [StringLength(100)]
    public string? Witness { get; init; }

    /// <summary>When the customer answered; now where left out.</summary>
    public Instant? At { get; init; }

    /// <summary>The badge of whoever writes it down.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>An answer as it stands, and the date that follows from it.</summary>
/// <param name="Quote">The version.</param>
/// <param name="Promise">The date promised; absent after a refusal, and while something is missing from which the days are counted.</param>
/// <param name="Words">As the customer is told: the date, or what it waits for; absent after a refusal.</param>
/// <param name="Version">The version of the job.</param>
public sealed record QuoteAnswerView(Label Job, int Quote, bool Accepted, Instant AnsweredAt, PromisedDate? Promise, string? Words, Outcome Outcome, ImmutableArray<string> Flags, long Version);

/// <param name="On">Promised to the customer.</param>
/// <param name="Target">The shop's own, before it.</param>
/// <param name="ApprovedOn">Day 0 of the count.</param>
/// <param name="WorkingDays">Open days counted from day 0.</param>
public sealed record PromisedDate(LocalDate On, LocalDate Target, LocalDate ApprovedOn, int WorkingDays);

/// <summary>
/// The customer decided about the newest version. The same answer again is the same; another one needs a new version, since a
/// decision is not taken back by a note at the desk.
/// </summary>
public static class AnswerQuote
{
    public static async Task<Once<Results<Done<QuoteAnswerView>, ProblemHttpResult>>> Handle(
        string label, int version, JsonBody<QuoteAnswerBody> body, Once once, Caller caller, LanguageAsked language, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => TakeAnswer(turn, job, version, body.Value, caller, language.Best))
            : new Once<Results<Done<QuoteAnswerView>, ProblemHttpResult>>(refusal);

    internal static Results<Done<QuoteAnswerView>, ProblemHttpResult> TakeAnswer(Turn turn, Label label, int version, QuoteAnswerBody body, Caller caller, Language language = Language.English)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        if (history.Job.Quotes.Versions.FirstOrDefault(one => one.Version == version) is not { } quote)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "The job has no quote of this version.");
        }

        if (quote is { Accepted: { } accepted, AnsweredAt: { } answeredAt })
        {
            return accepted == body.Accepted
                ? Answer.Done(Shown(turn, history.Job, quote, Outcome.Accepted, [], language))
                : Problems.Of(
                    ProblemCatalogue.QuoteAnswered, $"Version {version} was {(accepted ? "accepted" : "refused")} before.",
                    ("job", label), ("quote", version), ("accepted", accepted), ("answeredAt", answeredAt));
        }

        var at = DeskCommand.Told(turn, body.At);
        if (Faults(body, at, quote, turn.Now).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var answered = new QuoteAnswered
        {
            Version = version,
            Accepted = body.Accepted,
            Channel = body.Channel,
            Witness = turn.Rules.PersonBehind(body.Witness)?.Id ?? body.Witness,
        };
        var decision = DeskCommand.Say(turn, history, caller, answered, body.Person, at: at);
        if (decision.Outcome == Outcome.Refused)
        {
            return TypedResults.Problem(DeskCommand.Refusal(decision));
        }

        var after = decision.Job.Quotes.Versions.First(one => one.Version == version);
        return Answer.Done(Shown(turn, decision.Job, after with { Accepted = body.Accepted, AnsweredAt = at }, decision.Outcome, decision.Flags, language));
    }

    private static QuoteAnswerView Shown(Turn turn, Job job, QuoteVersion quote, Outcome outcome, ImmutableArray<string> flags, Language language)
    {
        var accepted = quote.Accepted == true;
        var waits = accepted ? PromiseStart.Words(job, turn.Rules) : null;
        var promise = accepted && waits is null && job.Promise is { Given: { } given, On: { } on, Target: { } target } ? new PromisedDate(on, target, given.ApprovedOn, given.WorkingDays) : null;
        var words = waits ?? (promise is null ? null : PromiseWords.Said(promise.On, PromiseWords.MostLikely(job, turn.Rules, turn.Now)));
        return new QuoteAnswerView(job.Label, quote.Version, accepted, quote.AnsweredAt!.Value, promise, words?.In(language), outcome, flags, job.Version);
    }

    private static IEnumerable<Fault> Faults(QuoteAnswerBody body, Instant at, QuoteVersion quote, Instant now)
    {
        if (body.Channel == AnswerChannel.Telephone && string.IsNullOrWhiteSpace(body.Witness))
        {
            yield return new Fault("/witness", "An answer by telephone names the colleague who heard it");
        }

        if (at > now)
        {
            yield return new Fault("/at", "This moment is to come");
        }
        else if (at < quote.SentAt)
        {
            yield return new Fault("/at", "This moment is before the quote was sent");
        }
    }
}
