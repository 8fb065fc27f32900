using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Groups;
using Workshop.Core.Labels;
using Workshop.Core.ReserveTests;
using Workshop.Core.Route;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.Warranties;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.WearReports;

namespace Workshop.Core.Journal;

/// <summary>
/// What was decided when an entry was accepted and rests on something outside the stream (a badge, a calendar, the shop's rules).
/// Frozen: a later change of rules or code does not reach it.
/// </summary>
public sealed record Judged
{
    public static readonly Judged Nothing = new();

    /// <summary>The person behind the badge.</summary>
    public string? Person { get; init; }

    public string? Bench { get; init; }

    /// <summary>The label under which it was told, where that is not the job's first one, or no longer on the watch.</summary>
    public Label? Under { get; init; }

    /// <summary>The role of the key that spoke: bench, desk, manager, storefront, wall, or service.</summary>
    public string? Role { get; init; }

    /// <summary>Gates this entry went through although they did not pass, by tap, waiver or settlement.</summary>
    public ImmutableArray<string> Passing { get; init; } = [];

    /// <summary>Gates that had failed when the entry was noted.</summary>
    public ImmutableArray<string> Failed { get; init; } = [];

    /// <summary>Waivers used up by this entry.</summary>
    public ImmutableArray<EventId> WaiversUsed { get; init; } = [];

    /// <summary>The entry whose place this one took.</summary>
    public Replaced? InsteadOf { get; init; }

    /// <summary>The route of the job's kind of work, as it was when the watch was taken in, or when the kind of work was changed.</summary>
    public RouteDefinition? Route { get; init; }

    /// <summary>What a worn check that was started here owes, and the window it is judged by.</summary>
    public WearTerms? Wear { get; init; }

    /// <summary>What a static check that was started here is judged by.</summary>
    public StaticTerms? Static { get; init; }

    /// <summary>What a customer's report is compared with.</summary>
    public WearReportTerms? WearReport { get; init; }

    /// <summary>The kind of calibre and the orders that a step of a takedown was judged by.</summary>
    public TakedownTerms? Takedown { get; init; }

    /// <summary>What was known of the watch when a rate set was measured, and the tolerance it is judged by.</summary>
    public RateTerms? Rate { get; init; }

    /// <summary>The last moment at which a waiver given here may be used; null lasts until used.</summary>
    public Instant? UsableUntil { get; init; }

    /// <summary>Warranty lines that begin with the hand-over recorded here.</summary>
    public ImmutableArray<WarrantyTerm>? Warranty { get; init; }

    /// <summary>What is known of groups of parts when the takedown begins, or of one when it is declared.</summary>
    public GroupTerms? Groups { get; init; }

    /// <summary>The fillings that a run which was started here goes through, and as how many runs it counts on them.</summary>
    public RunTerms? Run { get; init; }

    /// <summary>What a trial of a function was judged by.</summary>
    public FunctionTerms? Function { get; init; }

    /// <summary>What a test of the reserve that was started here is judged by.</summary>
    public ReserveTerms? Reserve { get; init; }

    /// <summary>What was against the cautions of the trade in a water test; null where nothing was.</summary>
    public ImmutableArray<WaterCaution>? Water { get; init; }

    /// <summary>The calibre in which a cause was found, as the shop calls it.</summary>
    public string? Calibre { get; init; }
}

/// <summary>An entry that gave its place to another.</summary>
/// <param name="Position">The position of the first entry that stood at this place; its own where it was the first.</param>
public sealed record Replaced(EventId Entry, long Position);
