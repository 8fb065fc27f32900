using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Route;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

public sealed record VariantBody
{
    /// <summary>The kind of work it is from now on.</summary>
    [StringLength(60, MinimumLength = 1)]
    public required string Variant { get; init; }

    [StringLength(2_000, MinimumLength = 1)]
    public required string Reason { get; init; }

    /// <summary>Gates that ask and are to be passed.</summary>
    [Length(0, 20)]
    public ImmutableArray<string>? Despite { get; init; }

    /// <summary>The manager's badge.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

/// <summary>A job as another kind of work.</summary>
/// <param name="Version">The version of the job.</param>
/// <param name="Kept">Stages that stay done.</param>
/// <param name="Added">Stages that the new kind of work requires and the old one did not.</param>
/// <param name="Again">Stages that stood and are to be done again: what they rest on is not there any more.</param>
/// <param name="Missing">What the intake lacks for it, and the stage that will ask.</param>
/// <param name="AwaitsApproval">True: the customer had agreed to something else, and work is held until they answer a new quote.</param>
/// <param name="PromisedOn">The date the customer was told last; an accepted quote gives it anew.</param>
public sealed record VariantChangedView(
    Label Job, long Version, string Variant, string Was, Stage? Stage, ImmutableArray<Stage> Kept, ImmutableArray<Stage> Added, ImmutableArray<Stage> Again,
    ImmutableArray<MissingMember> Missing, bool AwaitsApproval, LocalDate? PromisedOn, Outcome Outcome, ImmutableArray<string> Flags);

/// <summary>
/// A manager makes the job another kind of work. What is done stays done where its ground still stands, what is missing is added, the
/// quote is void, and where the customer had agreed, work waits for their word.
/// </summary>
public static class ChangeVariant
{
    public static async Task<Once<Results<Done<VariantChangedView>, ProblemHttpResult>>> Handle(
        string label, JsonBody<VariantBody> body, Once once, Caller caller, Writer writer) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await once.Do(writer, body.Bytes, turn => Change(turn, job, body.Value, caller))
            : new Once<Results<Done<VariantChangedView>, ProblemHttpResult>>(refusal);

    internal static Results<Done<VariantChangedView>, ProblemHttpResult> Change(Turn turn, Label label, VariantBody body, Caller caller)
    {
        if (turn.History(label) is not { } history)
        {
            return PathLabel.NoJob();
        }

        var before = history.Job;
        if (Faults(turn, before, body).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var route = turn.Rules.Routes[body.Variant];
        var sheet = IntakeSheet.Read(turn.Intake(label)?.Text ?? "{}");
        var facts = WatchStore.Find(turn, before.Intake.Watch)?.ReadFacts();
        var decision = DeskCommand.Say(
            turn,
            history,
            caller,
            new VariantChanged
            {
                Variant = body.Variant,
                Was = before.Intake.Variant,
                Reason = body.Reason,
                Missing = IntakeNeeds.Missing(Known(turn, before, sheet.Members), sheet.Members.Wishes?.Polish, route, before.Intake.Adopted?.At),
                Hazards = facts is null ? [] : [.. TakeInJob.HazardsOf(route, facts).Except(before.Intake.Hazards)],
            },
            body.Person,
            body.Despite);
        if (decision.Outcome == Outcome.Refused)
        {
            return TypedResults.Problem(DeskCommand.Refusal(decision));
        }

        var after = decision.Job;
        var stages = route.Stages.Where(one => StageTable.Of(one.Stage).EndedBy != EndedBy.Reached).Select(one => one.Stage).ToArray();
        return Answer.Done(new VariantChangedView(
            label, after.Version, after.Intake.Variant, before.Intake.Variant, after.Standings.Current,
            [.. stages.Where(stage => after.Standings.Of(stage).IsBehind)],
            [.. stages.Where(stage => before.Route?.Find(stage) is not { Optional: false } && route.Find(stage) is { Optional: false })],
            [.. stages.Where(stage => before.Standings.Of(stage).IsBehind && !after.Standings.Of(stage).IsBehind)],
            after.Intake.Missing, after.Holds.Holds(HoldReason.Approval), after.Promise.On, decision.Outcome, decision.Flags));
    }

    private static HashSet<string> Known(Turn turn, Job job, IntakeMembers members)
    {
        var known = TakeInJob.KnownOf(members, CustomerStore.Find(turn, job.Intake.Customer));
        return job.Intake.PolishConfirmedAt is null ? known : [.. known, IntakeMember.PolishConfirmed];
    }

    private static IEnumerable<Fault> Faults(Turn turn, Job job, VariantBody body)
    {
        if (!turn.Rules.Routes.ContainsKey(body.Variant))
        {
            yield return new Fault("/variant", $"The shop's kinds of work are {string.Join(", ", turn.Rules.Routes.Keys.Order(StringComparer.Ordinal))}");
        }
        else if (body.Variant == job.Intake.Variant)
        {
            yield return new Fault("/variant", $"The job is '{body.Variant}' already");
        }
        else if (body.Variant == TakeInJob.WarrantyReturn && job.Intake.WarrantyOf is null)
        {
            yield return new Fault("/variant", "A warranty return names the job it comes from when it is taken in");
        }

        if (string.IsNullOrWhiteSpace(body.Reason))
        {
            yield return new Fault("/reason", "Why is missing; somebody will ask");
        }
    }
}
