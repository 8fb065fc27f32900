using System.Collections.Frozen;
using System.Collections.Immutable;

namespace Workshop.Core.Route;

/// <summary>What is true of a stage in every workshop.</summary>
/// <param name="EndedBy">Who or what ends it.</param>
/// <param name="RestsOn">The stages whose standing its result needs; when one of them falls, it falls.</param>
/// <param name="OpensTheCase">Work that can only be done on an open case.</param>
/// <param name="ResultOf">For a stage ended by a result: the type of the event that ends it.</param>
public sealed record StageFacts(EndedBy EndedBy, ImmutableArray<Stage> RestsOn, bool OpensTheCase = false, string? ResultOf = null)
{
    /// <summary>The result needs every required stage that stands earlier in the route.</summary>
    public bool RestsOnAllBefore { get; init; }
}

/// <summary>
/// The table of stages. What differs by kind of work (order, branches, needs, minutes) is data: <see cref="RouteDefinition"/>.
/// Common practice of the trade throughout.
/// </summary>
public static class StageTable
{
    private static readonly FrozenDictionary<Stage, StageFacts> Facts = new Dictionary<Stage, StageFacts>
    {
        [Stage.Expected] = new(EndedBy.Desk, []),
        [Stage.Intake] = new(EndedBy.Desk, []),
        [Stage.Diagnosis] = new(EndedBy.Told, []),
        [Stage.Quote] = new(EndedBy.Desk, []),
        [Stage.Queue] = new(EndedBy.Reached, []),
        [Stage.Takedown] = new(EndedBy.Told, [], OpensTheCase: true),
        [Stage.Cleaning] = new(EndedBy.Told, [Stage.Takedown], OpensTheCase: true),
        [Stage.Inspection] = new(EndedBy.Told, [Stage.Cleaning], OpensTheCase: true),
        [Stage.Rebuild] = new(EndedBy.Told, [Stage.Inspection], OpensTheCase: true),
        [Stage.Regulation] = new(EndedBy.Told, [Stage.Rebuild], OpensTheCase: true),
        [Stage.CaseStrip] = new(EndedBy.Told, [], OpensTheCase: true),
        [Stage.CaseWork] = new(EndedBy.Told, [Stage.CaseStrip], OpensTheCase: true),
        [Stage.Gaskets] = new(EndedBy.Told, [Stage.CaseWork], OpensTheCase: true),

        // Not on regulation and not on gaskets: a touched index or a leak leaves the dial alone.
        [Stage.DialAndHands] = new(EndedBy.Told, [Stage.Rebuild], OpensTheCase: true),
        [Stage.Casing] = new(EndedBy.Result, [Stage.DialAndHands, Stage.Gaskets], ResultOf: "case.closed"),
        [Stage.WaterTest] = new(EndedBy.Result, [Stage.Casing], ResultOf: "water-test.recorded"),
        [Stage.WearCheck] = new(EndedBy.Result, [Stage.Casing, Stage.Regulation], ResultOf: "wear-check.read"),

        // An opened case leaves the reserve standing.
        [Stage.ReserveAndFunctions] = new(EndedBy.Told, [Stage.Rebuild, Stage.DialAndHands]),
        [Stage.FinalControl] = new(EndedBy.Result, [], ResultOf: "final-control.passed") { RestsOnAllBefore = true },

        // Money is never void.
        [Stage.Settlement] = new(EndedBy.Told, []),
        [Stage.Ready] = new(EndedBy.Reached, [Stage.FinalControl, Stage.Settlement]),
        [Stage.HandedOver] = new(EndedBy.Desk, []),
        [Stage.ReturnUnrepaired] = new(EndedBy.Told, []),
        [Stage.Closed] = new(EndedBy.Service, []),
    }.ToFrozenDictionary();

    public static StageFacts Of(Stage stage) => Facts[stage];

    /// <summary>Stages a bench or desk can start and finish by saying so.</summary>
    public static bool CanBeTold(Stage stage) => Of(stage).EndedBy is EndedBy.Told;

    /// <summary>Stages that can be started, among them those that only a result ends.</summary>
    public static bool CanBeStarted(Stage stage) => Of(stage).EndedBy is EndedBy.Told or EndedBy.Result;
}
