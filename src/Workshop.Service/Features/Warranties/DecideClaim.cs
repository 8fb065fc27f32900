using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Takedown;
using Workshop.Core.Warranties;
using Workshop.Core.Words;
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

    /// <summary>With a claim that is not covered: what was put right free of charge all the same, one of the rule set's; <c>magnetism-removed</c>.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string? Goodwill { get; init; }

    /// <summary>The evidence it rests on, of both sides, by the ids of <c>GET …/evidence</c>.</summary>
    [Length(0, 50)]
    public ImmutableArray<string>? Because { get; init; }

    /// <summary>With a covered claim: the evidence does not decide it. For the customer, once in a job's life.</summary>
    public bool InDoubt { get; init; }

    /// <summary>Where the fault lies.</summary>
    public WatchSystem? System { get; init; }

    /// <summary>Of a covered fault: the same again, or another. Where left out, the same where an earlier covered claim was about the same system.</summary>
    public Comeback? Comeback { get; init; }

    /// <summary>The manager's badge.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>A manager decides whether a claim is covered. Only a covered one adds its days, and only to the lines it is about.</summary>
public static class DecideClaim
{
    public static async Task<Once<Results<Done<ClaimView>, ProblemHttpResult>>> Handle(
        string label, int claim, JsonBody<ClaimDecisionBody> body, Once once, Caller caller, LanguageAsked language, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Decide(turn, job, claim, body.Value, caller, language.Best))
            : new Once<Results<Done<ClaimView>, ProblemHttpResult>>(refusal);

    internal static Results<Done<ClaimView>, ProblemHttpResult> Decide(Turn turn, Label label, int number, ClaimDecisionBody body, Caller caller, Language language = Language.English)
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
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var told = claim.ForTheLines();
        var running = others.Lines.Where(line => IsInTime(line, told, today)).Select(line => line.Line).ToImmutableArray();
        if (Faults(body, told, others, running, today).Concat(EvidenceInTurn.Unknown(body.Because, () => EvidenceInTurn.Of(turn, history, claim))).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var lines = body.Lines is { } named ? [.. named.Distinct(StringComparer.Ordinal)] : running;
        Comeback? comeback = !body.Covered ? null : body.Comeback ?? (IsRepeated(body, others) ? Comeback.Repeat : Comeback.New);
        if (claim.InDoubt == body.InDoubt && claim.System == body.System && claim.Comeback == comeback && claim.Because.SequenceEqual(body.Because ?? [])
            && claim.Covered == body.Covered && claim.Reason == body.Reason && claim.Goodwill == body.Goodwill && claim.Lines is { } decided && decided.SequenceEqual(lines))
        {
            return Answer.Done(ClaimView.Of(history.Job, history.Entries, claim, turn.Rules.Calendar, caller, language));
        }

        var decision = DeskCommand.Say(
            turn,
            history,
            caller,
            new ClaimDecided
            {
                Claim = number,
                Covered = body.Covered,
                Lines = lines,
                Reason = body.Reason,
                Goodwill = body.Goodwill,
                Because = body.Because is { Length: > 0 } because ? because : null,
                InDoubt = body.InDoubt ? true : null,
                System = body.System,
                Comeback = comeback,
            },
            body.Person);
        return decision.Outcome == Outcome.Refused
            ? TypedResults.Problem(DeskCommand.Refusal(decision))
            : Answer.Done(ClaimView.Of(decision.Job, turn.History(label)!.Entries, decision.Job.Warranty.Claims.First(one => one.Number == number), turn.Rules.Calendar, caller, language));
    }

    private static bool IsRepeated(ClaimDecisionBody body, WarrantyBook others) =>
        body.System is { } system && others.Claims.Any(one => one.Covered == true && one.System == system);

    // A report counts if the watch then comes soon enough; else the day it comes does.
    private static bool IsInTime(WarrantyLine line, WarrantyClaim told, LocalDate today)
    {
        var rules = line.Term.CountedBy.Claim;
        return told.DayThatCounts(rules) is { } day && WarrantyArithmetic.Covered(line, day) && !IsAwaitedTooLong(told, rules, today);
    }

    private static bool IsAwaitedTooLong(WarrantyClaim told, ClaimRules rules, LocalDate today) => told.ArrivedOn is null && today > told.ArrivesBy(rules);

    private static string NotRunning(WarrantyBook others, WarrantyClaim told, LocalDate today) =>
        others.Terms is [var first, ..] && IsAwaitedTooLong(told, first.CountedBy.Claim, today)
            ? $"It was reported on {told.ReportedOn:uuuu-MM-dd}, and the watch has not arrived by {told.ArrivesBy(first.CountedBy.Claim):uuuu-MM-dd}"
        : others.Terms is [var one, ..] && told.ArrivedTooLate(one.CountedBy.Claim)
            ? $"The watch came on {told.ArrivedOn:uuuu-MM-dd}, too late for the report of {told.ReportedOn:uuuu-MM-dd}: the day it came counts"
        : $"The fault was reported on {told.ReportedOn:uuuu-MM-dd}";

    private static IEnumerable<Fault> Faults(ClaimDecisionBody body, WarrantyClaim told, WarrantyBook others, ImmutableArray<string> running, LocalDate today)
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
                yield return new Fault($"/lines/{i}", $"'{line}' was not running. {NotRunning(others, told, today)}");
            }
        }

        if (body.Covered && running.IsEmpty)
        {
            yield return new Fault("/covered", $"No line was running. {NotRunning(others, told, today)}");
        }

        if (body.InDoubt && !body.Covered)
        {
            yield return new Fault("/inDoubt", "In doubt it is decided for the customer");
        }
        else if (body.InDoubt && others.Claims.FirstOrDefault(one => one.InDoubt) is { } before)
        {
            yield return new Fault("/inDoubt", $"Claim {before.Number} was decided in doubt already; it is done once");
        }

        if (body is { Covered: false, Comeback: not null })
        {
            yield return new Fault("/comeback", "What is not covered is no comeback");
        }

        if (body is { Covered: true, Goodwill: not null })
        {
            yield return new Fault("/goodwill", "What is covered is no goodwill");
        }
        else if (body.Goodwill is { } goodwill && !others.Goodwill.Contains(goodwill))
        {
            yield return new Fault("/goodwill", $"This warranty's goodwill is {(others.Goodwill.Any() ? string.Join(", ", others.Goodwill) : "nothing")}");
        }

        if (string.IsNullOrWhiteSpace(body.Reason))
        {
            yield return new Fault("/reason", "A decision has its reason");
        }
    }
}
