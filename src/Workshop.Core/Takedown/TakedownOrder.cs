using System.Collections.Immutable;
using Workshop.Core.Gates;

namespace Workshop.Core.Takedown;

/// <summary>Something that should have come out first and was not told.</summary>
/// <param name="First">Any one of these would do.</param>
/// <param name="Strength">Null where the step itself said so: the gate's own strength counts.</param>
public sealed record MissingBefore(ImmutableArray<string> First, Strength? Strength);

/// <summary>Whether a step may stand where it is told: judged by the numbers of steps, not by the time at which they were told.</summary>
public static class TakedownOrder
{
    /// <summary>What must come out before this step and was not told at a lower number, the strictest first, each once.</summary>
    public static ImmutableArray<MissingBefore> Missing(ImmutableArray<TakenStep> steps, TakedownEvent told, TakedownTerms terms)
    {
        if (told.Out is not { } part)
        {
            return [];
        }

        var before = steps.Where(step => step.Step < told.Step && step.Part is not null).Select(step => step.Part!).ToHashSet(StringComparer.Ordinal);
        var own = (told as TakedownStep)?.Needs is { } needs ? needs.Select(need => new MissingBefore([need], null)) : [];
        return
        [
            .. terms.Orders.Where(rule => rule.Then.Contains(part)).Select(rule => new MissingBefore(rule.First, rule.Strength)).OrderBy(one => one.Strength)
                .Concat(own)
                .Where(one => !one.First.Any(before.Contains))
                .DistinctBy(one => one.First[0], StringComparer.Ordinal),
        ];
    }

    /// <summary>What came out before a part and so goes in after it, among the steps there are.</summary>
    /// <returns>Parts in the order in which they go in.</returns>
    public static ImmutableArray<string> GoInAfter(ImmutableArray<TakenStep> steps, TakenStep step, ImmutableArray<OrderRule> orders)
    {
        if (step.Part is not { } part)
        {
            return [];
        }

        var first = orders.Where(rule => rule.Then.Contains(part)).SelectMany(rule => rule.First).Concat(step.Needs).ToHashSet(StringComparer.Ordinal);
        return [.. steps.Where(one => one.Step < step.Step && !one.IsLetDown && one.Part is { } taken && first.Contains(taken)).Select(one => one.Part!).Reverse().Distinct(StringComparer.Ordinal)];
    }
}
