using System.ComponentModel.DataAnnotations;

namespace Workshop.Core.Orders;

/// <summary>What the shop decides about orders. JSON member of the rules document: <c>orders</c>.</summary>
public sealed record OrderRules
{
    public static readonly OrderRules Usual = new();

    /// <summary>
    /// Calendar days within which a watch comes, counted from the later of the payment and the day its packing was sent; then it is asked for.
    /// Common practice: 14.
    /// </summary>
    [Range(1, 365)]
    public int ArrivesWithinDays { get; init; } = 14;
}
