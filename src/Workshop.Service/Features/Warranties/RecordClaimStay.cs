using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Warranties;

public sealed record ClaimStayBody
{
    public required LocalDate ReceivedOn { get; init; }

    /// <summary>Left out while the watch is here.</summary>
    public LocalDate? ReturnedOn { get; init; }

    /// <summary>The badge of whoever writes it down.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>From which day to which the watch was in the house for a claim; told anew, the newest counts.</summary>
public static class RecordClaimStay
{
    public static async Task<Results<Done<ClaimView>, ProblemHttpResult>> Handle(
        string label, int claim, JsonBody<ClaimStayBody> body, Caller caller, LanguageAsked language, Writer writer, CancellationToken cancel) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await writer.Turn(caller.Site, turn => Record(turn, job, claim, body.Value, caller, language.Best), cancel)
            : refusal;

    internal static Results<Done<ClaimView>, ProblemHttpResult> Record(Turn turn, Label label, int number, ClaimStayBody body, Caller caller, Language language = Language.English)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        var book = history.Job.Warranty;
        if (book.HandedOverOn is not { } handedOverOn || book.Claims.FirstOrDefault(one => one.Number == number) is not { } claim)
        {
            return ReadClaims.NoClaim();
        }

        if (Faults(body, handedOverOn, turn.Rules.Calendar.DateOf(turn.Now)).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        if (claim.Stay == new ClaimStay(body.ReceivedOn, body.ReturnedOn))
        {
            return Answer.Done(ClaimView.Of(history.Job, history.Entries, claim, turn.Rules.Calendar, caller, language));
        }

        var decision = DeskCommand.Say(
            turn, history, caller, new ClaimStayRecorded { Claim = number, ReceivedOn = body.ReceivedOn, ReturnedOn = body.ReturnedOn }, body.Person);
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Done(ClaimView.Of(decision.Job, turn.History(label)!.Entries, decision.Job.Warranty.Claims.First(one => one.Number == number), turn.Rules.Calendar, caller, language));
    }

    private static IEnumerable<Fault> Faults(ClaimStayBody body, LocalDate handedOverOn, LocalDate today)
    {
        var faults = ClaimDays.Faults("/receivedOn", body.ReceivedOn, handedOverOn, today)
            .Concat(ClaimDays.Faults("/returnedOn", body.ReturnedOn, handedOverOn, today));
        return body.ReturnedOn < body.ReceivedOn ? faults.Append(new Fault("/returnedOn", "It was returned before it was received")) : faults;
    }
}
