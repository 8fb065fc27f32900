using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.Gates;
using Workshop.Core.Journal;
using Workshop.Core.Quotes;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;

namespace Workshop.Core.Jobs;

/// <summary>Something that may come next, and what stands against it now.</summary>
/// <param name="Starts">The event that starts the stage, or null where nothing starts it.</param>
/// <param name="Finishes">The event or command that ends it.</param>
/// <param name="Against">Empty: allowed now.</param>
public sealed record NextStep(Stage? Stage, string? Starts, string? Finishes, ImmutableArray<Objection> Against);

/// <summary>What may come next in a job: for every required stage that does not stand, in route order.</summary>
public static class NextSteps
{
    /// <param name="role">The role of whoever asks; a legal hold shows as a query to all but managers.</param>
    public static ImmutableArray<NextStep> Of(Job job, ShopRules rules, Instant now, string role)
    {
        if (!job.TakenIn || job.Standings.HandedOver)
        {
            return [];
        }

        var steps = ImmutableArray.CreateBuilder<NextStep>();
        foreach (var planned in job.Standings.Required.Where(one => !job.Standings.Stands(one.Stage)))
        {
            var stage = planned.Stage;
            if (StageTable.Of(stage).EndedBy == EndedBy.Reached)
            {
                continue;
            }

            var running = job.Standings.Of(stage).State == StageState.Running;

            // A result needs no start; what stands against it stands against the step, also before anybody is at it.
            var start = running ? [] : Against(StartingEvent(stage));
            var end = running || StageTable.Of(stage).EndedBy == EndedBy.Result ? Against(FinishingEvent(job, stage)) : [];
            steps.Add(new NextStep(stage, running ? null : StartOf(stage), FinishOf(stage), [.. start.Concat(end).DistinctBy(one => (one.Gate, one.Line.ToString()))]));
        }

        steps.Add(new NextStep(null, "hold.placed", "hold.lifted", []));
        steps.Add(new NextStep(null, "stage.sent-back", null, []));
        return steps.ToImmutable();

        IEnumerable<Objection> Against(WorkshopEvent? one) => one is null ? []
            : JobGates.Ask(job, new Asking { Event = one, Role = role, At = now, Rules = rules })
                .Where(objection => objection.Strength != Strength.Note && !(objection.Waivable && job.Waivers.For(objection.Gate, now) is not null));
    }

    private static string? StartOf(Stage stage) => stage switch
    {
        Stage.WearCheck => "wear-check.started",
        Stage.Quote => "quote.sent",
        _ when StageTable.CanBeStarted(stage) => "stage.started",
        _ => null,
    };

    private static string? FinishOf(Stage stage) => stage switch
    {
        Stage.Quote => "quote.answered",
        Stage.HandedOver => "job.handed-over",
        _ => StageTable.Of(stage).ResultOf ?? (StageTable.CanBeTold(stage) ? "stage.finished" : null),
    };

    private static WorkshopEvent? StartingEvent(Stage stage) => stage switch
    {
        // What only the person can say (wound, offset) is not held against the step.
        Stage.WearCheck => new WearCheckStarted { Kind = WearCheckKind.Worn, FullyWound = true, OffsetSeconds = 0 },
        Stage.Quote => new QuoteSent { Version = 1, Lines = [], Currency = "", ValidThrough = default, WorkingDays = 0 },
        Stage.HandedOver => new JobHandedOver { How = HandedOverHow.Collected, On = default },
        _ when StageTable.CanBeStarted(stage) => new StageStarted { Stage = stage },
        _ => null,
    };

    private static WorkshopEvent? FinishingEvent(Job job, Stage stage) => stage switch
    {
        Stage.Casing => new CaseClosed { JobLabel = job.Label.ToString(), CaseSerial = job.Case.CaseSerial ?? "" },
        Stage.FinalControl => new FinalControlPassed { Checks = [.. (job.Route?.FinalChecks ?? []).Select(check => new FinalCheck(check, CheckResult.Ok))] },
        _ when StageTable.CanBeTold(stage) => new StageFinished { Stage = stage },
        _ => null,
    };
}
