using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Labels;

namespace Workshop.Core.Parts;

/// <summary>A part of the shop's list as it stands in this moment.</summary>
/// <param name="OnShelf">In the house by the last count and what came and went since; less than nothing where more was fitted than counted.</param>
/// <param name="ReservedFor">Jobs with pieces set aside, more than none each.</param>
/// <param name="Essential">Work on a job is not to begin before it is in the house.</param>
/// <param name="UsualWorkingDays">Open days until it usually comes; the shop's usual ones where null.</param>
public sealed record PartStock(int OnShelf, ImmutableArray<PartReservation> ReservedFor, bool Essential = false, int? UsualWorkingDays = null)
{
    /// <summary>On the shelf and set aside for nobody.</summary>
    public int Free => OnShelf - ReservedFor.Sum(one => one.Count);
}

/// <summary>Pieces of a part that lie in the house for a job.</summary>
public readonly record struct PartReservation(Label Job, int Count);

/// <summary>In which direction one part may stand in for another; that one fits for the other does not say that the other fits for it.</summary>
public enum InterchangeDirection
{
    /// <summary>This part may be fitted where the other is asked for.</summary>
    ThisForThat,

    /// <summary>The other may be fitted where this one is asked for.</summary>
    ThatForThis,

    BothWays,
}

/// <summary>The shop's figures about spare parts.</summary>
public sealed record PartRules
{
    public static readonly PartRules Usual = new();

    /// <summary>Open days until a part usually comes, where neither an order nor the part itself says so. Common practice.</summary>
    [Range(1, 500)]
    public int UsualWorkingDays { get; init; } = 10;
}
