using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.PublicPage;
using Workshop.Core.Quotes;
using Workshop.Core.Words;
using Workshop.Service.Features.Quotes;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PublicPages;

public sealed record PublicAnswerBody
{
    /// <summary>The version that is answered, as the page showed it.</summary>
    public required int Quote { get; init; }

    public required bool Accepted { get; init; }

    /// <summary>The word about each option, by the line's id; one that is missing is declined. In a form: <c>option.&lt;id&gt;</c>.</summary>
    [Length(0, 100)]
    public ImmutableArray<OptionAnswer>? Options { get; init; }

    /// <summary>With a refusal: what is to become of the watch.</summary>
    public CustomersChoice? IfRefused { get; init; }

    /// <summary>The text of consent as it was shown; the one of the language asked for where left out.</summary>
    [StringLength(4_000, MinimumLength = 1)]
    public string? ConsentText { get; init; }

    /// <summary>The postcode of the address, or the last four digits of the telephone number.</summary>
    [StringLength(40, MinimumLength = 1)]
    public required string SecondFactor { get; init; }
}

/// <summary>An answer as it stands.</summary>
/// <param name="Quote">The version.</param>
/// <param name="AgreedMinor">Required lines and accepted options; absent after a refusal.</param>
/// <param name="Promise">Absent after a refusal, and while something is missing from which the days are counted.</param>
/// <param name="Words">The date, or what it waits for.</param>
public sealed record PublicAnswer(
    int Quote, bool Accepted, LocalDate AnsweredOn, ImmutableArray<OptionAnswer>? Options, long? AgreedMinor, string Currency, CustomersChoice? IfRefused, PublicPromise? Promise, string? Words);

/// <summary>
/// A customer decides from their page. What they see is what they answer: an older version is refused, with the newest shown; the same
/// answer again is the same. Kept are the text they agreed to, the version, the time and the address of the device.
/// </summary>
public static class AnswerPublicly
{
    /// <summary>The same two that a gate refuses an answer of the desk with.</summary>
    internal static readonly ProblemKind Superseded = ProblemCatalogue.Find("quote-superseded")!;

    internal static readonly ProblemKind Expired = ProblemCatalogue.Find("quote-expired")!;

    public static Task<Results<Done<PublicAnswer>, ProblemHttpResult>> Handle(
        string token, PublicForm<PublicAnswerBody> form, PublicLanguage language, HttpContext context, Reader reader, Writer writer) => PublicPost.Do(
            token, form.Value.SecondFactor, parties => [parties.Decides], context, reader, writer,
            customer => Answer(customer, form.Value, language.Best, context.Connection.RemoteIpAddress?.ToString()));

    private static Results<Done<PublicAnswer>, ProblemHttpResult> Answer(CustomersTurn customer, PublicAnswerBody body, Language language, string? address)
    {
        var (turn, label, job) = (customer.Turn, customer.Link.Label, customer.History.Job);
        if (customer.Link.Shows != PublicView.Decide)
        {
            return ReadPublicPage.NoPage();
        }

        if (job.Quotes.Versions.FirstOrDefault(one => one.Version == body.Quote) is not { } version || PublicReading.Of(turn, label) is not { } read)
        {
            return Problems.BadFields(new Fault("/quote", "There is no such version"));
        }

        if (Stands(turn, read, version, body, language) is { } refusal)
        {
            return refusal;
        }

        var consent = read.Quotes.LastOrDefault(one => one.Version == version.Version) is { } sent ? MakePublicStatus.ConsentOf(sent, turn.Rules) : turn.Rules.Quotes.ConsentText;
        var shown = body.ConsentText is null ? consent.In(language) : new[] { consent.In(language), consent.En, consent.In(Language.German) }.FirstOrDefault(text => Same(text, body.ConsentText));
        if (shown is null)
        {
            return Problems.BadFields(new Fault("/consentText", "This is not the text that is shown with this version"));
        }

        var told = new QuoteAnswerBody
        {
            Accepted = body.Accepted,
            Channel = AnswerChannel.Page,
            Options = body.Options,
            IfRefused = body.IfRefused,
            ConsentText = shown,
            AnsweredBy = job.Parties.Decides is { Length: > 0 } decides ? decides : null,
            Address = address,
        };
        var taken = AnswerQuote.TakeAnswer(turn, label, version.Version, told, customer.Caller, language);
        return taken.Result is Done<QuoteAnswerView> { Value: var answer } ? Http.Answers.Answer.Done(Shown(turn, answer, version))
            : taken.Result is ProblemHttpResult problem ? PublicPost.HandOn(problem)
            : PublicPost.AskTheDesk();
    }

    /// <summary>What speaks against answering this version now; null where nothing does, or where it was answered just so.</summary>
    private static ProblemHttpResult? Stands(Turn turn, PublicReading read, QuoteVersion version, PublicAnswerBody body, Language language)
    {
        var job = read.Job;
        if (version.Accepted is not null && version.SaysTheSame(body.Accepted, (body.Options ?? []).Where(one => one.Accepted).Select(one => one.Option), body.IfRefused))
        {
            return null;
        }

        var newest = job.Quotes.Newest!;
        if (newest.Version != version.Version)
        {
            return Problems.Of(
                Superseded, $"Version {newest.Version} has taken the place of version {version.Version}.",
                ("quote", version.Version), ("newest", MakePublicStatus.QuoteOf(read, newest, language)));
        }

        var chooses = version is { Accepted: false, IfRefused: CustomersChoice.AskMe } && body is { Accepted: false, IfRefused: CustomersChoice.Return or CustomersChoice.ScrapValue };
        return version.Accepted is { } before && !chooses ? Problems.Of(ProblemCatalogue.QuoteAnswered, $"Version {version.Version} was {(before ? "accepted" : "refused")} before.", ("quote", version.Version), ("accepted", before))
            : version.Accepted is null && PublicStanding.Asked(job, turn.Rules, turn.Now) is null
                ? Problems.Of(Expired, $"Version {version.Version} could be answered through {version.ValidThrough:uuuu-MM-dd}.", ("quote", version.Version), ("validThrough", version.ValidThrough))
            : null;
    }

    private static PublicAnswer Shown(Turn turn, QuoteAnswerView answer, QuoteVersion version) => new(
        answer.Quote, answer.Accepted, turn.Rules.Calendar.DateOf(answer.AnsweredAt), answer.Options, answer.AgreedMinor, version.Currency, answer.IfRefused,
        answer.Promise is not null && turn.History(answer.Job) is { Job: var job } ? MakePublicStatus.PromiseOf(job, turn.Rules, turn.Now) : null, answer.Words);

    // A form ends its lines its own way.
    private static bool Same(string text, string sent) => string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)) == string.Join(' ', sent.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
}
