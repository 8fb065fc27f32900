using System.Globalization;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Takedown;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>
/// The gates about how a movement comes apart. They exist from the first step or declared group of a job on: a takedown that nobody writes
/// down asks for no let-down.
/// </summary>
internal static class TakedownGates
{
    /// <summary>What stands against a step: that its number is another's, and what should have come out first.</summary>
    public static IEnumerable<Objection> Step(Job job, Asking asking, TakedownEvent told)
    {
        if (job.Takedown.Steps.FirstOrDefault(step => step.Step == told.Step) is { } taken)
        {
            yield return GateTable.Objects(
                "takedown-step-free", asking.Rules, Phrase.Of("Step {0} is told already", new Figure(told.Step, "0.####")),
                Phrase.Of("a number between two steps, such as {0}", new Figure(Between(job.Takedown, taken), "0.####")),
                names: [("step", Number(told.Step)), ("next", Number(job.Takedown.NextStep))]);
        }

        foreach (var missing in TakedownOrder.Missing(job.Takedown.Steps, told, asking.Takedown ?? TakedownTerms.Unknown))
        {
            var part = new Term("part", missing.First[0]);
            yield return GateTable.Objects(
                $"takedown-order/{missing.First[0]}", asking.Rules, Phrase.Of("First: {0}", new Series([.. missing.First.Select(one => new Term("part", one))], AnyOne: true)),
                Phrase.Of("tell that step first, with a lower number; a manager may waive it"), missing.Strength, ("missing", part.Word), ("part", told.Out ?? ""));
        }
    }

    /// <summary>What stands against the end of takedown and of inspection.</summary>
    public static IEnumerable<Objection> Finish(Job job, Asking asking, Stage stage)
    {
        if (stage == Stage.Takedown && (job.Takedown.HasBegun || job.Groups.InUse) && job.Takedown.LetDown is null && HasMainspring(job))
        {
            yield return GateTable.Objects(
                "let-down", asking.Rules, Phrase.Of("The mainspring was not let down"), Phrase.Of("whoever lets it down and says so; a manager may waive it"),
                names: [("missing", OrderRule.LetDown)]);
        }

        if (stage == Stage.Inspection && job.Takedown.OpenMust.ToArray() is [var first, ..] open)
        {
            yield return GateTable.Objects(
                "must-findings", asking.Rules,
                open.Length == 1 ? Phrase.Of("Must be put right: {0}", first.Condition) : Phrase.Of("{0} findings must be put right", open.Length),
                Phrase.Of("whoever puts it right and looks again"),
                names: [("findings", string.Join("; ", open.Select(one => one.Part is { } part ? $"{part}: {one.Condition}" : one.Condition)))]) with
            {
                Entries = [.. open.Reverse().Select(one => new NamedEntry(one.Id, "finding.recorded", one.At, one.Person))],
            };
        }
    }

    private static bool HasMainspring(Job job) => job.Takedown.Terms?.HasMainspring ?? job.Route?.Quartz != true;

    private static decimal Between(TakedownRecord takedown, TakenStep taken) =>
        takedown.Steps.FirstOrDefault(step => step.Step > taken.Step) is { } next ? Math.Round((taken.Step + next.Step) / 2, 4, MidpointRounding.ToZero) : takedown.NextStep;

    private static string Number(decimal step) => step.ToString("0.####", CultureInfo.InvariantCulture);
}
