using System.Collections.Immutable;
using Workshop.Core.Gates;
using Workshop.Core.Journal;

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
        var place = new Place(incoming.Effective, incoming.Id.Source, incoming.OrderSequence, facts.NextPosition);
        var growing = new GrowingJob(history, facts.NextPosition);
        var before = growing.JobBefore(place);
        var person = facts.Person?.Id ?? incoming.Manner.Person;
        var asking = new Asking
        {
            Event = incoming.Event,
            Person = person,
            Bench = facts.Bench ?? incoming.Manner.Bench,
            Under = incoming.Under,
            Role = facts.Role,
            At = incoming.Effective,
            Rules = facts.Rules,
        };

        var judged = Judging.Freeze(before, incoming, facts, asking);
        var asked = Ask(before, asking, incoming, facts);
        if (incoming.Live && !growing.IsInOrder(place) && asked.All(one => one.Gate != OneHolder))
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

        var entry = new Entry
        {
            Id = incoming.Id,
            Place = place,
            StreamVersion = history.Job.Version + 1,
            Received = incoming.Received,
            Event = incoming.Event,
            Judged = judged,
            Disposition = Disposition.Applied,
            Flags = flags.ToImmutable(),
            RulesVersion = facts.Rules.Version,
            CausedBy = incoming.CausedBy,
        };
        var after = before.Apply(entry);
        if (after.WearChecks.ReadingOf(entry.Id) is { MeanOfDays: true })
        {
            entry = entry with { Flags = entry.Flags.Add(EntryFlag.MeanOfDays) };
        }

        var badNews = BadNews.Is(incoming.Event, before, after);

        if (incoming.Live && against.Length > 0)
        {
            var mixUps = MixUps.Write(incoming, facts, against, growing);
            return new Decision
            {
                Outcome = Outcome.Refused,
                Entries = mixUps,
                Job = growing.Job,
                Against = against,
                GateWords = Words(against.Select(one => (one.Gate, one.Strength == Strength.Ask ? GateSaid.Asked : GateSaid.Refused))),
            };
        }

        var noted = !badNews && !BadNews.IsMeasurement(incoming.Event) && (against.Length > 0 || SecondLooks.TakesAwayFromLater(growing, before, entry, facts.Rules));
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

        var inOrder = growing.IsInOrder(place);
        growing.Add(entry);
        if (noted)
        {
            MixUps.Write(incoming, facts, against, growing);
        }

        Consequences.Follow(growing, history.Job, entry, against, facts);
        if (!noted && !inOrder)
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
            GateWords = noted
                ? Words(against.Select(one => (one.Gate, GateSaid.Noted)))
                : Words(asked.Where(one => !against.Contains(one)).Select(one => (one.Gate, HowPassed(one, incoming)))),
        };
    }

    // Of what was asked and does not stand against the event: flagged only, tapped through, or waived.
    private static GateSaid HowPassed(Objection one, Incoming incoming) =>
        one.Strength == Strength.Note ? GateSaid.Flagged : PassedByTap(one, incoming) ? GateSaid.Tapped : GateSaid.Waived;

    private static ImmutableArray<GateWord> Words(IEnumerable<(string Gate, GateSaid Said)> said) => [.. said.Select(one => new GateWord(one.Gate, one.Said)).Distinct()];

    private static ImmutableArray<Objection> Ask(Job before, Asking asking, Incoming incoming, Facts facts) =>
        BadNews.IsMeasurement(incoming.Event) ? [.. LabelGates.ToldUnder(before, asking)]
        : [.. JobGates.Ask(before, asking), .. FactGates.Ask(before, asking, incoming, facts)];

    private static bool PassedByTap(Objection one, Incoming incoming) => one.Strength == Strength.Ask && incoming.Manner.Despite.Contains(one.Gate);
}
