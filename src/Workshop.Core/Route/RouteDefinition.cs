using System.Collections.Immutable;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;

namespace Workshop.Core.Route;

/// <summary>A stage another one asks for before it starts; <see cref="Stop"/> where no tap goes through.</summary>
public readonly record struct Need(Stage Stage, bool Stop);

/// <summary>One stage of a route: its branch, what it needs, and its usual bench minutes.</summary>
public sealed record RouteStage
{
    public required Stage Stage { get; init; }

    public required Branch Branch { get; init; }

    /// <summary>Needs by name; "everything before" is already expanded.</summary>
    public ImmutableArray<Need> Needs { get; init; } = [];

    public bool Optional { get; init; }

    public int? Minutes { get; init; }
}

/// <summary>
/// What differs by kind of work, as data: the stages in order with branch, needs and minutes, and the figures of its checks.
/// Frozen into the job when the watch is taken in.
/// </summary>
public sealed record RouteDefinition
{
    public required string Id { get; init; }

    public required ImmutableArray<RouteStage> Stages { get; init; }

    public string? ToleranceKind { get; init; }

    public RateWindow? WornRate { get; init; }

    public WearRules? Wear { get; init; }

    /// <summary>Open days from approval to the promised date.</summary>
    public int PromisedWorkingDays { get; init; }

    /// <summary>The shop's own target lies this many open days before the promise.</summary>
    public int TargetWorkingDaysBefore { get; init; }

    /// <summary>What the final control looks at; each needs a result.</summary>
    public ImmutableArray<string> FinalChecks { get; init; } = [];

    public ImmutableArray<WarrantyOffer> Warranty { get; init; } = [];

    public RouteStage? Find(Stage stage) => Stages.FirstOrDefault(one => one.Stage == stage);

    public bool Has(Stage stage) => Find(stage) is not null;

    /// <summary>Whether the route has both, the one before the other.</summary>
    public bool ComesBefore(Stage one, Stage other)
    {
        var stages = Stages.Select(planned => planned.Stage).ToList();
        return stages.IndexOf(one) is >= 0 and var first && first < stages.IndexOf(other);
    }

    /// <summary>The required stages that come before this one in the route.</summary>
    public IEnumerable<Stage> RequiredBefore(Stage stage) =>
        Stages.TakeWhile(one => one.Stage != stage).Where(one => !one.Optional).Select(one => one.Stage);

    /// <summary>The stages whose standing a result of this one needs, restricted to the route.</summary>
    public IEnumerable<Stage> GroundOf(Stage stage)
    {
        var facts = StageTable.Of(stage);
        return facts.RestsOnAllBefore ? RequiredBefore(stage) : facts.RestsOn.Where(Has);
    }
}
