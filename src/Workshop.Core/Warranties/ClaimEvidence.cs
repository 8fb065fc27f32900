using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.FinalControls;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Money;
using Workshop.Core.Notes;
using Workshop.Core.Parts;
using Workshop.Core.Quotes;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;
using Workshop.Core.WaterTests;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;

namespace Workshop.Core.Warranties;

/// <summary>What a piece of evidence is.</summary>
public enum EvidenceKind
{
    RateSet,
    WearCheck,
    WaterTest,
    Seal,
    FinalControl,
    PartFitted,
    DeclinedOption,
    CustomersWords,
    Photo,
    Finding,
    Damage,
}

/// <summary>One piece of evidence.</summary>
/// <param name="Id">A decision names it by this: the entry that tells it, <c>source#id</c>, with what of it is meant behind a slash.</param>
/// <param name="Words">What it says, soberly; it calls no culprit.</param>
/// <param name="Text">What a person has written or a customer has said, word for word; for those who may see names.</param>
public sealed record Evidence(string Id, EvidenceKind Kind, Instant At, Phrase Words, string? Text = null);

/// <summary>
/// What is known about a fault, of both sides side by side: how the watch left, and how it came back. A seal that was never fitted excludes
/// nothing (common practice), and so does whatever nobody wrote down.
/// </summary>
/// <param name="Ours">How the watch left the house, the oldest first.</param>
/// <param name="Theirs">What the customer told and showed, and how the watch came back.</param>
public sealed record ClaimEvidence(ImmutableArray<Evidence> Ours, ImmutableArray<Evidence> Theirs)
{
    public IEnumerable<Evidence> All => Ours.Concat(Theirs);

    /// <param name="job">The job whose warranty it is.</param>
    /// <param name="claim">The claim; null for a dispute about none.</param>
    /// <param name="back">The job under which the watch came back, with its entries; none while it has not.</param>
    public static ClaimEvidence Of(Job job, IEnumerable<Entry> entries, Claim? claim, IEnumerable<Entry>? back = null)
    {
        var counted = Counted(entries);
        return new(
            [.. HowItLeft(job, counted).OrderBy(one => one.At)],
            [.. Told(counted, claim).Concat(HowItCame(Counted(back ?? []))).OrderBy(one => one.At)]);
    }

    private static Entry[] Counted(IEnumerable<Entry> entries) => [.. entries.Where(entry => entry.Counts && !entry.OfNoEffect).OrderBy(entry => entry.Place)];

    private static IEnumerable<Evidence> HowItLeft(Job job, Entry[] entries)
    {
        // For a watch that is still here, everything until now.
        var left = entries.LastOrDefault(entry => entry.Event is JobHandedOver);
        var before = left is null ? entries : [.. entries.Where(entry => entry.Place.CompareTo(left.Place) < 0)];

        foreach (var set in job.Timekeeping.RateSets.GroupBy(set => set.Told.WindState).Select(same => same.Last()))
        {
            yield return Of(set.Id, set.At, set.Told, set.Figures);
        }

        if (job.WearChecks.Checks.LastOrDefault(check => check.Verdict == WearVerdict.Pass) is { Readings: [.., { RatePerDaySeconds: { } rate } read] })
        {
            yield return new(read.Id.ToString(), EvidenceKind.WearCheck, read.At, Phrase.Of("Passed after wear: {0} s/d", Figure.Signed(rate)));
        }

        if (job.WaterTests.Tests is [.., var test])
        {
            yield return new(test.Id.ToString(), EvidenceKind.WaterTest, test.At, OfTest(test));
        }

        yield return before.LastOrDefault(entry => entry.Event is SealSeen) is { Event: SealSeen seal } seen
            ? Of(seen, seal)
            : new("seal/none", EvidenceKind.Seal, left?.Effective ?? job.Intake.TakenInAt ?? default, Phrase.Of("No seal was written down: it excludes nothing"));

        if (before.LastOrDefault(entry => entry.Event is FinalControlPassed) is { Event: FinalControlPassed passed } control)
        {
            yield return new(control.Id.ToString(), EvidenceKind.FinalControl, control.Effective, Phrase.Of("Final control passed: {0} checks", passed.Checks.Length));
        }

        foreach (var entry in before)
        {
            if (entry.Event is PartFitted fitted)
            {
                yield return new(entry.Id.ToString(), EvidenceKind.PartFitted, entry.Effective, fitted.Lot is { } lot ? Phrase.Of("Fitted: {0}, lot {1}", fitted.Part, lot) : Phrase.Of("Fitted: {0}", fitted.Part));
            }
        }

        foreach (var line in DeclinedLine.Of(job, entries))
        {
            yield return new(
                $"{line.Answer}/{line.Line}", EvidenceKind.DeclinedOption, line.At, Phrase.Of("Declined in quote {0}: {1}", line.Version, Amount.Said(line.AmountMinor, line.Currency)), line.Text);
        }
    }

    private static IEnumerable<Evidence> Told(Entry[] entries, Claim? claim)
    {
        foreach (var entry in entries)
        {
            if (entry.Event is ClaimReported told && told.Claim == claim?.Number)
            {
                yield return new(entry.Id.ToString(), EvidenceKind.CustomersWords, entry.Effective, Phrase.Of("The customer told of it"), told.Text);
                foreach (var photo in told.Photos ?? [])
                {
                    yield return new($"{entry.Id}/{photo}", EvidenceKind.Photo, entry.Effective, Phrase.Of("A photo from the customer"), photo);
                }
            }
        }
    }

    private static IEnumerable<Evidence> HowItCame(Entry[] entries)
    {
        // What is measured once the movement is in parts is no longer how it came.
        var takedown = entries.FirstOrDefault(entry => entry.Event is TakedownEvent or Route.StageStarted { Stage: Route.Stage.Takedown } or Route.StageFinished { Stage: Route.Stage.Takedown });
        foreach (var entry in entries)
        {
            var untouched = takedown is null || entry.Place.CompareTo(takedown.Place) < 0;
            var said = entry.Event switch
            {
                FindingRecorded { AsReceived: true } found => new Evidence(entry.Id.ToString(), EvidenceKind.Finding, entry.Effective, Phrase.Of("Found as it came"), Joined(found.Part, found.Condition)),
                DamageSeen { AsReceived: true } damage => new(entry.Id.ToString(), EvidenceKind.Damage, entry.Effective, Phrase.Of("Damaged as it came"), Joined(damage.Part, damage.Condition)),
                SealSeen seal when untouched => Of(entry, seal),
                RateSetRecorded set when untouched && RateSetFigures.Of(set.Readings) is { } figures => Of(entry.Id, entry.Effective, set, figures),
                _ => null,
            };
            if (said is not null)
            {
                yield return said;
            }
        }
    }

    private static Evidence Of(EventId id, Instant at, RateSetRecorded told, RateSetFigures figures) => new(
        id.ToString(), EvidenceKind.RateSet, at,
        figures.Positions.Length == 1
            ? Phrase.Of("Measured, {0}: {1} s/d in 1 position", told.WindState ?? WindState.Unknown, Figure.Signed(figures.MeanPerDaySeconds))
            : Phrase.Of("Measured, {0}: mean {1} s/d in {2} positions", told.WindState ?? WindState.Unknown, Figure.Signed(figures.MeanPerDaySeconds), figures.Positions.Length));

    private static Phrase OfTest(WaterTestSummary test) => (test.Passed, test.PressureBar) switch
    {
        (true, { } bar) => Phrase.Of("Water test passed: {0}, {1} bar", test.Method, new Figure(bar, "0.##")),
        (true, null) => Phrase.Of("Water test passed: {0}", test.Method),
        (false, _) => Phrase.Of("Water test not passed: {0}", test.Method),
    };

    private static Evidence Of(Entry entry, SealSeen seal) => new(entry.Id.ToString(), EvidenceKind.Seal, entry.Effective, (seal.State, seal.Number) switch
    {
        (SealState.NeverFitted, _) => Phrase.Of("No seal was ever fitted: it excludes nothing"),
        (_, { } number) => Phrase.Of("Seal {0}: {1}", number, seal.State),
        _ => Phrase.Of("Seal: {0}", seal.State),
    });

    private static string Joined(string? part, string? condition) => string.Join(": ", new[] { part, condition }.Where(text => !string.IsNullOrWhiteSpace(text)));
}
