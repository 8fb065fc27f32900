using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.Route;

public enum StageState
{
    Open,
    Running,
    Done,
    Failed,
    Void,

    /// <summary>A result whose ground was gone when it was told: kept, shown, of no effect.</summary>
    GroundLost,

    /// <summary>Done before the job was adopted from the paper book: it stands, and is evidence of nothing.</summary>
    BeforeOurRecords,
}

/// <summary>How one stage stands.</summary>
public sealed record Standing
{
    public static readonly Standing Untouched = new();

    public StageState State { get; init; }

    public Instant? Since { get; init; }

    /// <summary>The entry that brought the present state.</summary>
    public EventId? By { get; init; }

    /// <summary>Who is at it now.</summary>
    public ImmutableSortedSet<string> At { get; init; } = [];

    /// <summary>Persons of its starts and finishes since it was last void.</summary>
    public ImmutableSortedSet<string> Hands { get; init; } = [];

    /// <summary>The ground that was missing.</summary>
    public ImmutableArray<Stage> Missing { get; init; } = [];

    /// <summary>Done, by our records or before them.</summary>
    public bool IsBehind => State is StageState.Done or StageState.BeforeOurRecords;
}

/// <summary>A result that lost its ground after the watch had gone on: the manager's, until it is done again, settled or waived.</summary>
/// <param name="Urgent">The watch is out of the house.</param>
public sealed record LostGround(Stage Stage, EventId? Because, Instant Since, bool Urgent);

/// <summary>
/// The standing of every stage of one job. Areas say what happened (<see cref="StageWord"/>); here it is checked whether a result has
/// ground to stand on, and what is made void takes with it whatever rests on it.
/// </summary>
public sealed record Standings
{
    public static readonly Standings Empty = new();

    public RouteDefinition? Route { get; init; }

    /// <summary>Stages that were touched.</summary>
    public ImmutableSortedDictionary<Stage, Standing> Touched { get; init; } = ImmutableSortedDictionary<Stage, Standing>.Empty;

    /// <summary>The quote was refused: all after it gives way to the return.</summary>
    public bool ReturnsUnrepaired { get; init; }

    /// <summary>Results told without ground, and a final control that bad news took away after the watch had gone on.</summary>
    public ImmutableSortedDictionary<Stage, LostGround> Lost { get; init; } = ImmutableSortedDictionary<Stage, LostGround>.Empty;

    public Standing Of(Stage stage) => Touched.GetValueOrDefault(stage, Standing.Untouched);

    /// <summary>Stages of the route that a required result must have, in order.</summary>
    public IEnumerable<RouteStage> Required => Plan.Where(one => !one.Optional);

    /// <summary>The route as it is walked: after a refusal the return replaces all that follows the quote.</summary>
    public IEnumerable<RouteStage> Plan =>
        Route is null ? []
        : !ReturnsUnrepaired ? Route.Stages
        : Route.Stages.TakeWhile(one => one.Stage != Stage.Quote).Append(new RouteStage { Stage = Stage.ReturnUnrepaired, Branch = Branch.Release })
            .Append(new RouteStage { Stage = Stage.HandedOver, Branch = Branch.Release, Needs = [new(Stage.ReturnUnrepaired, Stop: true)] });

    public RouteStage? InPlan(Stage stage) => Plan.FirstOrDefault(one => one.Stage == stage);

    /// <summary>Done, or before our records, or not in the route, or optional and untouched.</summary>
    public bool Stands(Stage stage) =>
        Of(stage).IsBehind || InPlan(stage) is not { } planned || (planned.Optional && !Touched.ContainsKey(stage));

    /// <summary>The first required stage in route order that does not stand; the last one when all do.</summary>
    public Stage? Current
    {
        get
        {
            Stage? last = null;
            foreach (var one in Required)
            {
                last = one.Stage;
                if (!Stands(one.Stage))
                {
                    return one.Stage;
                }
            }

            return Of(Stage.Closed).State == StageState.Done ? Stage.Closed : last;
        }
    }

    /// <summary>The queue is behind it: work on movement or case has begun.</summary>
    public bool QueueReached => Route is null || !Route.Has(Stage.Queue) || Of(Stage.Queue).IsBehind;

    public bool HandedOver => Of(Stage.HandedOver).State == StageState.Done;

    public bool IsReady => Of(Stage.Ready).IsBehind;

    /// <summary>What lost its ground and was not done again since; urgent once the watch has left the house.</summary>
    public IEnumerable<LostGround> GroundLost => Lost.Values.Where(lost => InPlan(lost.Stage) is not null).Select(lost => lost with { Urgent = HandedOver });

    /// <summary>Hears what an area said about an entry.</summary>
    /// <returns>The standings after it and the stages that fell.</returns>
    public (Standings After, ImmutableArray<Stage> Fell) Hear(IEnumerable<StageWord> says, Entry entry)
    {
        var after = this;
        var fell = ImmutableArray.CreateBuilder<Stage>();
        foreach (var word in says)
        {
            after = word switch
            {
                Began began => after.Begin(began.Stage, entry),
                Ended ended => after.End(ended, entry),
                Failed failed => after.Fail(failed, entry, fell),
                Fell one => after.Fall(one.Stage, itself: true, entry, fell),
                WasBefore before => after.LeaveBehind(before.At, entry),
                RouteChanged changed => after.Change(changed.Route, entry, fell),
                Returning returning => after with { ReturnsUnrepaired = returning.Unrepaired },
                _ => after,
            };
        }

        return (after.ReachWhatFollows(entry), fell.ToImmutable());
    }

    private Standings LeaveBehind(Stage at, Entry entry)
    {
        var behind = new Standing { State = StageState.BeforeOurRecords, By = entry.Id };
        return (Route?.Stages ?? []).TakeWhile(one => one.Stage != at).Where(one => !one.Optional).Aggregate(this, (standings, one) => standings.With(one.Stage, behind));
    }

    // What was done stays done. The quote is void and the final control with it; and since a result stands only on ground that stands,
    // what rests on work that the new kind adds is to be done again. What the old kind went through without stays passed.
    private Standings Change(RouteDefinition route, Entry entry, ImmutableArray<Stage>.Builder fell)
    {
        var old = Route;
        var after = (this with { Route = route, ReturnsUnrepaired = false })
            .Fall(Stage.Quote, itself: true, entry, fell)
            .Fall(Stage.FinalControl, itself: true, entry, fell);
        foreach (var planned in route.Stages)
        {
            if (after.Of(planned.Stage).IsBehind && route.GroundOf(planned.Stage).Any(ground => old?.Has(ground) == false && !after.Stands(ground)))
            {
                after = after.Fall(planned.Stage, itself: true, entry, fell);
            }
        }

        return after;
    }

    private Standings Begin(Stage stage, Entry entry)
    {
        var standing = Of(stage);
        if (InPlan(stage) is null || standing.IsBehind)
        {
            return this;
        }

        var running = standing.State == StageState.Running ? standing : standing with { State = StageState.Running, Since = entry.Effective, By = entry.Id, Missing = [] };
        return With(stage, running with { At = Named(running.At, entry), Hands = Named(running.Hands, entry) }).ReachQueue(stage, entry);
    }

    private Standings End(Ended ended, Entry entry)
    {
        var stage = ended.Stage;
        var standing = Of(stage);
        if (stage == Stage.Closed)
        {
            return With(stage, standing with { State = StageState.Done, Since = entry.Effective, By = entry.Id });
        }

        if (InPlan(stage) is null)
        {
            return this;
        }

        // Told again it stays what it is; but whoever tells it has had a hand in it.
        if (standing.State == StageState.Done || (standing.State == StageState.BeforeOurRecords && StageTable.Of(stage).EndedBy != EndedBy.Result))
        {
            return With(stage, standing with { Hands = Named(standing.Hands, entry) });
        }

        var missing = MissingGround(stage, [.. entry.Judged.Passing, .. ended.Passed]);
        if (missing.Length > 0 && ended.OnGroundOnly)
        {
            return this;
        }

        var told = standing with
        {
            State = missing.Length == 0 ? StageState.Done : StageState.GroundLost,
            Since = entry.Effective,
            By = entry.Id,
            At = [],
            Hands = Named(standing.Hands, entry),
            Missing = missing,
        };
        var lost = missing.Length == 0 ? Lost.Remove(stage) : Lost.SetItem(stage, new LostGround(stage, entry.Id, entry.Effective, Urgent: false));
        return (this with { Lost = lost }).With(stage, told).ReachQueue(stage, entry);
    }

    private Standings Fail(Failed failed, Entry entry, ImmutableArray<Stage>.Builder fell)
    {
        var stage = failed.Stage;
        if (InPlan(stage) is null || (failed.OnGroundOnly && MissingGround(stage, entry.Judged.Passing).Length > 0))
        {
            return this;
        }

        return Fall(stage, itself: false, entry, fell)
            .With(stage, Of(stage) with { State = StageState.Failed, Since = entry.Effective, By = entry.Id, At = [], Missing = [] });
    }

    private Standings Fall(Stage root, bool itself, Entry entry, ImmutableArray<Stage>.Builder fell)
    {
        if (Route is null)
        {
            return this;
        }

        // Route order is not needed: a stage falls when any of its ground has, until nothing more falls.
        var fallen = new SortedSet<Stage> { root };
        for (var grows = true; grows;)
        {
            grows = false;
            foreach (var one in Route.Stages)
            {
                if (!fallen.Contains(one.Stage) && Route.GroundOf(one.Stage).Any(fallen.Contains))
                {
                    grows |= fallen.Add(one.Stage);
                }
            }
        }

        var after = this;
        foreach (var stage in fallen)
        {
            if (stage == root && !itself)
            {
                continue;
            }

            fell.Add(stage);
            var standing = after.Of(stage);
            if (standing.State is StageState.Open or StageState.Void)
            {
                continue;
            }

            after = after.With(stage, new Standing { State = StageState.Void, Since = entry.Effective, By = entry.Id });
            if (stage == Stage.FinalControl && standing.State == StageState.Done && (entry.Has(EntryFlag.Late) || after.HandedOver))
            {
                after = after with { Lost = after.Lost.SetItem(stage, new LostGround(stage, entry.Id, entry.Effective, Urgent: false)) };
            }
        }

        return after;
    }

    private ImmutableArray<Stage> MissingGround(Stage stage, ImmutableArray<string> passed) =>
        Route is null || ReturnsUnrepaired ? []
        : [.. Route.GroundOf(stage).Where(ground => !Stands(ground) && !passed.Contains($"needs/{Word.Of(ground)}"))];

    /// <summary>The queue is reached by the first work on movement or case; nobody says it.</summary>
    private Standings ReachQueue(Stage stage, Entry entry) =>
        InPlan(stage) is { Branch: Branch.Movement or Branch.Case } && InPlan(Stage.Queue) is not null && !Of(Stage.Queue).IsBehind
            ? With(Stage.Queue, new Standing { State = StageState.Done, Since = entry.Effective, By = entry.Id })
            : this;

    private Standings ReachWhatFollows(Entry entry)
    {
        if (InPlan(Stage.Ready) is null)
        {
            return this;
        }

        var reached = Of(Stage.FinalControl).IsBehind && Stands(Stage.Settlement);
        return reached == Of(Stage.Ready).IsBehind ? this
            : With(Stage.Ready, new Standing { State = reached ? StageState.Done : StageState.Void, Since = entry.Effective, By = entry.Id });
    }

    private Standings With(Stage stage, Standing standing) => this with { Touched = Touched.SetItem(stage, standing) };

    private static ImmutableSortedSet<string> Named(ImmutableSortedSet<string> names, Entry entry) =>
        entry.Person is { } person ? names.Add(person) : names;
}
