using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Promises;
using Workshop.Core.Quotes;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
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

    /// <summary>The customer's word about each option, by the line's id. One that is missing counts as declined, and the answer says so.</summary>
    [Length(0, 100)]
    public ImmutableArray<OptionAnswer>? Options { get; init; }

    /// <summary>With a refusal: what is to become of the watch, one of the quote's choices. Who wanted to be asked may choose later.</summary>
    public CustomersChoice? IfRefused { get; init; }

    /// <summary>The text the customer said yes to; the quote's own, in the language asked for, where left out.</summary>
    [StringLength(4_000, MinimumLength = 1)]
    public string? ConsentText { get; init; }

    /// <summary>Who answered, by the reference of their record; whoever decides for the watch where left out.</summary>
    [StringLength(60)]
    public string? AnsweredBy { get; init; }

    /// <summary>The network address of the device it was sent from: known to the page that takes the answer, never told by a client.</summary>
    [JsonIgnore]
    public string? Address { get; init; }

    /// <summary>When the customer answered; now where left out.</summary>
    public Instant? At { get; init; }

    /// <summary>The badge of whoever writes it down.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>An answer as it stands, and the date that follows from it.</summary>
/// <param name="Quote">The version.</param>
/// <param name="Options">Every option and the customer's word about it; absent where there is none.</param>
/// <param name="NotMentioned">Options that count as declined since the answer does not speak of them; absent where it speaks of all.</param>
/// <param name="AgreedMinor">Required lines and accepted options of this version; absent after a refusal. Minor units, tax included.</param>
/// <param name="IfRefused">What is to become of the watch; absent where nobody said.</param>
/// <param name="Promise">The date promised; absent after a refusal, and while something is missing from which the days are counted.</param>
/// <param name="Words">As the customer is told: the date, or what it waits for; absent after a refusal.</param>
/// <param name="Version">The version of the job.</param>
public sealed record QuoteAnswerView(
    Label Job, int Quote, bool Accepted, Instant AnsweredAt, ImmutableArray<OptionAnswer>? Options, ImmutableArray<string>? NotMentioned, long? AgreedMinor, CustomersChoice? IfRefused,
    PromisedDate? Promise, string? Words, Outcome Outcome, ImmutableArray<string> Flags, long Version);

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

        var sent = history.Entries.Where(entry => entry.Counts).Select(entry => entry.Event).OfType<QuoteSent>().LastOrDefault(one => one.Version == version);
        if (OptionFaults(body, quote, sent).ToArray() is { Length: > 0 } unknown)
        {
            return Problems.BadFields(unknown);
        }

        var yes = Yes(body).ToArray();
        if (quote is { Accepted: { } accepted, AnsweredAt: { } answeredAt } && !IsTheChoiceAskedFor(quote, body))
        {
            return quote.SaysTheSame(body.Accepted, yes, body.IfRefused)
                ? Answer.Done(Shown(turn, history.Job, quote, body, Outcome.Accepted, [], language))
                : TypedResults.Problem(WithNewest(
                    Problems.Details(
                        ProblemCatalogue.QuoteAnswered, $"Version {version} was {(accepted ? "accepted" : "refused")} before.",
                        ("job", label), ("quote", version), ("accepted", accepted), ("answeredAt", answeredAt), ("options", QuoteView.OptionsOf(quote))),
                    turn, history, version, language));
        }

        var at = DeskCommand.Told(turn, body.At);
        if (Faults(turn, body, at, quote).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var answered = new QuoteAnswered
        {
            Version = version,
            Accepted = body.Accepted,
            Channel = body.Channel,
            Witness = turn.Rules.PersonBehind(body.Witness)?.Id ?? body.Witness,
            Options = body.Accepted && !quote.Options.IsEmpty ? [.. quote.Options.Select(option => new OptionAnswer(option.Id, yes.Contains(option.Id)))] : null,
            IfRefused = body.IfRefused,
            ConsentText = body.Accepted ? body.ConsentText ?? sent?.ConsentText?.In(language) : null,
            AnsweredBy = body.AnsweredBy ?? (history.Job.Parties.Decides is { Length: > 0 } decides ? decides : null),
            Address = body.Address,
        };
        var decision = DeskCommand.Say(turn, history, caller, answered, body.Person, at: at);
        if (decision.Outcome == Outcome.Refused)
        {
            return TypedResults.Problem(WithNewest(DeskCommand.Refusal(decision), turn, history, version, language));
        }

        var after = decision.Job.Quotes.Versions.First(one => one.Version == version);
        return Answer.Done(Shown(turn, decision.Job, after.Answer(answered, at), body, decision.Outcome, decision.Flags, language));
    }

    private static IEnumerable<string> Yes(QuoteAnswerBody body) => (body.Options ?? []).Where(one => one.Accepted).Select(one => one.Option);

    // Who wanted to be asked was asked: what they chose is no other answer, it is the rest of the first.
    private static bool IsTheChoiceAskedFor(QuoteVersion quote, QuoteAnswerBody body) =>
        quote is { Accepted: false, IfRefused: CustomersChoice.AskMe } && body is { Accepted: false, IfRefused: CustomersChoice.Return or CustomersChoice.ScrapValue };

    // Whoever answers an older version sees what there is to answer.
    private static ProblemDetails WithNewest(ProblemDetails problem, Turn turn, JobHistory history, int version, Language language)
    {
        if (history.Job.Quotes.Newest is { } newest && newest.Version != version)
        {
            problem.Extensions["newest"] = QuoteView.AllOf(history.Job, history.Entries, turn.Rules.Calendar, turn.Now, language)[^1];
        }

        return problem;
    }

    private static QuoteAnswerView Shown(Turn turn, Job job, QuoteVersion quote, QuoteAnswerBody body, Outcome outcome, ImmutableArray<string> flags, Language language)
    {
        var accepted = quote.Accepted == true;
        var waits = accepted ? PromiseStart.Words(job, turn.Rules) : null;
        var promise = accepted && waits is null && job.Promise is { Given: { } given, On: { } on, Target: { } target } ? new PromisedDate(on, target, given.ApprovedOn, given.WorkingDays) : null;
        var words = waits ?? (promise is null ? null : PromiseWords.Said(promise.On, PromiseWords.MostLikely(job, turn.Rules, turn.Now)));
        var options = QuoteView.OptionsOf(quote);
        ImmutableArray<string> unsaid = [.. options.Select(one => one.Option).Where(id => (body.Options ?? []).All(told => told.Option != id))];
        return new QuoteAnswerView(
            job.Label, quote.Version, accepted, quote.AnsweredAt!.Value, options.IsEmpty ? null : options, unsaid.IsEmpty ? null : unsaid, accepted ? quote.AgreedMinor : null, quote.IfRefused,
            promise, words?.In(language), outcome, flags, job.Version);
    }

    private static IEnumerable<Fault> OptionFaults(QuoteAnswerBody body, QuoteVersion quote, QuoteSent? sent)
    {
        foreach (var (i, told) in (body.Options ?? []).Index())
        {
            if (quote.Options.All(option => option.Id != told.Option))
            {
                yield return new Fault($"/options/{i}/option", $"The options of version {quote.Version} are {(quote.Options.IsEmpty ? "none" : string.Join(", ", quote.Options.Select(option => option.Id)))}");
            }
            else if ((body.Options ?? []).Take(i).Any(before => before.Option == told.Option))
            {
                yield return new Fault($"/options/{i}/option", "This option is answered twice");
            }
            else if (told.Accepted && !body.Accepted)
            {
                yield return new Fault($"/options/{i}/accepted", "An option of a refused quote is not accepted");
            }
        }

        ImmutableArray<CustomersChoice> choices = sent?.ChoicesOnRefusal ?? [CustomersChoice.Return];
        if (body is { Accepted: true, IfRefused: not null })
        {
            yield return new Fault("/ifRefused", "An accepted quote is not refused");
        }
        else if (body.IfRefused is { } choice && !choices.Contains(choice))
        {
            yield return new Fault("/ifRefused", $"The choices are {string.Join(", ", choices.Select(one => Word.Of(one)))}");
        }
    }

    private static IEnumerable<Fault> Faults(Turn turn, QuoteAnswerBody body, Instant at, QuoteVersion quote)
    {
        if (body.Channel == AnswerChannel.Telephone && string.IsNullOrWhiteSpace(body.Witness))
        {
            yield return new Fault("/witness", "An answer by telephone names the colleague who heard it");
        }

        if (body.AnsweredBy is { } customer && CustomerStore.Find(turn, customer) is null)
        {
            yield return new Fault("/answeredBy", "Nobody is known by this reference");
        }

        if (at > turn.Now)
        {
            yield return new Fault("/at", "This moment is to come");
        }
        else if (at < quote.SentAt)
        {
            yield return new Fault("/at", "This moment is before the quote was sent");
        }
    }
}
