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
            Role = facts.Role,
            At = incoming.Effective,
            Rules = facts.Rules,
        };

        var judged = Judging.Freeze(before, incoming, facts, asking);
        var asked = Ask(before, asking, incoming, facts);
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
        };
        var badNews = BadNews.Is(incoming.Event, before, before.Apply(entry));

        if (incoming.Live && against.Length > 0)
        {
            var mixUps = MixUps.Write(incoming, facts, against, growing);
            return new Decision { Outcome = Outcome.Refused, Entries = mixUps, Job = growing.Job, Against = against };
        }

        var noted = !badNews && !BadNews.IsMeasurement(incoming.Event) && (against.Length > 0 || (!growing.IsInOrder(place) && TakesAwayFromLater(history, before, entry, facts)));
        if (noted)
        {
            entry = entry with
            {
                Disposition = Disposition.Noted,
                Flags = entry.Flags.Add(EntryFlag.ForReview),
                Judged = entry.Judged with { Passing = [], WaiversUsed = [], Failed = [.. against.Select(one => one.Gate)] },
            };
        }

        growing.Add(entry);
        if (noted)
        {
            MixUps.Write(incoming, facts, against, growing);
        }

        Consequences.Follow(growing, history.Job, entry, against, facts);
        return new Decision
        {
            Outcome = noted ? Outcome.Noted : Outcome.Accepted,
            Entries = growing.Written,
            Job = growing.Job,
            Flags = entry.Flags,
            Against = noted ? against : [],
        };
    }

    private static ImmutableArray<Objection> Ask(Job before, Asking asking, Incoming incoming, Facts facts) =>
        BadNews.IsMeasurement(incoming.Event) ? []
        : [.. JobGates.Ask(before, asking), .. FactGates.Ask(before, asking, incoming, facts)];

    private static bool PassedByTap(Objection one, Incoming incoming) => one.Strength == Strength.Ask && incoming.Manner.Despite.Contains(one.Gate);

    /// <summary>
    /// Whether a later applied entry would no longer be allowed: its job gates are asked with and without the new one, two folds side by
    /// side. Gates about facts are never asked again.
    /// </summary>
    private static bool TakesAwayFromLater(JobHistory history, Job before, Entry entry, Facts facts)
    {
        var without = before;
        var with = before.Apply(entry);
        foreach (var later in history.Entries.Where(one => one.Place.CompareTo(entry.Place) > 0))
        {
            if (later.Counts && !BadNews.IsMeasurement(later.Event))
            {
                var again = Asking.Again(later, facts.Rules);
                if (Passes(without, again, later) && !Passes(with, again, later))
                {
                    return true;
                }
            }

            without = without.Apply(later);
            with = with.Apply(later);
        }

        return false;
    }

    private static bool Passes(Job job, Asking again, Entry later) =>
        JobGates.Ask(job, again).All(one => one.Strength == Strength.Note || later.Judged.Passing.Contains(one.Gate));
}
