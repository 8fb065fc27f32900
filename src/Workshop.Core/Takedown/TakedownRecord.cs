using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Parts;

namespace Workshop.Core.Takedown;

/// <summary>A step as it counts.</summary>
/// <param name="Part">What came out; <c>let-down</c> for the let-down.</param>
/// <param name="Text">Null only for a let-down that nobody described.</param>
public sealed record TakenStep(
    EventId Id, decimal Step, WatchSystem? System, string? Part, string? Text, string? Caution, ImmutableArray<string> Photos, ImmutableArray<ScrewNote> Screws, ImmutableArray<string> Needs,
    string? Holder, string? Tray, KeptWith? KeptWith, Instant At, string? Person)
{
    public bool IsLetDown => Part == OrderRule.LetDown;

    public static TakenStep Of(TakedownEvent told, Entry entry)
    {
        var step = told as TakedownStep;
        return new TakenStep(
            entry.Id, told.Step, told.System, told.Out, told.Said, told.Caution, told.Photos ?? [], step?.Screws ?? [], step?.Needs ?? [],
            told.Holder, told.Tray, step?.KeptWith, entry.Effective, entry.Person);
    }
}

/// <summary>A finding and whether it still waits.</summary>
/// <param name="ClosedAt">When an inspection found it in order, or another part was fitted.</param>
public sealed record Finding(
    EventId Id, WatchSystem? System, string? Part, string Condition, Severity Severity, ImmutableArray<string> Photos, bool? AsReceived, Instant At, string? Person, Instant? ClosedAt = null)
{
    public bool IsOpen => ClosedAt is null;
}

/// <summary>What was seen when a system was looked at after cleaning.</summary>
public sealed record Inspected(EventId Id, WatchSystem System, string? Part, InspectionResult Result, string? Note, Instant At, string? Person);

/// <summary>How the movement came apart, what was found, and what was looked at.</summary>
public sealed record TakedownRecord
{
    /// <summary>By step number, whatever the order in which they were told; where two have one number, the one that happened first.</summary>
    public ImmutableArray<TakenStep> Steps { get; init; } = [];

    /// <summary>What the newest step was judged by; null before the first.</summary>
    public TakedownTerms? Terms { get; init; }

    public ImmutableArray<Finding> Findings { get; init; } = [];

    public ImmutableArray<Inspected> Inspections { get; init; } = [];

    /// <summary>Whether the job has begun to write its takedown down; gates about it exist from then on.</summary>
    public bool HasBegun => !Steps.IsEmpty;

    public TakenStep? LetDown => Steps.LastOrDefault(step => step.IsLetDown);

    /// <summary>The whole number behind the last step.</summary>
    public decimal NextStep => Steps.IsEmpty ? 1 : Math.Floor(Steps[^1].Step) + 1;

    /// <summary>The holder that was named last in the sequence.</summary>
    public string? Holder => Steps.LastOrDefault(step => step.Holder is not null)?.Holder;

    public string? Tray => Steps.LastOrDefault(step => step.Tray is not null)?.Tray;

    public IEnumerable<Finding> OpenMust => Findings.Where(one => one.IsOpen && one.Severity == Severity.Must);

    public TakedownRecord Apply(Entry entry) => entry.Event switch
    {
        TakedownEvent told => this with { Steps = Into(Steps, TakenStep.Of(told, entry)), Terms = entry.Judged.Takedown ?? Terms },
        FindingRecorded found => this with
        {
            Findings = Findings.Add(new Finding(entry.Id, found.System, found.Part, found.Condition, found.Severity, found.Photos ?? [], found.AsReceived, entry.Effective, entry.Person)),
        },
        InspectionRecorded seen => this with
        {
            Inspections = Inspections.Add(new Inspected(entry.Id, seen.System, seen.Part, seen.Result, seen.Note, entry.Effective, entry.Person)),
            Findings = seen.Result == InspectionResult.Ok ? [.. Findings.Select(one => one.IsOpen && Covers(seen, one) ? one with { ClosedAt = entry.Effective } : one)] : Findings,
        },
        PartFitted fitted => this with { Findings = [.. Findings.Select(one => one.IsOpen && IsPutRightBy(fitted, one) ? one with { ClosedAt = entry.Effective } : one)] },
        _ => this,
    };

    // A new part ends what was found about the old one; a system is more than one part.
    private static bool IsPutRightBy(PartFitted fitted, Finding one) => one.Part is { } part && string.Equals(fitted.Replaces ?? fitted.Part, part, StringComparison.OrdinalIgnoreCase);

    private static bool Covers(InspectionRecorded seen, Finding one) =>
        one.System == seen.System && (seen.Part is null || string.Equals(seen.Part, one.Part, StringComparison.OrdinalIgnoreCase));

    // Entries come in the order of their places: behind those with the same number stands what came later.
    private static ImmutableArray<TakenStep> Into(ImmutableArray<TakenStep> steps, TakenStep one)
    {
        var at = steps.Length;
        while (at > 0 && steps[at - 1].Step > one.Step)
        {
            at--;
        }

        return steps.Insert(at, one);
    }
}
