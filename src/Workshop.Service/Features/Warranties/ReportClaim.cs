using System.Collections.Immutable;
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

public sealed record ClaimBody
{
    /// <summary>The day the customer told of it, today where left out: it decides whether the claim is in time, if the watch then arrives soon enough.</summary>
    public LocalDate? ReportedOn { get; init; }

    /// <summary>The day the watch came back, where it has.</summary>
    public LocalDate? ReceivedOn { get; init; }

    /// <summary>The customer's own words.</summary>
    [StringLength(4_000, MinimumLength = 1)]
    public required string Text { get; init; }

    /// <summary>What the customer showed: photos that the house keeps, by their hashes.</summary>
    [Length(0, 20)]
    public ImmutableArray<string>? Photos { get; init; }

    /// <summary>The badge of whoever heard it.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>A customer tells of a fault after hand-over. It is kept whatever the days say; a manager decides.</summary>
public static class ReportClaim
{
    public static async Task<Once<Results<Made<ClaimView>, ProblemHttpResult>>> Handle(string label, JsonBody<ClaimBody> body, Once once, Caller caller, LanguageAsked language, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Report(turn, job, body.Value, caller, language.Best))
            : new Once<Results<Made<ClaimView>, ProblemHttpResult>>(refusal);

    internal static Results<Made<ClaimView>, ProblemHttpResult> Report(Turn turn, Label label, ClaimBody body, Caller caller, Language language = Language.English)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        if (history.Job.Warranty.HandedOverOn is not { } handedOverOn)
        {
            return Problems.Of(ProblemCatalogue.NotHandedOver, "A claim needs a warranty, and that begins at hand-over.", ("job", label));
        }

        var today = turn.Rules.Calendar.DateOf(turn.Now);
        if (Faults(body, handedOverOn, today).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var number = history.Job.Warranty.Claims.Select(claim => claim.Number).DefaultIfEmpty().Max() + 1;
        var reported = new ClaimReported { Claim = number, ReportedOn = body.ReportedOn ?? today, ReceivedOn = body.ReceivedOn, Text = body.Text, Photos = body.Photos is { Length: > 0 } photos ? photos : null };
        var decision = DeskCommand.Say(turn, history, caller, reported, body.Person);
        if (decision.Outcome == Outcome.Refused)
        {
            return TypedResults.Problem(DeskCommand.Refusal(decision));
        }

        var claim = decision.Job.Warranty.Claims.First(one => one.Number == number);
        return Answer.Made($"/v1/jobs/{label}/claims/{number}", decision.Job.Version, ClaimView.Of(decision.Job, turn.History(label)!.Entries, claim, turn.Rules.Calendar, caller, language));
    }

    private static IEnumerable<Fault> Faults(ClaimBody body, LocalDate handedOverOn, LocalDate today) =>
        ClaimDays.Faults("/reportedOn", body.ReportedOn, handedOverOn, today)
            .Concat(ClaimDays.Faults("/receivedOn", body.ReceivedOn, handedOverOn, today))
            .Concat(PhotoHashes.Faults(body.Photos));
}
