using System.Collections.Immutable;
using Workshop.Core.Groups;

namespace Workshop.Core.Takedown;

/// <summary>A step read backwards.</summary>
/// <param name="Taken">The step as it was told.</param>
/// <param name="GoInAfter">Parts that may go in only after this one, since they came out before it.</param>
/// <param name="Oil">Points that get oil or grease when this part goes in.</param>
public sealed record ReturnStep(TakenStep Taken, ImmutableArray<string> GoInAfter, ImmutableArray<OilLine> Oil);

/// <summary>An unbroken stretch of one system.</summary>
/// <param name="System">Null for steps that named none.</param>
/// <param name="Oil">Points of this system that belong to no single step here; on the first of its sections only.</param>
/// <param name="Findings">Open findings of this system; on the first of its sections only.</param>
public sealed record ReturnSection(WatchSystem? System, ImmutableArray<ReturnStep> Steps, ImmutableArray<OilLine> Oil, ImmutableArray<Finding> Findings);

/// <summary>A part that was exchanged: the old one does not go in again.</summary>
/// <param name="Fitted">Its successor was put in.</param>
public sealed record ExchangedPart(string Group, string Part, bool Fitted);

/// <summary>
/// The takedown read backwards, the last step first: this is what the rebuild goes by. Every step is there exactly once, in the exact
/// reverse of the sequence of step numbers.
/// </summary>
/// <param name="Replaced">Parts that do not go in again, or were put in for others, in the order of their groups.</param>
/// <param name="FindingsElsewhere">Open findings of systems that have no step, or of none.</param>
/// <param name="OilElsewhere">Points of systems that have no step.</param>
public sealed record ReverseList(ImmutableArray<ReturnSection> Sections, ImmutableArray<ExchangedPart> Replaced, ImmutableArray<Finding> FindingsElsewhere, ImmutableArray<OilLine> OilElsewhere)
{
    public static ReverseList Of(TakedownRecord takedown, TakedownPlan? plan, GroupLedger? groups = null)
    {
        var orders = takedown.Terms?.Orders ?? [];
        var open = takedown.Findings.Where(one => one.IsOpen).OrderBy(one => one.Severity).ToImmutableArray();
        var oil = plan?.OilPlan ?? [];
        var parts = takedown.Steps.Select(step => step.Part).OfType<string>().ToHashSet(StringComparer.Ordinal);
        var atStep = oil.Where(line => line.Part is { } part && parts.Contains(part)).ToImmutableArray();
        var sections = ImmutableArray.CreateBuilder<ReturnSection>();
        var seen = new HashSet<WatchSystem?>();
        var oiled = new HashSet<OilLine>();

        foreach (var stretch in Stretches(takedown.Steps.Reverse()))
        {
            var system = stretch[0].System;
            var first = seen.Add(system);
            sections.Add(new ReturnSection(
                system,
                [.. stretch.Select(step => new ReturnStep(step, TakedownOrder.GoInAfter(takedown.Steps, step, orders), [.. atStep.Where(line => line.Part == step.Part && oiled.Add(line))]))],
                first && system is not null ? [.. oil.Where(line => line.System == system && !atStep.Contains(line))] : [],
                first && system is not null ? [.. open.Where(one => one.System == system)] : []));
        }

        return new ReverseList(
            sections.ToImmutable(),
            [.. (groups?.Groups ?? []).SelectMany(Exchanged)],
            [.. open.Where(one => one.System is null || !seen.Contains(one.System))],
            [.. oil.Where(line => !seen.Contains(line.System) && !atStep.Contains(line))]);
    }

    // As often as a part went out it may have come in again.
    private static IEnumerable<ExchangedPart> Exchanged(PartsGroup group)
    {
        var fitted = group.PartsFitted.ToList();
        foreach (var part in group.PartsOut)
        {
            yield return new ExchangedPart(group.Id, part, Fitted: fitted.Remove(part));
        }

        foreach (var part in fitted)
        {
            yield return new ExchangedPart(group.Id, part, Fitted: true);
        }
    }

    private static IEnumerable<List<TakenStep>> Stretches(IEnumerable<TakenStep> steps)
    {
        List<TakenStep>? stretch = null;
        foreach (var step in steps)
        {
            if (stretch is not null && stretch[0].System != step.System)
            {
                yield return stretch;
                stretch = null;
            }

            (stretch ??= []).Add(step);
        }

        if (stretch is not null)
        {
            yield return stretch;
        }
    }
}
