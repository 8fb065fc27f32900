using Workshop.Core.FunctionChecks;
using Workshop.Core.Intake;
using Workshop.Core.ReserveTests;
using Workshop.Core.WaterTests;

namespace Workshop.Core.Jobs;

/// <summary>What the house has written down of a watch and its movement, read in the turn of an event that rests on it. Absent is not known.</summary>
public sealed record WatchKnown
{
    public required CalibreKind Kind { get; init; }

    /// <summary>The calibre as the shop calls it: the id of its document, else what was said at intake.</summary>
    public string? Calibre { get; init; }

    /// <summary>It has a calendar.</summary>
    public bool? Calendar { get; init; }

    /// <summary>Said of this very watch at intake.</summary>
    public decimal? ReserveHoursOfWatch { get; init; }

    /// <summary>Stated by the maker of the calibre.</summary>
    public decimal? ReserveHoursOfCalibre { get; init; }

    public int? MadeInYear { get; init; }

    /// <summary>The kind of work is for vintage watches.</summary>
    public bool Vintage { get; init; }

    public WaterFacts Water { get; init; } = WaterFacts.Nothing;

    public MovementFacts Movement => new(Kind, Calendar);

    public decimal? ReserveHours => ReserveHoursOfWatch ?? ReserveHoursOfCalibre;

    public ReserveTerms ReserveBy(decimal? told, ReserveRules rules) => ReserveTerms.Of(told, ReserveHoursOfWatch, ReserveHoursOfCalibre, Vintage, MadeInYear, rules);

    /// <summary>Whether the rules have something to ask of it for this event.</summary>
    public static bool IsAsked(Journal.WorkshopEvent one) => one is FunctionChecked or ReserveTestStarted or Stops.StopExplained or WaterTestRecorded or Route.StageStarted { Stage: Route.Stage.WaterTest };
}
