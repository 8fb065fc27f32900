using System.Collections.Immutable;
using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
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

        if (Faults(turn, before, after).ToArray() is { Length: > 0 } faults)
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
        if (now == sheet)
        {
            return Answer.Seen(part.Version, IntakeView.Of(sheet, part.Version));
        }

        var known = after.Known().ToHashSet(StringComparer.Ordinal);
        if (history.Job.Intake.Missing.Select(one => one.Member).Where(known.Contains).ToImmutableArray() is { Length: > 0 } found)
        {
            DeskCommand.Say(turn, history, caller, new IntakeCompleted { Known = found });
        }

        turn.SaveIntake(label, now.Write());
        return Answer.Seen(part.Version + 1, IntakeView.Of(now, part.Version + 1));
    }

    private static IEnumerable<Fault> Faults(Turn turn, IntakeMembers before, IntakeMembers after)
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

        if (Revalued(before, after) && string.IsNullOrWhiteSpace(after.DeclaredValueNote))
        {
            yield return new Fault("/declaredValueNote", "A declared value that was agreed is changed only with a note");
        }

        if (after.Wishes?.FixedDate is { } day && day != before.Wishes?.FixedDate && day < today)
        {
            yield return new Fault("/wishes/fixedDate", $"This day is over; today is {today:uuuu-MM-dd}");
        }
    }

    private static bool Revalued(IntakeMembers before, IntakeMembers after) =>
        before.DeclaredValueMinor is not null && (before.DeclaredValueMinor != after.DeclaredValueMinor || before.Currency != after.Currency);

    private static string PointerOf(string member) => member switch
    {
        IntakeMember.DeclaredValue => "/declaredValueMinor",
        IntakeMember.Terms => "/terms/acceptedOn",
        IntakeMember.Polish => "/wishes/polish",
        _ => $"/{member}",
    };
}
