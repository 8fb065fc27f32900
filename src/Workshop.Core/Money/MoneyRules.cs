using System.ComponentModel.DataAnnotations;

namespace Workshop.Core.Money;

/// <summary>Where the shop keeps its money.</summary>
public enum MoneyKept
{
    /// <summary>In a till or a program of its own: the desk says when a job is settled.</summary>
    Elsewhere,

    /// <summary>Here: a job is settled when its balance says so.</summary>
    Here,
}

/// <summary>What the shop decides about money. JSON member of the rules document: <c>money</c>.</summary>
public sealed record MoneyRules
{
    public static readonly MoneyRules Usual = new();

    public MoneyKept Kept { get; init; }

    /// <summary>Per cent of a quote asked before the work, where the quote says nothing of it, 0 to 100; 0 asks nothing. Common practice: 30 to 50.</summary>
    [Range(0, 100)]
    public int DepositSharePercent { get; init; }

    /// <summary>A quote of more than this is asked for that share; minor units of the quote's currency.</summary>
    [Range(0, MoneyBook.MinorAtMost)]
    public long DepositAboveMinor { get; init; }

    /// <summary>The deposit of a quote that says nothing of it, rounded down to a whole minor unit. Minor units.</summary>
    public long DepositOf(long totalMinor) => ShareOf(totalMinor, DepositSharePercent, DepositAboveMinor);

    /// <summary>A share of a total, rounded down to a whole minor unit; nothing where the total is not more than a limit.</summary>
    public static long ShareOf(long totalMinor, int percent, long aboveMinor) => totalMinor > aboveMinor ? (long)((Int128)totalMinor * percent / 100) : 0;
}
