using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Intake;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Service.Features.Customers;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>
/// The desk adds to the intake part what is known now. It has a version of its own, which events at benches leave alone; what a stage
/// was waiting for becomes an entry.
/// </summary>
public static class EditIntake
{
    public static async Task<Results<Seen<IntakeView>, ProblemHttpResult>> Handle(
        string label, MergePatch<IntakeMembers> patch, SeenState seen, Caller caller, Writer writer, CancellationToken cancel) =>
        PathLabel.TryReadJob(label, out var job, out var refusal)
            ? await writer.Turn(caller.Site, turn => Edit(turn, job, patch, seen, caller), cancel)
            : refusal;

    private static Results<Seen<IntakeView>, ProblemHttpResult> Edit(Turn turn, Label label, MergePatch<IntakeMembers> patch, SeenState seen, Caller caller)
    {
        if (turn.History(label) is not { } history || turn.Intake(label) is not { } part)
        {
            return PathLabel.NoJob();
        }

        if (seen.RefusalUnlessStill(part.Version) is { } changed)
        {
            return changed;
        }

        // The note belongs to one change and is not carried into the next.
        var sheet = IntakeSheet.Read(part.Text);
        var before = sheet.Members with { DeclaredValueNote = null };
        var (after, unreadable) = patch.Apply(before);
        if (after is null)
        {
            return Problems.BadFields(unreadable);
        }

        if (Faults(turn, history.Job, before, after).ToArray() is { Length: > 0 } faults)
        {
            return Problems.BadFields(faults);
        }

        var revalued = Revalued(before, after);
        var now = sheet with
        {
            Members = after with { DeclaredValueNote = null },
            EarlierValues = revalued
                ? sheet.EarlierValues.Add(new EarlierValue(before.DeclaredValueMinor!.Value, before.Currency!, turn.Now, after.DeclaredValueNote!, caller.Source))
                : sheet.EarlierValues,
        };
        var fixedDate = FixedDates.Of(turn, after.Wishes?.FixedDate, history.Job.Route);

        // Lists are compared by what they hold.
        if (now.Write() == sheet.Write())
        {
            return Answer.Seen(part.Version, IntakeView.Of(sheet, part.Version, fixedDate));
        }

        if (WhatChanged(turn, history.Job, before, after) is { } changes)
        {
            DeskCommand.Say(turn, history, caller, changes);
        }

        turn.SaveIntake(label, now.Write(), after.OwnNumber);
        return Answer.Seen(part.Version + 1, IntakeView.Of(now, part.Version + 1, fixedDate));
    }

    /// <summary>What the rules of the job learn of it; null where nothing concerns them.</summary>
    private static IntakeCompleted? WhatChanged(Turn turn, Job job, IntakeMembers before, IntakeMembers after)
    {
        var known = after.Known().ToHashSet(StringComparer.Ordinal);
        if (CustomerStore.Find(turn, job.Intake.Customer)?.SaidHowToWrite == true)
        {
            known.Add(IntakeMember.Consents);
        }

        var polish = after.Wishes?.Polish is { } wish && wish != before.Wishes?.Polish ? wish : (PolishWish?)null;
        var (was, day) = (before.Wishes?.FixedDate, after.Wishes?.FixedDate);
        var one = new IntakeCompleted
        {
            Known = [.. job.Intake.Missing.Select(missing => missing.Member).Where(known.Contains)],
            Missing = polish is null || job.Route is not { } route ? [] : [.. IntakeNeeds.Missing(known, polish, route).Where(missing => missing.Member == IntakeMember.PolishConfirmed)],
            Polish = polish,
            FixedDate = day == was ? null : day,
            FixedDateGone = was is not null && day is null ? true : null,
        };
        return one is { Known.IsEmpty: true, Polish: null, FixedDate: null, FixedDateGone: null } ? null : one;
    }

    private static IEnumerable<Fault> Faults(Turn turn, Job job, IntakeMembers before, IntakeMembers after)
    {
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        foreach (var fault in after.Faults(today))
        {
            yield return fault;
        }

        // A stage may have begun because it was known.
        foreach (var gone in before.Known().Except(after.Known()))
        {
            yield return new Fault(PointerOf(gone), "What was known once can be changed, not taken away");
        }

        if (after.LabelScannedBack is { } read && read != before.LabelScannedBack && !IsOn(job, read))
        {
            yield return new Fault("/labelScannedBack", "This is not the label of this watch: look which label is on which watch");
        }

        if (Revalued(before, after) && string.IsNullOrWhiteSpace(after.DeclaredValueNote))
        {
            yield return new Fault("/declaredValueNote", "A declared value that was agreed is changed only with a note");
        }

        if (after.Wishes?.FixedDate is { } day && day != before.Wishes?.FixedDate && day < today)
        {
            yield return new Fault("/wishes/fixedDate", $"This day is over; today is {today:uuuu-MM-dd}");
        }
    }

    private static bool IsOn(Job job, string read) =>
        Label.TryRead(read, out var label) && (label == job.Label || job.Labels.Knows(label.Value)) && job.Labels.ReplacementOf(label.Value) is null;

    private static bool Revalued(IntakeMembers before, IntakeMembers after) =>
        before.DeclaredValueMinor is not null && (before.DeclaredValueMinor != after.DeclaredValueMinor || before.Currency != after.Currency);

    private static string PointerOf(string member) => member switch
    {
        IntakeMember.DeclaredValue => "/declaredValueMinor",
        IntakeMember.Terms => "/terms/acceptedOn",
        IntakeMember.Polish => "/wishes/polish",
        IntakeMember.OldPartsBack => "/wishes/oldPartsBack",
        IntakeMember.Running => "/arrival/running",
        IntakeMember.Photos => "/arrival/photosTaken",
        _ => $"/{member}",
    };
}
