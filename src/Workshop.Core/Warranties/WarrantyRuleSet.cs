using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.Warranties;

/// <summary>From what a warranty runs.</summary>
public enum WarrantyFrom
{
    HandOver,
}

/// <summary>Whether the day a term runs from is its first day. Counted, a term ends on the day before the like-numbered one.</summary>
public enum FirstDay
{
    NotCounted,
    Counted,
}

/// <summary>What stands in for a day that the last month lacks; one value, kept for the reader.</summary>
public enum MonthEnd
{
    LastDayOfMonth,
}

/// <summary>When a last day gives way to the next day that counts.</summary>
public enum RollWhen
{
    Never,
    ClosedDay,
    WeekendOrHoliday,
}

/// <summary>Which day of a claim decides whether it is in time.</summary>
public enum ClaimDay
{
    Reported,
}

/// <summary>What the time in the house for a claim adds.</summary>
public enum ExtensionRule
{
    None,
    DaysInHouse,
    Fixed,
}

/// <summary>The day a stay begins with.</summary>
public enum StayFrom
{
    Received,
}

/// <summary>The day a stay ends with: of a watch returned in parts, that of its last cased piece.</summary>
public enum StayUntil
{
    Returned,
}

/// <summary>Which of several last days counts.</summary>
public enum LastDayOf
{
    LaterOfAll,
}

/// <summary>Whether the warranty goes to a new owner.</summary>
public enum FollowsTheWatch
{
    Always,
    WithIntactSeal,
    Never,
}

/// <summary>Where a warranty starts. Figures: common practice.</summary>
public sealed record WarrantyStartRules
{
    public WarrantyFrom From { get; init; }

    /// <summary>A watch that nobody collects: its warranty starts at the latest this long after it was ready. Calendar days.</summary>
    public Period NotCollectedAfterReady { get; init; } = Period.FromDays(30);

    /// <summary>A parcel whose delivery nobody has reported counts as delivered this long after dispatch. Calendar days.</summary>
    public Period PresumedDeliveredAfterDispatch { get; init; } = Period.FromDays(7);
}

/// <summary>Whether a last day on which nobody is there, or nobody works, gives way to the next one.</summary>
public sealed record RollRules
{
    /// <summary>The calendar and the holidays of the shop itself.</summary>
    public const string ShopCalendar = "shop";

    public RollWhen When { get; init; }

    /// <summary><c>shop</c>, or the id of a region of public holidays: <c>DE-BW</c>, <c>GB-ENG</c>, <c>TARGET</c>.</summary>
    [StringLength(20, MinimumLength = 1)]
    public string Calendar { get; init; } = ShopCalendar;
}

/// <summary>Claims in time.</summary>
public sealed record ClaimRules
{
    public ClaimDay DayThatCounts { get; init; }

    /// <summary>Calendar days after the report within which the watch is to arrive, else the day it arrives counts; no limit where left out.</summary>
    public Period? WatchArrivesWithin { get; init; }

    /// <summary>Elapsed time after receipt within which a manager decides. Common practice.</summary>
    public Duration DecideWithin { get; init; } = Duration.FromHours(48);
}

/// <summary>What a claim adds to the lines it is about.</summary>
public sealed record ExtensionRules
{
    public ExtensionRule Rule { get; init; } = ExtensionRule.DaysInHouse;

    /// <summary>False: the time in the house counts for every claim, whatever was decided.</summary>
    public bool OnlyIfCovered { get; init; } = true;

    public StayFrom From { get; init; }

    public StayUntil Until { get; init; }

    /// <summary>True: from the 3rd to the 24th are 22 days, not 21. Law differs.</summary>
    public bool BothEndDays { get; init; }

    /// <summary>Days; a shorter stay adds nothing.</summary>
    [Range(0, 3_650)]
    public int LeastDays { get; init; } = 1;

    /// <summary>A term that a claim adds, before any days.</summary>
    public Period? Fixed { get; init; }

    /// <summary>The fixed term is added by the first claim alone.</summary>
    public bool Once { get; init; }
}

/// <summary>What the work of a claim has of its own: a last day that counts where it is later.</summary>
public sealed record NewWorkRules
{
    public required Period Least { get; init; }

    public StayUntil From { get; init; }
}

/// <summary>
/// How the days of a shop's own warranty are counted: data of the shop, by the line. Figures are common practice; whatever is left out
/// is as in <see cref="ShopDefault"/>, except that nothing left out adds a term: no new work of its own, no limit to a watch's arrival.
/// </summary>
public sealed record WarrantyRuleSet
{
    private static readonly Phrase Rights = Phrase.Of("Statutory rights may give more than this; local law decides.");

    /// <summary>Said wherever warranty days are shown, unless the shop has a sentence of its own.</summary>
    public static readonly string StatutoryRights = Rights.ToString();

    /// <summary>The rule set of a shop that has written none.</summary>
    public static readonly WarrantyRuleSet ShopDefault = new()
    {
        Id = "shop-default",
        Basis = "common practice; a shop's own promise",
        Claim = new ClaimRules { WatchArrivesWithin = Period.FromDays(30) },
        NewWork = new NewWorkRules { Least = Period.FromMonths(6) },
        Goodwill = ["magnetism-removed"],
    };

    /// <summary>What held before there were rule sets: an entry without one keeps this meaning for ever.</summary>
    public static readonly WarrantyRuleSet BeforeRuleSets = new() { Id = "before-rule-sets" };

    /// <summary>Kebab-case; a kind of work names it in its warranty lines.</summary>
    [StringLength(60, MinimumLength = 1), RegularExpression("[a-z0-9]+(-[a-z0-9]+)*")]
    public required string Id { get; init; }

    [StringLength(400)]
    public string? Basis { get; init; }

    public WarrantyStartRules Start { get; init; } = new();

    public FirstDay FirstDay { get; init; }

    public MonthEnd MonthEnd { get; init; }

    public RollRules Roll { get; init; } = new();

    public ClaimRules Claim { get; init; } = new();

    public ExtensionRules Extension { get; init; } = new();

    public NewWorkRules? NewWork { get; init; }

    public LastDayOf LastDay { get; init; }

    public FollowsTheWatch FollowsTheWatch { get; init; } = FollowsTheWatch.WithIntactSeal;

    /// <summary>What is done free of charge although no warranty covers it, and therefore adds nothing: <c>magnetism-removed</c>.</summary>
    [Length(0, 40)]
    public ImmutableArray<string> Goodwill { get; init; } = [];

    [StringLength(600, MinimumLength = 1)]
    public string Sentence { get; init; } = StatutoryRights;

    /// <summary>The sentence in a language; one of the shop's own is in the shop's.</summary>
    public string SentenceIn(Language language) => Sentence == StatutoryRights ? Rights.In(language) : Sentence;

    /// <summary>What the attributes cannot say.</summary>
    /// <param name="pointer">Where the rule set stands in its document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (!IsSpan(Start.NotCollectedAfterReady))
        {
            yield return new Fault($"{pointer}/start/notCollectedAfterReady", "This is a span of at most ten years, such as P30D");
        }

        if (!IsSpan(Start.PresumedDeliveredAfterDispatch))
        {
            yield return new Fault($"{pointer}/start/presumedDeliveredAfterDispatch", "This is a span of at most ten years, such as P7D");
        }

        if (Roll is { When: RollWhen.ClosedDay, Calendar: not RollRules.ShopCalendar })
        {
            yield return new Fault($"{pointer}/roll/calendar", "Only the shop has closed days; a region has weekends and holidays");
        }

        if (Claim.WatchArrivesWithin is { } arrives && !IsSpan(arrives))
        {
            yield return new Fault($"{pointer}/claim/watchArrivesWithin", "This is a span of at most ten years, such as P30D");
        }

        if (Claim.DecideWithin <= Duration.Zero || Claim.DecideWithin > Duration.FromDays(365))
        {
            yield return new Fault($"{pointer}/claim/decideWithin", "This is more than nothing and at most a year, such as PT48H");
        }

        if (Extension.Fixed is { } added && !WarrantyArithmetic.IsTerm(added))
        {
            yield return new Fault($"{pointer}/extension/fixed", "This is a term of at most a hundred years, such as P12M");
        }
        else if (Extension is { Rule: ExtensionRule.Fixed, Fixed: null })
        {
            yield return new Fault($"{pointer}/extension/fixed", "The rule 'fixed' has a term to add");
        }
        else if (Extension is { Rule: ExtensionRule.None, Fixed: not null })
        {
            yield return new Fault($"{pointer}/extension/fixed", "The rule 'none' adds nothing");
        }

        if (NewWork is { } work && !WarrantyArithmetic.IsTerm(work.Least))
        {
            yield return new Fault($"{pointer}/newWork/least", "This is a term of at most a hundred years, such as P6M");
        }
    }

    // Nothing at all is a span too: a shop may let the warranty start with the ready message itself.
    private static bool IsSpan(Period span) => !span.HasTimeComponent && WarrantyArithmetic.IsWithin(span, years: 10);
}
