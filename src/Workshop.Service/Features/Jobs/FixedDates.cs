using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Intake;
using Workshop.Core.Promises;
using Workshop.Core.Route;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>The day a watch is needed by, and the day by which one that comes in now is ready nine times in ten.</summary>
/// <param name="Reachable">False: the time to say no is now.</param>
/// <param name="Basis">Counted from jobs of the house, or as usual.</param>
/// <param name="Jobs">Jobs of this kind of work that were counted, or that there are so far.</param>
public sealed record FixedDateView(LocalDate Date, LocalDate ReachableBy, bool Reachable, ReachableBasis Basis, int Jobs, string Words);

/// <summary>Says at the counter whether a wedding can be kept, not three weeks later.</summary>
public static class FixedDates
{
    private const string LastReadySql = """
        select taken_in_at, ready_at
        from job
        where site = @site
          and variant = @variant
          and ready_at is not null
          and taken_in_at is not null
        order by ready_at desc
        limit @limit
        """;

    /// <summary>Null where no day is fixed, or the kind of work is not known.</summary>
    public static FixedDateView? Of(Turn turn, LocalDate? day, RouteDefinition? route) => day is null || route is null ? null : Shown(day, Reachable(turn, route));

    /// <summary>Null where no day is fixed or nobody counted.</summary>
    public static FixedDateView? Shown(LocalDate? day, ReachableDate? by) =>
        day is { } date && by is not null ? new FixedDateView(date, by.On, by.On <= date, by.Basis, by.Jobs, by.Words.ToString()) : null;

    /// <summary>By what the shop has delivered of this kind of work.</summary>
    public static ReachableDate Reachable(Turn turn, RouteDefinition route)
    {
        var (rules, calendar) = (turn.Rules.Intake, turn.Rules.Calendar);
        var last = turn.Query<ReadyJob>(LastReadySql, new { site = turn.Site, variant = route.Id, limit = rules.LastJobsCounted });
        return ReachableDate.For(
            turn.Now,
            [.. last.Select(one => calendar.OpenDaysBetween(calendar.DayZero(Microseconds.Read(one.TakenInAt)), calendar.DateOf(Microseconds.Read(one.ReadyAt))))],
            route, rules, calendar);
    }

    /// <summary>What stands against taking a watch in for that day. Asked before anything is written: there is no job yet that could keep it.</summary>
    public static ProblemHttpResult? Against(Turn turn, LocalDate? day, ReachableDate? reachable, ImmutableArray<string> despite)
    {
        ImmutableArray<Objection> against =
        [
            .. FactGates.FixedDate(day, reachable, turn.Rules).Where(one => one.Strength == Strength.Stop || (one.Strength == Strength.Ask && !despite.Contains(one.Gate))),
        ];
        if (against.IsEmpty)
        {
            return null;
        }

        var problem = GateProblems.Details(against);
        problem.Extensions["fixedDate"] = Shown(day, reachable);
        return TypedResults.Problem(problem);
    }

    private sealed record ReadyJob
    {
        public required long TakenInAt { get; init; }

        public required long ReadyAt { get; init; }
    }
}
