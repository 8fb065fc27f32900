using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Quotes;
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
/// <param name="Promise">The date promised; absent after a refusal.</param>
/// <param name="Version">The version of the job.</param>
public sealed record QuoteAnswerView(Label Job, int Quote, bool Accepted, Instant AnsweredAt, PromisedDate? Promise, Outcome Outcome, ImmutableArray<string> Flags, long Version);

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
        string label, int version, JsonBody<QuoteAnswerBody> body, Once once, Caller caller, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => TakeAnswer(turn, job, version, body.Value, caller))
            : new Once<Results<Done<QuoteAnswerView>, ProblemHttpResult>>(refusal);

    internal static Results<Done<QuoteAnswerView>, ProblemHttpResult> TakeAnswer(Turn turn, Label label, int version, QuoteAnswerBody body, Caller caller)
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
                ? Answer.Done(Shown(history.Job, quote, Outcome.Accepted, []))
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
        return Answer.Done(Shown(decision.Job, after with { Accepted = body.Accepted, AnsweredAt = at }, decision.Outcome, decision.Flags));
    }

    private static QuoteAnswerView Shown(Job job, QuoteVersion quote, Outcome outcome, ImmutableArray<string> flags) => new(
        job.Label, quote.Version, quote.Accepted == true, quote.AnsweredAt!.Value,
        quote.Accepted == true && job.Promise is { Given: { } given, On: { } on, Target: { } target } ? new PromisedDate(on, target, given.ApprovedOn, given.WorkingDays) : null,
        outcome, flags, job.Version);

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
