using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Labels;
using Workshop.Core.Notes;
using Workshop.Core.Takedown;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Takedown;

/// <summary>A step of a takedown.</summary>
/// <param name="Step">Its place in the sequence.</param>
/// <param name="Part">What came out; <c>let-down</c> for the let-down.</param>
public sealed record TakenStepView(
    decimal Step, EntryRef Event, Instant At, string? Person, WatchSystem? System, string? Part, string? Text, string? Caution, ImmutableArray<string> Needs,
    ImmutableArray<ScrewNote> Screws, ImmutableArray<PhotoRef> Photos, string? Holder, string? Tray, KeptWith? KeptWith);

/// <summary>What somebody found.</summary>
/// <param name="ClosedAt">When an inspection found it in order, or another part was fitted; null while it is open.</param>
public sealed record FindingView(
    EntryRef Event, Instant At, string? Person, WatchSystem? System, string? Part, string Condition, Severity Severity, bool? AsReceived, ImmutableArray<PhotoRef> Photos, Instant? ClosedAt)
{
    public static FindingView Of(Finding one, TakedownReading read) =>
        new(EntryRef.Of(one.Id), one.At, one.Person, one.System, one.Part, one.Condition, one.Severity, one.AsReceived, read.Shown(one.Photos), one.ClosedAt);
}

public sealed record InspectedView(EntryRef Event, Instant At, string? Person, WatchSystem System, string? Part, InspectionResult Result, string? Note);

/// <summary>A takedown in the order of its steps, and in what it differs from the plan of its calibre.</summary>
/// <param name="Calibre">The id of the shop's document; null where the watch's calibre is none of the shop's.</param>
/// <param name="Planned">Whether the calibre has a plan; without one there are no differences.</param>
/// <param name="NextStep">The whole number behind the last step.</param>
/// <param name="Holder">As it was named last.</param>
public sealed record TakedownView(
    Label Job, CalibreKind Kind, string? Calibre, bool Planned, decimal NextStep, Instant? LetDownAt, string? Holder, string? Tray, ImmutableArray<TakenStepView> Steps,
    ImmutableArray<PlanDifference> Differences, ImmutableArray<FindingView> Findings, ImmutableArray<InspectedView> Inspections, ImmutableArray<WearPoint> WearPoints,
    ImmutableArray<Interchange> Interchange);

/// <summary>How the movement of a job came apart.</summary>
public static class ReadTakedown
{
    public static async Task<Results<Seen<TakedownView>, ProblemHttpResult>> Handle(
        string label, Caller caller, Reader reader, ShopRulesSource rules, CancellationToken cancel)
    {
        if (!PathLabel.TryReadJob(label, out var name, out var refusal))
        {
            return refusal;
        }

        return await TakedownReading.Read(reader, caller.Site, name, await rules.Read(caller.Site, cancel), cancel) is { } read
            ? Answer.Seen(read.Job.Version, Shown(read))
            : PathLabel.NoJob();
    }

    private static TakedownView Shown(TakedownReading read)
    {
        var takedown = read.Job.Takedown;
        return new TakedownView(
            read.Job.Label, read.Calibre.Kind, read.Calibre.Id, read.Plan is not null, takedown.NextStep, takedown.LetDown?.At, takedown.Holder, takedown.Tray,
            [.. takedown.Steps.Select(one => new TakenStepView(
                one.Step, EntryRef.Of(one.Id), one.At, one.Person, one.System, one.Part, one.Text, one.Caution, one.Needs, one.Screws, read.Shown(one.Photos), one.Holder, one.Tray, one.KeptWith))],
            read.Plan is { } plan && takedown.HasBegun ? PlanComparison.Differences(plan, takedown.Steps, TakedownReading.CountsOf(read.Job)) : [],
            [.. takedown.Findings.Select(one => FindingView.Of(one, read))],
            [.. takedown.Inspections.Select(one => new InspectedView(EntryRef.Of(one.Id), one.At, one.Person, one.System, one.Part, one.Result, one.Note))],
            read.Plan?.WearPoints ?? [],
            read.Plan?.Interchange ?? []);
    }
}
