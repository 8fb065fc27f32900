using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Hazards;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Parts;
using Workshop.Core.Pieces;
using Workshop.Core.Promises;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Watches;
using Workshop.Service.Http.Refusals;

namespace Workshop.Service.Features.Jobs;

/// <summary>A job as it stands now, computed from its entries. What a role may not see is not there.</summary>
public sealed record JobView
{
    public required Label Label { get; init; }

    /// <summary>Entries so far.</summary>
    public required long Version { get; init; }

    public required string Variant { get; init; }

    public Instant? TakenInAt { get; init; }

    /// <summary>What is said where this kind of work has no water test.</summary>
    public string? Statement { get; init; }

    /// <summary>For a watch that came back under warranty: the job it was handed over with.</summary>
    public Label? WarrantyOf { get; init; }

    /// <summary>For a job that came from the paper book midway.</summary>
    public AdoptedView? Adopted { get; init; }

    /// <summary>The first required stage in route order that does not stand.</summary>
    public Stage? Stage { get; init; }

    public ImmutableArray<BranchView> Branches { get; init; } = [];

    public ImmutableArray<StageView> Stages { get; init; } = [];

    public ImmutableArray<NextStepView> AllowedNext { get; init; } = [];

    public ImmutableArray<HoldView> Holds { get; init; } = [];

    /// <summary>Waivers that the next event that needs one may use, for the house.</summary>
    public ImmutableArray<WaiverView> Waivers { get; init; } = [];

    public ImmutableArray<PieceView> Pieces { get; init; } = [];

    /// <summary>Spare parts: set aside, awaited, fitted.</summary>
    public ImmutableArray<JobPartView> Parts { get; init; } = [];

    public CaseView? Case { get; init; }

    public PromiseView? Promise { get; init; }

    public WearCheckView? WearCheck { get; init; }

    /// <summary>The newest.</summary>
    public RateSetFiguresView? RateSet { get; init; }

    /// <summary>The newest.</summary>
    public WaterTestView? WaterTest { get; init; }

    /// <summary>Results that have lost their ground after the watch had gone on.</summary>
    public ImmutableArray<GroundLostView> GroundLost { get; init; } = [];

    /// <summary>Reports that changed nothing and wait for a manager.</summary>
    public ImmutableArray<ReviewView> Reviews { get; init; } = [];

    /// <summary>What is not known yet, and the stage that will ask for it.</summary>
    public ImmutableArray<MissingMember> Missing { get; init; } = [];

    /// <summary>Reminders; local rules and licensed practice decide.</summary>
    public ImmutableArray<Caution> Cautions { get; init; } = [];

    /// <summary>As the watch came in.</summary>
    public string? Condition { get; init; }

    public ImmutableArray<PlaceCondition> ConditionGrid { get; init; } = [];

    public ArrivalNotes? Arrival { get; init; }

    public IntakeWishes? Wishes { get; init; }

    public WatchView? Watch { get; init; }

    /// <summary>For those who may see names.</summary>
    public CustomerView? Customer { get; init; }

    /// <summary>For those who may see names and amounts.</summary>
    public IntakeView? Intake { get; init; }

    public QuoteSummary? Quote { get; init; }

    public ImmutableArray<WarrantySummary> Warranty { get; init; } = [];

    public required JobLinks Links { get; init; }
}

/// <param name="TakenInOn">The day the watch came, as the paper book says.</param>
/// <param name="At">The stage it was in when it was adopted; what the route has before it is before our records.</param>
/// <param name="OwnNumber">The number of the paper book.</param>
/// <param name="QuotedMinor">For those who may see amounts: what the customer had agreed to.</param>
public sealed record AdoptedView(LocalDate TakenInOn, Stage At, string? OwnNumber, long? QuotedMinor);

/// <param name="Stage">The first stage of the branch that does not stand, or the last one when all do.</param>
/// <param name="State">How that stage stands.</param>
/// <param name="Since">Since when it is in that stage.</param>
/// <param name="Holder">Who has the piece this branch works on.</param>
public sealed record BranchView(Branch Branch, Stage Stage, StageState State, Instant? Since, string? Holder);

/// <param name="Since">Since when it is in this state; absent while untouched.</param>
/// <param name="By">Persons who are at it, or whose hands it went through.</param>
/// <param name="Event">The entry that brought the state.</param>
/// <param name="Missing">For a result without ground: the stages that were missing.</param>
public sealed record StageView(Stage Stage, Branch Branch, StageState State, Instant? Since, ImmutableArray<string> By, EntryRef? Event, ImmutableArray<Stage>? Missing, bool Optional, int? Minutes);

/// <param name="Starts">The event that starts it, or nothing.</param>
/// <param name="Finishes">The event or command that ends it.</param>
/// <param name="Against">Empty: allowed now.</param>
public sealed record NextStepView(Stage? Stage, string? Starts, string? Finishes, ImmutableArray<AgainstView> Against);

/// <param name="Reason">A word; a legal hold shows as a query to all but managers.</param>
/// <param name="LookAgainOn">A day to look again; its passing lifts nothing.</param>
public sealed record HoldView(string Reason, Instant Since, bool StopsPromise, string? Text, LocalDate? LookAgainOn);

/// <param name="Gate">The gate's full name.</param>
/// <param name="By">The manager who gave it.</param>
/// <param name="Until">The end of the local day it was given on; absent where it lasts until used.</param>
public sealed record WaiverView(string Gate, string? By, string Reason, Instant Since, Instant? Until);

/// <param name="GivenTo">Given and not yet taken: still the holder's.</param>
/// <param name="ExpectedBack">With a firm: the day it is to be back.</param>
/// <param name="Note">With a firm: the number of its delivery note.</param>
/// <param name="HandsOff">As whoever laid it there said: true, nobody is to touch it; false, others may go on.</param>
public sealed record PieceView(
    string Piece, PieceKind Kind, int Count, string Holder, Instant Since, string? GivenTo, Instant? GivenAt, LocalDate? ExpectedBack = null, string? Note = null, bool? HandsOff = null)
{
    public static PieceView Of(Piece piece) =>
        new(piece.Id, piece.Kind, piece.Count, piece.Holder, piece.Since, piece.GivenTo, piece.GivenAt, piece.ExpectedBack, piece.Note, piece.HandsOff);
}

/// <summary>A spare part of a job.</summary>
/// <param name="Reserved">Pieces that lie in the house for it.</param>
/// <param name="Awaited">Pieces still to come.</param>
/// <param name="ExpectedOn">The last day on which one of them is to come, where one was said.</param>
/// <param name="Orders">The orders that are to bring them.</param>
/// <param name="Essential">Takedown asks before it begins without it.</param>
public sealed record JobPartView(string Part, int Reserved, int Awaited, LocalDate? ExpectedOn, ImmutableArray<string> Orders, bool Essential, int Fitted)
{
    public static ImmutableArray<JobPartView> Of(PartBook book) =>
    [
        .. from part in book.Names()
           let awaited = book.Awaited().Where(one => one.Part == part).ToArray()
           select new JobPartView(
               part, book.Reserved(part), awaited.Sum(one => one.Count), awaited.Max(one => one.On), [.. awaited.Select(one => one.Order).OfType<string>().Distinct()],
               awaited.Any(one => one.Essential), book.Fitted.Where(one => one.Part == part).Sum(one => one.Count)),
    ];
}

/// <summary>Whether the case counts as closed, and the numbers compared at casing; one not known is set by its first reading.</summary>
public sealed record CaseView(bool Closed, Instant? Since, string? CaseSerial, string? MovementNumber);

/// <summary>Three dates, kept apart: promised to the customer, the shop's own target, and what plain arithmetic expects today.</summary>
/// <param name="On">Absent before the first promise.</param>
/// <param name="Forecast">Absent once the watch has left; a figure for the house, never a promise.</param>
/// <param name="AtRisk">Absent while the forecast keeps the promise.</param>
public sealed record PromiseView(
    LocalDate? On, LocalDate? Target, LocalDate? ApprovedOn, int? WorkingDays, int StoppedWorkingDays, ImmutableArray<SaidDateView> History, LocalDate? Forecast, AtRiskView? AtRisk);

/// <summary>The forecast is later than the promise.</summary>
/// <param name="Days">Open days from the promised day to the forecast.</param>
/// <param name="Why">What stands in the way, one of several.</param>
/// <param name="Since">The moment at which the forecast fell behind the promise.</param>
public sealed record AtRiskView(int Days, PromiseRiskReason Why, string Words, Instant? Since)
{
    public static AtRiskView? Of(Job job, ShopRules rules, Instant now, Language language) =>
        PromiseRisk.Of(job, rules, now) is { } risk ? new AtRiskView(risk.Days, risk.Why, risk.Words.In(language), PromiseRisk.From(job, rules)) : null;
}

public sealed record SaidDateView(LocalDate On, Instant SaidAt, string? Reason);

public sealed record RateSetFiguresView(Instant At, int Positions, decimal MeanPerDaySeconds, decimal SpreadPerDaySeconds);

public sealed record WaterTestView(Instant At, string Method, decimal? PressureBar, bool Passed);

/// <param name="Urgent">The watch is out of the house.</param>
public sealed record GroundLostView(Stage Stage, Instant Since, EntryRef? Because, bool Urgent);

/// <param name="Failed">The gates that had failed.</param>
public sealed record ReviewView(EntryRef Event, string Type, Instant At, string? Person, ImmutableArray<string> Failed);

/// <summary>An entry by its identity.</summary>
public sealed record EntryRef(string Source, string Id)
{
    public static EntryRef Of(EventId id) => new(id.Source, id.Id);
}

/// <summary>The newest version of the quote.</summary>
/// <param name="Accepted">Absent while nobody has answered.</param>
/// <param name="TotalMinor">For those who may see amounts; tax included.</param>
public sealed record QuoteSummary(int Version, Instant SentAt, LocalDate ValidThrough, int WorkingDays, bool? Accepted, Instant? AnsweredAt, long? TotalMinor, string? Currency);

public sealed record WarrantySummary(string Line, LocalDate HandedOverOn, LocalDate LastDay);
