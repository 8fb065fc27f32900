using System.Text;
using Dapper;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Extracts;

/// <summary>What becomes of an extract that somebody shows.</summary>
/// <param name="Line">The first line that is not as it was written, from 1.</param>
/// <param name="Job">Absent where it is not genuine.</param>
/// <param name="JournalWentOn">Something was written in the job since it was sealed: ask the workshop for a newer extract.</param>
/// <param name="Words">The answer in one sentence.</param>
public sealed record SealAnswer(ExtractState State, int? Line, Label? Job, LocalDate? IssuedOn, ExtractWatch? Watch, bool? JournalWentOn, string Words);

/// <summary>Anybody may show an extract and hear whether it is as it was written.</summary>
public sealed class CheckSeal(Reader reader)
{
    private const int CharactersAtMost = 200_000;

    private const string VersionSql = """
        select version
        from job
        where site = @site
          and label = @label
        """;

    public static async Task<Results<Done<SealAnswer>, ProblemHttpResult>> Handle(HttpContext context, LanguageAsked language, CheckSeal check)
    {
        using var body = new StreamReader(context.Request.Body, Encoding.UTF8);
        var text = await body.ReadToEndAsync(context.RequestAborted);
        return text.Length > CharactersAtMost
            ? Problems.Of(ProblemCatalogue.BodyTooLarge, "No extract is as long as this.")
            : Answer.Done(await check.Look(text, language.Best, context.RequestAborted));
    }

    /// <param name="shown">The text of an extract, whole.</param>
    public Task<SealAnswer> Look(string shown, Language language, CancellationToken cancel) => reader.Read(
        connection =>
        {
            var verdict = SealedText.Read(shown, id => SealKeyStore.OfId(connection, id));
            var wentOn = verdict is { State: ExtractState.Genuine, Head: { } head, Site: { } site }
                ? connection.QueryFirstOrDefault<long?>(VersionSql, new { site, label = head.Job.ToString() }) > head.JobVersion
                : (bool?)null;
            return new SealAnswer(verdict.State, verdict.Line, verdict.Head?.Job, verdict.Head?.IssuedOn, verdict.Head?.Watch, wentOn, WordsOf(verdict, wentOn == true).In(language));
        },
        cancel);

    private static Phrase WordsOf(SealVerdict verdict, bool wentOn) => verdict switch
    {
        { State: ExtractState.Genuine, Head: { } head } when wentOn =>
            Phrase.Of("Genuine: every line is as it was written on {0}. The job went on since; the workshop can give a newer extract.", new Spoken(head.IssuedOn)),
        { State: ExtractState.Genuine, Head: { } head } => Phrase.Of("Genuine: every line is as it was written on {0}.", new Spoken(head.IssuedOn)),
        { State: ExtractState.Altered, Line: { } line } => Phrase.Of("Altered: line {0} is not as it was written.", line),
        { State: ExtractState.Altered } => Phrase.Of("Altered: the seal does not belong to these lines."),
        { State: ExtractState.UnknownKey } => Phrase.Of("Not ours: it names a key that this workshop does not have."),
        _ => Phrase.Of("Unreadable: this is no extract, or not the whole of one."),
    };
}
