using System.Collections.Immutable;
using Workshop.Core.Gates;
using Workshop.Core.Intake;

namespace Workshop.Core.Takedown;

/// <summary>
/// Something comes out before something else. Parts are named as the list <c>part</c> names them, or as a calibre's plan does;
/// <c>let-down</c> is the let-down of the mainspring.
/// </summary>
public sealed record OrderRule
{
    public const string LetDown = "let-down";

    /// <summary>Any one of these, told at a lower step, is enough.</summary>
    public required ImmutableArray<string> First { get; init; }

    /// <summary>None of these may come out before.</summary>
    public required ImmutableArray<string> Then { get; init; }

    /// <summary>How much it insists, unless the gate's own strength is set.</summary>
    public Strength Strength { get; init; } = Strength.Ask;

    /// <summary>The kinds of calibre it holds for; every kind where none is named.</summary>
    public ImmutableArray<CalibreKind> Kinds { get; init; } = [];

    public bool HoldsFor(CalibreKind kind) => Kinds.IsDefaultOrEmpty || Kinds.Contains(kind);
}

/// <summary>The shop's rules of a takedown. JSON member of the rules document: <c>takedown</c>. Common practice throughout.</summary>
public sealed record TakedownRules
{
    public static readonly TakedownRules Usual = new();

    /// <summary>Orders that hold for every calibre of a kind; a calibre's plan adds its own.</summary>
    public ImmutableArray<OrderRule> Orders { get; init; } =
    [
        new() { First = [OrderRule.LetDown], Then = ["pallets", "pallet-bridge", "train-bridge", "barrel-bridge", "barrel"], Strength = Strength.Stop, Kinds = [CalibreKind.Automatic, CalibreKind.HandWound, CalibreKind.Chronograph, CalibreKind.Unknown] },
        new() { First = ["automatic-bridge", "reversers"], Then = [OrderRule.LetDown], Strength = Strength.Ask, Kinds = [CalibreKind.Automatic] },
        new() { First = ["hands"], Then = ["dial"], Strength = Strength.Ask },
        new() { First = ["dial"], Then = ["calendar-plate"], Strength = Strength.Ask },
    ];

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Journal.Fault> Faults(string pointer) => Faults(Orders, $"{pointer}/orders");

    internal static IEnumerable<Journal.Fault> Faults(ImmutableArray<OrderRule> orders, string pointer)
    {
        foreach (var (i, rule) in orders.Index())
        {
            if (rule.First.IsDefaultOrEmpty || rule.First.Any(string.IsNullOrWhiteSpace))
            {
                yield return new Journal.Fault($"{pointer}/{i}/first", "What comes out first is missing");
            }
            else if (rule.Then.IsDefaultOrEmpty || rule.Then.Any(string.IsNullOrWhiteSpace))
            {
                yield return new Journal.Fault($"{pointer}/{i}/then", "What comes out after it is missing");
            }
            else if (rule.First.Intersect(rule.Then).Any())
            {
                yield return new Journal.Fault($"{pointer}/{i}/then", "Nothing comes out before itself");
            }
        }
    }
}

/// <summary>What a takedown of this watch goes by; frozen into the entry, since the watch's calibre and its plan may change.</summary>
/// <param name="Orders">The rules of the kind, then those of the calibre.</param>
/// <param name="Calibre">The id of the shop's calibre document, where the watch's calibre is one of the shop's.</param>
public sealed record TakedownTerms(CalibreKind Kind, ImmutableArray<OrderRule> Orders, string? Calibre = null)
{
    public static readonly TakedownTerms Unknown = Of(CalibreKind.Unknown, null, null, TakedownRules.Usual);

    /// <summary>A movement without a mainspring has nothing to let down.</summary>
    public bool HasMainspring => Kind != CalibreKind.Quartz;

    public static TakedownTerms Of(CalibreKind kind, string? calibre, TakedownPlan? plan, TakedownRules rules) =>
        new(kind, [.. rules.Orders.Where(rule => rule.HoldsFor(kind)), .. plan?.Orders ?? []], calibre);
}
