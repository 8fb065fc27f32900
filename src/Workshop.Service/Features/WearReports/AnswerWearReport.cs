using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.WearReports;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.WearReports;

public sealed record WearReportAnswerBody
{
    public required ReportAnswer Answer { get; init; }

    [StringLength(2_000, MinimumLength = 1)]
    public string? Note { get; init; }

    /// <summary>The badge of whoever answered.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>The desk has answered the customer; the report waits no longer. Told again, the newest answer counts.</summary>
public static class AnswerWearReport
{
    public static async Task<Once<Results<Done<WearReportView>, ProblemHttpResult>>> Handle(
        string label, int report, JsonBody<WearReportAnswerBody> body, Once once, Caller caller, LanguageAsked language, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Tell(turn, job, report, body.Value, caller, language.Best))
            : new Once<Results<Done<WearReportView>, ProblemHttpResult>>(refusal);

    private static Results<Done<WearReportView>, ProblemHttpResult> Tell(Turn turn, Label label, int number, WearReportAnswerBody body, Caller caller, Language language)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        if (history.Job.WearReports.Find(number) is not { } report)
        {
            return ReadWearReports.NoReport();
        }

        var today = turn.Rules.Calendar.DateOf(turn.Now);
        if (report.Answer is { } before && before.Answer == body.Answer && before.Note == body.Note)
        {
            return Answer.Done(WearReportView.Of(report, history.Entries, today, caller, language));
        }

        var decision = DeskCommand.Say(turn, history, caller, new WearReportAnswered { Report = number, Answer = body.Answer, Note = body.Note }, body.Person);
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Done(WearReportView.Of(decision.Job.WearReports.Find(number)!, history.Entries, today, caller, language));
    }
}
