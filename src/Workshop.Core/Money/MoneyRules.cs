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
}
