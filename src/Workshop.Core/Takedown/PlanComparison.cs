using System.Collections.Immutable;

namespace Workshop.Core.Takedown;

/// <summary>In what a takedown differs from the plan of its calibre.</summary>
public enum PlanDifferenceKind
{
    MissingStep,
    ExtraStep,
    OtherOrder,
    DifferentCount,
    OtherScrews,
}

/// <param name="What">The part, the step's text, the group or the place of the screws.</param>
/// <param name="Planned">In the words or figures of the plan; null where it has nothing of the kind.</param>
/// <param name="Told">As it was told; null where nobody told it.</param>
/// <param name="Step">The step of the takedown it is about.</param>
public sealed record PlanDifference(PlanDifferenceKind Kind, string What, string? Planned, string? Told, decimal? Step = null);

/// <summary>A takedown held against the plan of its calibre, and a plan made of a takedown.</summary>
public static class PlanComparison
{
    /// <param name="counts">Parts in each declared group, where somebody counted.</param>
    public static ImmutableArray<PlanDifference> Differences(TakedownPlan plan, ImmutableArray<TakenStep> steps, IReadOnlyDictionary<string, int> counts)
    {
        var told = steps.Select(step => (Key: KeyOf(step), Step: step)).DistinctBy(one => one.Key, StringComparer.Ordinal).ToArray();
        var planned = plan.Steps.Select(step => step.Key).Distinct(StringComparer.Ordinal).ToArray();
        var differences = ImmutableArray.CreateBuilder<PlanDifference>();

        differences.AddRange(plan.Steps.Where(step => told.All(one => one.Key != step.Key))
            .Select(step => new PlanDifference(PlanDifferenceKind.MissingStep, step.Part ?? step.Text, step.Text, null)));
        differences.AddRange(told.Where(one => !planned.Contains(one.Key))
            .Select(one => new PlanDifference(PlanDifferenceKind.ExtraStep, one.Step.Part ?? one.Step.Text ?? "", null, one.Step.Text, one.Step.Step)));

        // Of those that both know, what does not belong to the longest stretch that runs alike has moved.
        var places = told.Where(one => planned.Contains(one.Key)).Select(one => (one.Step, Place: Array.IndexOf(planned, one.Key))).ToArray();
        var alike = Longest([.. places.Select(one => one.Place)]);
        differences.AddRange(places.Index().Where(one => !alike.Contains(one.Index)).Select(one =>
            new PlanDifference(PlanDifferenceKind.OtherOrder, one.Item.Step.Part ?? one.Item.Step.Text ?? "", Before(planned, plan, one.Item.Place), BeforeTold(steps, one.Item.Step), one.Item.Step.Step)));

        differences.AddRange(plan.Groups.Where(group => counts.TryGetValue(group.Group, out var count) && count != group.Count)
            .Select(group => new PlanDifference(PlanDifferenceKind.DifferentCount, group.Group, $"{group.Count}", $"{counts[group.Group]}")));

        differences.AddRange(OtherScrews(plan, steps));
        return differences.ToImmutable();
    }

    /// <summary>A plan made of a takedown: its steps, screws and counts; what only a person can know stays as the plan before had it.</summary>
    public static TakedownPlan PlanOf(ImmutableArray<TakenStep> steps, IReadOnlyDictionary<string, int> counts, TakedownPlan? before)
    {
        var kept = before ?? new TakedownPlan();
        var parts = new HashSet<string>(StringComparer.Ordinal);
        var made = steps.Where(step => step.Part is null || parts.Add(step.Part)).Select(step => new PlanStep
        {
            System = step.System,
            Text = step.Text ?? step.Part ?? "",
            Part = step.Part,
            Needs = [.. step.Needs.Where(need => steps.Any(one => one.Step < step.Step && one.Part == need))],
            Caution = step.Caution,
        }).ToImmutableArray();
        return kept with
        {
            Systems = [.. made.Select(step => step.System).OfType<WatchSystem>().Concat(kept.Systems).Distinct()],
            Steps = made,
            Screws = [.. steps.SelectMany(step => step.Screws).Reverse().DistinctBy(screw => screw.Place.Trim().ToUpperInvariant()).Reverse()],
            Groups = [.. counts.Where(one => one.Value > 0).OrderBy(one => one.Key, StringComparer.Ordinal)
                .Select(one => (kept.Groups.FirstOrDefault(group => group.Group == one.Key) ?? new PlanGroup(one.Key, one.Value)) with { Count = one.Value })
                .Concat(kept.Groups.Where(group => !counts.ContainsKey(group.Group)))],
        };
    }

    private static string KeyOf(TakenStep step) => new PlanStep { System = step.System, Text = step.Text ?? "", Part = step.Part }.Key;

    private static string? Before(string[] planned, TakedownPlan plan, int place) =>
        place == 0 ? null : plan.Steps.First(step => step.Key == planned[place - 1]) is var before ? before.Part ?? before.Text : null;

    private static string? BeforeTold(ImmutableArray<TakenStep> steps, TakenStep step) =>
        steps.IndexOf(step) is > 0 and var at ? steps[at - 1].Part ?? steps[at - 1].Text : null;

    private static IEnumerable<PlanDifference> OtherScrews(TakedownPlan plan, ImmutableArray<TakenStep> steps)
    {
        foreach (var (step, screw) in steps.SelectMany(step => step.Screws.Select(screw => (step, screw))))
        {
            var known = plan.Screws.FirstOrDefault(one => ScrewTable.IsSamePlace(one.Place, screw.Place));
            if (known is null || known with { Place = screw.Place } != screw)
            {
                yield return new PlanDifference(PlanDifferenceKind.OtherScrews, screw.Place, known is null ? null : InShort(known), InShort(screw), step.Step);
            }
        }

        // Who writes screws down at all has looked at all of them.
        if (steps.Any(step => !step.Screws.IsEmpty))
        {
            foreach (var known in plan.Screws.Where(known => !steps.Any(step => step.Screws.Any(screw => ScrewTable.IsSamePlace(known.Place, screw.Place)))))
            {
                yield return new PlanDifference(PlanDifferenceKind.OtherScrews, known.Place, InShort(known), null);
            }
        }
    }

    /// <summary>Count, head, finish and length in short: <c>2 raised polished 1.85 mm</c>.</summary>
    public static string InShort(ScrewNote screw) => string.Join(' ', new[]
    {
        screw.Count.ToString(System.Globalization.CultureInfo.InvariantCulture),
        screw.Head is { } head ? Words.Word.Of(head) : null,
        screw.Finish is { } finish ? Words.Word.Of(finish) : null,
        screw.LengthMillimetres is { } length ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{length:0.##} mm") : null,
    }.Where(one => one is not null));

    // Indices of one longest rising run, gaps allowed.
    private static HashSet<int> Longest(int[] places)
    {
        var (length, before) = (new int[places.Length], new int[places.Length]);
        for (var i = 0; i < places.Length; i++)
        {
            (length[i], before[i]) = (1, -1);
            for (var j = 0; j < i; j++)
            {
                if (places[j] < places[i] && length[j] + 1 > length[i])
                {
                    (length[i], before[i]) = (length[j] + 1, j);
                }
            }
        }

        var run = new HashSet<int>();
        for (var at = places.Length == 0 ? -1 : Array.IndexOf(length, length.Max()); at >= 0; at = before[at])
        {
            run.Add(at);
        }

        return run;
    }
}
