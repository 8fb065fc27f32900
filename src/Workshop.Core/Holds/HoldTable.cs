using System.Collections.Frozen;

namespace Workshop.Core.Holds;

/// <summary>What a hold stands in the way of.</summary>
[Flags]
public enum Blocks
{
    Nothing = 0,

    /// <summary>The start of any stage.</summary>
    Starts = 1,

    /// <summary>The start of work on movement, case or assembly.</summary>
    Work = 2,

    Casing = 4,
    FinalControl = 8,
    HandOver = 16,
}

/// <summary>One row of the table of holds.</summary>
/// <param name="PlacedBy">Roles that may place it; a manager may place any.</param>
/// <param name="LiftedBy">Roles that may lift it; a manager may lift any.</param>
public sealed record HoldFacts(Blocks Blocks, bool StopsPromise, string[] PlacedBy, string[] LiftedBy);

/// <summary>What each kind of hold blocks, whether it stops the promise, and who may place and lift it. Common practice.</summary>
public static class HoldTable
{
    private const string Bench = "bench";
    private const string Desk = "desk";
    private const string Manager = "manager";
    private const string Service = "service";

    private static readonly FrozenDictionary<HoldReason, HoldFacts> Facts = new Dictionary<HoldReason, HoldFacts>
    {
        [HoldReason.Approval] = new(Blocks.Work, true, [Desk, Service], [Desk, Service]),
        [HoldReason.Customer] = new(Blocks.Work, true, [Desk], [Desk]),
        [HoldReason.Parts] = new(Blocks.Nothing, false, [Bench, Desk], [Bench, Desk]),
        [HoldReason.OutsideFirm] = new(Blocks.Nothing, false, [Bench, Desk], [Bench, Desk]),
        [HoldReason.Person] = new(Blocks.Nothing, false, [Bench, Desk], [Bench, Desk]),
        [HoldReason.Payment] = new(Blocks.HandOver, true, [Desk], [Desk]),
        [HoldReason.Damage] = new(Blocks.Starts | Blocks.FinalControl | Blocks.HandOver, false, [Bench, Desk], [Manager]),
        [HoldReason.Loss] = new(Blocks.Casing | Blocks.FinalControl | Blocks.HandOver, false, [Bench, Service], [Manager]),
        [HoldReason.Query] = new(Blocks.Starts | Blocks.Casing | Blocks.FinalControl | Blocks.HandOver, false, [Bench, Desk, Service], [Manager, Service]),
        [HoldReason.MixUp] = new(Blocks.Starts | Blocks.Casing | Blocks.FinalControl | Blocks.HandOver, false, [Service, Manager], [Manager]),
        [HoldReason.Dispute] = new(Blocks.HandOver, false, [Desk], [Manager]),
        [HoldReason.Legal] = new(Blocks.Starts | Blocks.Casing | Blocks.FinalControl | Blocks.HandOver, false, [Manager], [Manager]),
        [HoldReason.Other] = new(Blocks.Starts, false, [Bench, Desk], [Bench, Desk]),
    }.ToFrozenDictionary();

    public static HoldFacts Of(HoldReason reason) => Facts[reason];

    public static bool MayPlace(HoldReason reason, string role) => role == Manager || Of(reason).PlacedBy.Contains(role);

    public static bool MayLift(HoldReason reason, string role) => role == Manager || Of(reason).LiftedBy.Contains(role);
}
