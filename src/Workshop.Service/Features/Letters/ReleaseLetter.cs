using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Letters;

public sealed record ReleaseBody
{
    /// <summary>What the customer is told, in the manager's own words.</summary>
    [StringLength(4_000, MinimumLength = 1)]
    public required string Words { get; init; }

    /// <summary>The badge of the manager.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <param name="Number">1, 2, 3 … within the job and moment.</param>
public sealed record ReleasedView(Label Job, LetterMoment Moment, int Number, Instant ReleasedAt);

/// <summary>A manager lets the owner be told of a damage or a loss. Nothing tells that by itself.</summary>
public static class ReleaseLetter
{
    public static async Task<Once<Results<Made<ReleasedView>, ProblemHttpResult>>> Handle(
        string label, string moment, JsonBody<ReleaseBody> body, Once once, Caller caller, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Release(turn, job, moment, body.Value, caller))
            : new Once<Results<Made<ReleasedView>, ProblemHttpResult>>(refusal);

    private static Results<Made<ReleasedView>, ProblemHttpResult> Release(Turn turn, Label label, string moment, ReleaseBody body, Caller caller)
    {
        if (turn.History(label) is not { Job.TakenIn: true } history)
        {
            return PathLabel.NoJob();
        }

        if (Word.Read<LetterMoment>(moment) is not { } asked || !LetterMoments.Of(asked).Released)
        {
            return Problems.Of(ProblemCatalogue.NoSuchThing, "Only damage-told and loss-told are released by a manager.");
        }

        if (string.IsNullOrWhiteSpace(body.Words))
        {
            return Problems.BadFields([new Core.Journal.Fault("/words", "The customer is told something")]);
        }

        var number = history.Job.Letters.NextNumber(asked);
        var decision = DeskCommand.Say(turn, history, caller, new LetterReleased { Number = number, Moment = asked, Words = body.Words }, body.Person);
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Made($"/v1/jobs/{label}/letters", decision.Job.Version, new ReleasedView(label, asked, number, turn.Now));
    }
}
