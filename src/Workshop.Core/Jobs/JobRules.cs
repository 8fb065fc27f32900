using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.FunctionChecks;
using Workshop.Core.Gates;
using Workshop.Core.Journal;
using Workshop.Core.Promises;
using Workshop.Core.Reports;
using Workshop.Core.Timekeeping;
using Workshop.Core.Trials;
using Workshop.Core.Waivers;
using Workshop.Core.WearChecks;

namespace Workshop.Core.Jobs;

/// <summary>
/// Decides about events that ask to enter a job. A bench that posts at once asks, and may be refused; a bench that posts late reports
/// what has been done, and a report cannot be refused into not having happened. Runs once for each event; never again when folding.
/// </summary>
public static class JobRules
{
    private const string OneHolder = "one-holder";

    /// <summary>Decides about one event at its own place in the job's history.</summary>
    /// <returns>
    /// The outcome with the entries to append. Refused: none, but for a suspected mix-up, which is written into both jobs.
    /// </returns>
    public static Decision Decide(JobHistory history, Incoming incoming, Facts facts)
    {
        var growing = new GrowingJob(history, facts.NextPosition);
        var asking = new Asking
        {
            Event = incoming.Event,
            Person = facts.Person?.Id ?? incoming.Manner.Person,
            Bench = facts.Bench ?? incoming.Manner.Bench,
            Under = incoming.Under,
            Role = facts.Role,
            At = incoming.Effective,
            Rules = facts.Rules,
            Takedown = facts.Takedown,
        };
        return incoming switch
        {
            { Event: CorrectionMade made } => Amendments.Correct(growing, incoming, made, asking, facts),
            { Event: ReportSettled settled } => Amendments.Settle(growing, incoming, settled, asking, facts),
            { Manner.InsteadOf: { } old } when Correctable.FaultIn(growing.Reckoning, old, "/insteadOf", incoming.Event) is { } fault => Amendments.Wrong(growing, fault),
            { Manner.InsteadOf: { } old } => DecideInsteadOf(history, growing, growing.Reckoning.Counted(old)!, incoming, asking, facts),
            _ => Decide(history, growing, new Place(incoming.Effective, incoming.Id.Source, incoming.OrderSequence, facts.NextPosition), null, incoming, asking, facts, []),
        };
    }

    /// <summary>Writes into a job that what a source said within a range of its numbers was said by another person.</summary>
    /// <param name="cause">The manager's own entry.</param>
    /// <param name="mended">What it says, with the person behind the badge.</param>
    public static Decision Mend(JobHistory history, Entry cause, PersonCorrected mended, Facts facts) =>
        Amendments.Mend(new GrowingJob(history, facts.NextPosition), cause, mended, facts);

    /// <summary>Writes into a job what follows from something in another stream: a run that is finished, or was aborted.</summary>
    /// <param name="cause">The job's own entry that led there; when that falls, what followed falls too.</param>
    /// <param name="at">When it happened, and when it was heard.</param>
    /// <param name="flags">What is to be known about it.</param>
    public static Decision HearElsewhere(JobHistory history, WorkshopEvent one, EventId cause, Place at, Instant received, ImmutableArray<string> flags, Facts facts) =>
        Amendments.HearElsewhere(new GrowingJob(history, facts.NextPosition), one, cause, at, received, flags, facts);

    /// <summary>The right value takes the place of the wrong one, as if that had never been; who corrects it is asked by their own clock.</summary>
    private static Decision DecideInsteadOf(JobHistory history, GrowingJob growing, Entry old, Incoming incoming, Asking asking, Facts facts)
    {
        var place = old.Place with { Position = facts.NextPosition, InPlaceOf = old.Place.InPlaceOf ?? old.Position };
        var against = Correctable.Ask(growing.Reckoning, old.Id, asking);
        return Decide(history, growing, place, new Replaced(old.Id, place.InPlaceOf.Value), incoming with { Effective = old.Effective }, asking with { At = old.Effective }, facts, against);
    }

    private static Decision Decide(
        JobHistory history, GrowingJob growing, Place place, Replaced? insteadOf, Incoming incoming, Asking asking, Facts facts, ImmutableArray<Objection> amends)
    {
        var entry = new Entry
        {
            Id = incoming.Id,
            Place = place,
            StreamVersion = history.Job.Version + 1,
            Received = incoming.Received,
            Event = incoming.Event,
            Judged = new Judged { InsteadOf = insteadOf },
            Disposition = Disposition.Applied,
            RulesVersion = facts.Rules.Version,
            Sequence = incoming.Sequence,
            CausedBy = incoming.CausedBy,
        };
        var before = insteadOf is null ? growing.JobBefore(place) : growing.JobBefore(place, growing.EntriesWith(entry));
        if (before.Route?.Quartz == true && EventFaults.OfQuartz(incoming.Event).ToImmutableArray() is { IsEmpty: false } faults)
        {
            return new Decision { Outcome = Outcome.Refused, Job = growing.Job, Faults = faults };
        }

        if (incoming.Event is LiftAngleCorrected corrected && corrected.FaultsIn(before.Timekeeping).ToImmutableArray() is { IsEmpty: false } unknown)
        {
            return new Decision { Outcome = Outcome.Refused, Job = growing.Job, Faults = unknown };
        }

        var person = asking.Person;
        var judged = Judging.Freeze(before, incoming, facts, asking) with { InsteadOf = insteadOf };
        var asked = Ask(before, asking, incoming, facts);
        if (incoming.Live && insteadOf is null && !growing.IsInOrder(place) && asked.All(one => one.Gate != OneHolder))
        {
            // Whoever reaches for a piece asks who has it now. Two clocks that differ by a blink must not hide that somebody was first.
            asked = [.. asked, .. JobGates.Ask(history.Job, asking).Where(one => one.Gate == OneHolder)];
        }

        var standing = asked.Where(one => one.Strength != Strength.Note && !PassedByTap(one, incoming)).ToImmutableArray();
        var waived = standing.Select(one => (Objection: one, Waiver: one.Waivable ? before.Waivers.For(one.Gate, incoming.Effective) : null)).ToImmutableArray();
        var against = waived.Where(one => one.Waiver is null).Select(one => one.Objection).OrderBy(one => one.Strength).ToImmutableArray();

        // A tap, a note and a waiver are kept with the entry; the fold asks them of nobody again.
        judged = judged with
        {
            Passing = [.. asked.Where(one => !against.Contains(one)).Select(one => one.Gate)],
            WaiversUsed = [.. waived.Where(one => one.Waiver is not null).Select(one => one.Waiver!.Id).Distinct()],
        };

        var flags = incoming.Flags.ToBuilder();
        if (!incoming.Live)
        {
            flags.Add(EntryFlag.Late);
        }

        if (before.WouldImplyOpening(incoming.Event))
        {
            flags.Add(EntryFlag.OpeningImplied);
        }

        if (JobGates.AlreadySo(before, incoming.Event, person))
        {
            flags.Add(EntryFlag.AlreadySo);
        }

        if (facts.Person is { LeftOn: not null } gone && gone.HasLeft(facts.Rules.Calendar.DateOf(incoming.Effective)))
        {
            flags.Add(EntryFlag.PersonLeft);
        }

        if (before.Pieces.Differing(incoming.Event) is not null)
        {
            flags.Add(EntryFlag.CountDiffers);
        }

        if (incoming.Event is TrialDayRecorded told && !TrialSequence.IsLike(told.Day, told.Position, told.TemperatureCelsius))
        {
            flags.Add(EntryFlag.UnlikeSequence);
        }

        if (incoming.Event is FunctionChecked { Passed: { } right } && judged.Function?.ByFigures is { } figures && figures != right)
        {
            flags.Add(EntryFlag.FunctionFiguresDiffer);
        }

        if (judged.Water is { IsEmpty: false })
        {
            flags.Add(EntryFlag.AgainstCaution);
        }

        if (PromiseArithmetic.IsBeyondCalendar(incoming.Event, facts.Rules.Calendar))
        {
            flags.Add(EntryFlag.BeyondCalendar);
        }

        entry = entry with { Judged = judged, Flags = flags.ToImmutable() };
        var after = before.Apply(entry);
        if (after.WearChecks.ReadingOf(entry.Id) is { } reading)
        {
            entry = entry with { Flags = [.. entry.Flags, .. FlagsOf(reading)] };
        }

        if (after.Timekeeping.Find(entry.Id) is { } measured && RateDoubts.Of(measured, facts.Rules.Timekeeping).Any(doubt => doubt.Asks))
        {
            entry = entry with { Flags = entry.Flags.Add(EntryFlag.Implausible) };
        }

        // Bad news counts whenever it arrives; a right value in the place of a wrong one is no news, and first asks what rests on it.
        var badNews = insteadOf is null && BadNews.Is(incoming.Event, before, after);
        var inOrder = growing.IsInOrder(place);
        var asksLater = insteadOf is not null || !(inOrder || badNews || against.Length > 0 || BadNews.IsMeasurement(incoming.Event));
        var harmed = asksLater ? SideBySide.Harmed(growing, entry, facts.Rules) : [];
        if (insteadOf is not null)
        {
            against = [.. amends, .. amends.IsEmpty && !harmed.IsEmpty ? [Correctable.NeededLater(harmed, asking)] : ImmutableArray<Objection>.Empty, .. against];
        }

        if (incoming.Live && against.Length > 0)
        {
            var mixUps = MixUps.Write(incoming, facts, against, growing);
            return new Decision { Outcome = Outcome.Refused, Entries = mixUps, Job = growing.Job, Against = against };
        }

        var noted = !badNews && (against.Length > 0 || !harmed.IsEmpty);
        if (noted)
        {
            entry = entry with
            {
                Disposition = Disposition.Noted,
                Flags = entry.Flags.Add(EntryFlag.ForReview),

                // What was tapped through stays tapped through when the report is looked at again; a waiver is not used up by waiting.
                Judged = entry.Judged with
                {
                    Passing = [.. asked.Where(one => one.Strength == Strength.Note || PassedByTap(one, incoming)).Select(one => one.Gate)],
                    WaiversUsed = [],
                    Failed = [.. against.Select(one => one.Gate)],
                },
            };
        }

        growing.Add(entry);
        if (noted)
        {
            MixUps.Write(incoming, facts, against, growing);
        }

        Consequences.Follow(growing, history.Job, entry, against, facts);
        if (!noted && (!inOrder || insteadOf is not null || entry.Event is WaiverGiven))
        {
            SecondLooks.Take(growing, entry, facts);
        }

        return new Decision
        {
            Outcome = noted ? Outcome.Noted : Outcome.Accepted,
            Entries = growing.Written,
            Job = growing.Job,
            Flags = entry.Flags,
            Against = noted ? against : [],
            WentThrough = noted ? [] : [.. asked.Where(one => !against.Contains(one)).Select(one => new GateWord(one.Gate, HowPassed(one, incoming))).Distinct()],
        };
    }

    private static IEnumerable<string> FlagsOf(WearReading reading)
    {
        if (reading.MeanOfDays)
        {
            yield return EntryFlag.MeanOfDays;
        }

        if (reading.Notices.Contains(WearNotice.MidnightsDiffer))
        {
            yield return EntryFlag.MidnightsDiffer;
        }

        if (reading.Notices.Contains(WearNotice.UnlikePrediction))
        {
            yield return EntryFlag.UnlikePrediction;
        }
    }

    // Of what was asked and does not stand against the event: flagged only, tapped through, or waived.
    private static GateSaid HowPassed(Objection one, Incoming incoming) =>
        one.Strength == Strength.Note ? GateSaid.Flagged : PassedByTap(one, incoming) ? GateSaid.Tapped : GateSaid.Waived;

    private static ImmutableArray<Objection> Ask(Job before, Asking asking, Incoming incoming, Facts facts) =>
        BadNews.IsMeasurement(incoming.Event) ? [.. LabelGates.ToldUnder(before, asking)]
        : [.. JobGates.Ask(before, asking), .. FactGates.Ask(before, asking, incoming, facts)];

    private static bool PassedByTap(Objection one, Incoming incoming) => one.Strength == Strength.Ask && incoming.Manner.Despite.Contains(one.Gate);
}
