using System.Collections.Immutable;
using Workshop.Core.Groups;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

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

    /// <summary>What a shop calls a kind of work of its own; null for those of the closed list.</summary>
    public Wording? Name { get; init; }

    /// <summary>False for what nobody orders: a warranty return, a return unrepaired.</summary>
    public bool Sold { get; init; } = true;

    /// <summary>True for a watch without a balance: it has no amplitude, no beat error, and is not wound.</summary>
    public bool? Quartz { get; init; }

    /// <summary>Stages that this kind of work rules out. What is neither here nor in the route is no part of it either.</summary>
    public ImmutableArray<Stage> Forbidden { get; init; } = [];

    /// <summary>The kind of work to change to where more is needed than this one has.</summary>
    public string? IfMoreIsNeeded { get; init; }

    public string? ToleranceKind { get; init; }

    /// <summary>True: the calibre's own tolerance goes before that of this kind of work, which stands where the calibre names none.</summary>
    public bool? CalibreToleranceFirst { get; init; }

    /// <summary>Where it is absent, the tolerance kind's mean rate at full wind judges the worn check.</summary>
    public RateWindow? WornRate { get; init; }

    /// <summary>Below this amplitude, dial up at full wind, the movement is not regulated but serviced.</summary>
    public decimal? RefusedBelowAmplitudeDegrees { get; init; }

    /// <summary>True: luminous paint that nobody has looked at is taken for radium, whatever the year.</summary>
    public bool? RadiumSuspectedUntilLooked { get; init; }

    /// <summary>True: nothing is polished unless the customer asks for it, so that nobody has to ask.</summary>
    public bool? PolishOnlyOnRequest { get; init; }

    /// <summary>What the customer is told where there is no water test.</summary>
    public Wording? Statement { get; init; }

    public WearRules? Wear { get; init; }

    /// <summary>Open days from approval to the promised date.</summary>
    public int PromisedWorkingDays { get; init; }

    /// <summary>The shop's own target lies this many open days before the promise.</summary>
    public int TargetWorkingDaysBefore { get; init; }

    /// <summary>What the final control looks at; each needs a result.</summary>
    public ImmutableArray<string> FinalChecks { get; init; } = [];

    /// <summary>The groups of parts that its movement usually comes apart into.</summary>
    public ImmutableArray<ExpectedGroup> Groups { get; init; } = [];

    public ImmutableArray<WarrantyOffer> Warranty { get; init; } = [];

    /// <summary>What people call it.</summary>
    public object Called => Name is { } own ? own : new Term("variant", Id);

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
