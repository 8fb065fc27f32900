using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Warranties;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Warranties;

public sealed record ClaimDecisionBody
{
    public required bool Covered { get; init; }

    /// <summary>The warranty lines it is about; all that were running on the day it was reported where left out.</summary>
    [Length(1, 20)]
    public ImmutableArray<string>? Lines { get; init; }

    [StringLength(2_000, MinimumLength = 1)]
    public required string Reason { get; init; }

    /// <summary>The manager's badge.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>A manager decides whether a claim is covered. Only a covered one adds its days, and only to the lines it is about.</summary>
public static class DecideClaim
{
    public static async Task<Once<Results<Done<ClaimView>, ProblemHttpResult>>> Handle(
        string label, int claim, JsonBody<ClaimDecisionBody> body, Once once, Caller caller, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Decide(turn, job, claim, body.Value, caller))
            : new Once<Results<Done<ClaimView>, ProblemHttpResult>>(refusal);

    internal static Results<Done<ClaimView>, ProblemHttpResult> Decide(Turn turn, Label label, int number, ClaimDecisionBody body, Caller caller)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        var book = history.Job.Warranty;
        if (book.Claims.FirstOrDefault(one => one.Number == number) is not { } claim)
        {
            return ReadClaims.NoClaim();
        }

        // Days that this very claim adds do not make it in time.
        var others = book with { Claims = book.Claims.Remove(claim) };
        var running = others.Lines.Where(line => WarrantyArithmetic.Covered(line, claim.ReportedOn)).Select(line => line.Line).ToImmutableArray();
        if (Faults(body, claim, others, running).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var lines = body.Lines is { } named ? [.. named.Distinct(StringComparer.Ordinal)] : running;
        if (claim.Covered == body.Covered && claim.Reason == body.Reason && claim.Lines is { } decided && decided.SequenceEqual(lines))
        {
            return Answer.Done(ClaimView.Of(history.Job, history.Entries, claim, caller));
        }

        var decision = DeskCommand.Say(
            turn, history, caller, new ClaimDecided { Claim = number, Covered = body.Covered, Lines = lines, Reason = body.Reason }, body.Person);
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Done(ClaimView.Of(decision.Job, turn.History(label)!.Entries, decision.Job.Warranty.Claims.First(one => one.Number == number), caller));
    }

    private static IEnumerable<Fault> Faults(ClaimDecisionBody body, Claim claim, WarrantyBook others, ImmutableArray<string> running)
    {
        var has = others.Terms.Select(term => term.Line).ToArray();
        foreach (var (i, line) in (body.Lines ?? []).Index())
        {
            if (!has.Contains(line))
            {
                yield return new Fault($"/lines/{i}", has.Length == 0 ? "The job came without a warranty" : $"The job's lines are {string.Join(", ", has)}");
            }
            else if (body.Covered && !running.Contains(line))
            {
                yield return new Fault($"/lines/{i}", $"'{line}' was not running on {claim.ReportedOn:uuuu-MM-dd}, when the fault was reported");
            }
        }

        if (body.Covered && running.IsEmpty)
        {
            yield return new Fault("/covered", $"No line was running on {claim.ReportedOn:uuuu-MM-dd}, when the fault was reported");
        }

        if (string.IsNullOrWhiteSpace(body.Reason))
        {
            yield return new Fault("/reason", "A decision has its reason");
        }
    }
}
