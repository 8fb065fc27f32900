using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.Takedown;

/// <summary>A step as the shop has learned it for a calibre.</summary>
public sealed record PlanStep
{
    public WatchSystem? System { get; init; }

    [StringLength(400, MinimumLength = 1)]
    public required string Text { get; init; }

    /// <summary>A part of the list <c>part</c>, or the shop's own id of a part of this calibre.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string? Part { get; init; }

    /// <summary>What comes out before it, each as a part is named.</summary>
    [MaxLength(20)]
    public ImmutableArray<string> Needs { get; init; } = [];

    [StringLength(200, MinimumLength = 1)]
    public string? Caution { get; init; }

    /// <summary>By part where the step names one, else by what is written.</summary>
    internal string Key => Part ?? $"{System}: {Text.Trim().ToUpperInvariant()}";
}

/// <summary>How many parts a group of this calibre has.</summary>
/// <param name="Group">An id of the list <c>group</c>.</param>
public sealed record PlanGroup([property: StringLength(60, MinimumLength = 1)] string Group, [property: Range(1, 500)] int Count)
{
    /// <summary>What is special about it, of the list <c>groupFlag</c>.</summary>
    [MaxLength(20)]
    public ImmutableArray<string> Flags { get; init; } = [];
}

/// <summary>Where this calibre wears.</summary>
/// <param name="Look">What to look at: <c>bore ovalised?</c></param>
public sealed record WearPoint(WatchSystem System, [property: StringLength(60, MinimumLength = 1)] string Part, [property: StringLength(400, MinimumLength = 1)] string Look);

/// <summary>Which way a part may be exchanged; A fits B does not mean that B fits A.</summary>
public enum FitDirection
{
    TheirsFitsOurs,
    OursFitsTheirs,
    Both,
}

/// <summary>A part shared with a related calibre.</summary>
/// <param name="With">The other calibre: an id of the shop's, or its name.</param>
public sealed record Interchange(
    [property: StringLength(60, MinimumLength = 1)] string Part, [property: StringLength(100, MinimumLength = 1)] string With, FitDirection Direction, [property: StringLength(400)] string? Note = null);

/// <summary>Where oil or grease goes.</summary>
/// <param name="Place">The point itself.</param>
/// <param name="Part">The part whose step shows the line; the first section of its system does where none is named.</param>
/// <param name="Amount">In words: <c>a quarter of the cup</c>.</param>
public sealed record OilLine(
    WatchSystem System, [property: StringLength(200, MinimumLength = 1)] string Place, [property: StringLength(100, MinimumLength = 1)] string Lubricant,
    [property: StringLength(60, MinimumLength = 1)] string? Part = null, [property: StringLength(200)] string? Amount = null);

/// <summary>How a calibre comes apart, as the shop knows it: written by its owner, or saved from a takedown.</summary>
public sealed record TakedownPlan
{
    /// <summary>The systems it has, from the outside to the inside.</summary>
    [MaxLength(20)]
    public ImmutableArray<WatchSystem> Systems { get; init; } = [];

    [MaxLength(500)]
    public ImmutableArray<PlanStep> Steps { get; init; } = [];

    /// <summary>Orders of this calibre alone, besides the shop's usual ones.</summary>
    [MaxLength(100)]
    public ImmutableArray<OrderRule> Orders { get; init; } = [];

    [MaxLength(50)]
    public ImmutableArray<PlanGroup> Groups { get; init; } = [];

    /// <summary>Every place whose screws are not like the others.</summary>
    [MaxLength(200)]
    public ImmutableArray<ScrewNote> Screws { get; init; } = [];

    [MaxLength(200)]
    public ImmutableArray<WearPoint> WearPoints { get; init; } = [];

    [MaxLength(200)]
    public ImmutableArray<Interchange> Interchange { get; init; } = [];

    [MaxLength(300)]
    public ImmutableArray<OilLine> OilPlan { get; init; } = [];

    /// <param name="pointer">Where the plan stands in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        foreach (var (i, step) in Steps.Index())
        {
            if (!Systems.IsEmpty && step.System is { } system && !Systems.Contains(system))
            {
                yield return new Fault($"{pointer}/steps/{i}/system", "The calibre has no such system");
            }

            foreach (var (n, need) in step.Needs.Index())
            {
                if (!Steps.Take(i).Any(earlier => earlier.Part == need))
                {
                    yield return new Fault($"{pointer}/steps/{i}/needs/{n}", $"'{need}' is the part of no step before this one");
                }
            }
        }

        foreach (var (i, twice) in Steps.Index().Where(one => one.Item.Part is { } part && Steps.Take(one.Index).Any(earlier => earlier.Part == part)))
        {
            yield return new Fault($"{pointer}/steps/{i}/part", $"'{twice.Part}' comes out twice");
        }

        foreach (var fault in TakedownRules.Faults(Orders, $"{pointer}/orders").Concat(OutOfOrder($"{pointer}/steps")))
        {
            yield return fault;
        }

        foreach (var (i, group) in Groups.Index().Where(one => Groups.Take(one.Index).Any(earlier => earlier.Group == one.Item.Group)))
        {
            yield return new Fault($"{pointer}/groups/{i}/group", $"'{group.Group}' is there twice");
        }

        foreach (var (i, screw) in Screws.Index().Where(one => Screws.Take(one.Index).Any(earlier => ScrewTable.IsSamePlace(earlier.Place, one.Item.Place))))
        {
            yield return new Fault($"{pointer}/screws/{i}/place", $"'{screw.Place}' is there twice");
        }

        foreach (var fault in Screws.Index().SelectMany(one => ScrewTable.Faults(one.Item, $"{pointer}/screws/{one.Index}")))
        {
            yield return fault;
        }
    }

    // A plan whose own steps break its own orders would have every takedown refused.
    private IEnumerable<Fault> OutOfOrder(string pointer)
    {
        foreach (var (i, step) in Steps.Index())
        {
            foreach (var rule in Orders.Where(rule => !rule.Then.IsDefaultOrEmpty && !rule.First.IsDefaultOrEmpty && step.Part is { } part && rule.Then.Contains(part)))
            {
                if (!Steps.Take(i).Any(earlier => earlier.Part is { } part && rule.First.Contains(part)))
                {
                    yield return new Fault($"{pointer}/{i}/part", $"By the orders of this plan {string.Join(" or ", rule.First)} comes out before '{step.Part}'");
                }
            }
        }
    }
}

/// <summary>Screws by their places.</summary>
public static class ScrewTable
{
    public static bool IsSamePlace(string one, string other) => string.Equals(one.Trim(), other.Trim(), StringComparison.OrdinalIgnoreCase);

    public static IEnumerable<Fault> Faults(ScrewNote screw, string pointer)
    {
        if (string.IsNullOrWhiteSpace(screw.Place) || screw.Place.Length > 200)
        {
            yield return new Fault($"{pointer}/place", Phrase.Of("Where the screws sit is 1 to 200 characters."));
        }

        if (screw.Count is < 1 or > 50)
        {
            yield return new Fault($"{pointer}/count", Phrase.Of("A place has 1 to 50 screws."));
        }

        if (screw.LengthMillimetres is < 0.1m or > 20m)
        {
            yield return new Fault($"{pointer}/lengthMillimetres", Phrase.Of("A screw of a watch is 0.1 to 20 mm long."));
        }
    }
}
