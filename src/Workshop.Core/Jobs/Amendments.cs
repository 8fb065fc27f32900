using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.Gates;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Reports;
using Workshop.Core.Words;

namespace Workshop.Core.Jobs;

/// <summary>Decides about events that say something of other entries: corrections, settlements of reports, mended badges.</summary>
internal static class Amendments
{
    /// <summary>Asks to make an entry void. Live it may be refused; late it is noted where something stands against it.</summary>
    public static Decision Correct(GrowingJob growing, Incoming incoming, CorrectionMade made, Asking asking, Facts facts)
    {
        if (Correctable.FaultIn(growing.Reckoning, made.Of, "/of") is { } fault)
        {
            return Wrong(growing, fault);
        }

        var entry = EntryOf(growing, incoming, facts, incoming.Effective, new Judged { Person = asking.Person, Bench = asking.Bench, Role = facts.Role });
        var against = Correctable.Ask(growing.Reckoning, made.Of, asking);
        if (against.IsEmpty && SideBySide.Harmed(growing, entry, facts.Rules) is { IsEmpty: false } harmed)
        {
            against = [Correctable.NeededLater(harmed, asking)];
        }

        return against.IsEmpty ? Accept(growing, entry, facts)
            : incoming.Live ? new Decision { Outcome = Outcome.Refused, Job = growing.Job, Against = against }
            : Note(growing, entry, against, facts);
    }

    /// <summary>
    /// Settles a report under a manager's name: as having happened it passes exactly the gates that had failed, and whatever it says
    /// follows. It answers what the service shows, so that it may be refused whenever it arrives.
    /// </summary>
    public static Decision Settle(GrowingJob growing, Incoming incoming, ReportSettled settled, Asking asking, Facts facts)
    {
        if (growing.Reckoning.Find(settled.Of) is not { } report)
        {
            return Wrong(growing, new Fault("/of", Phrase.Of("This job has no entry {0}.", $"{settled.Of}")));
        }

        var against = FactGates.Ask(growing.Job, asking, incoming, facts).Concat(Waits(growing.Reckoning, report, settled.As, asking)).ToImmutableArray();
        if (!against.IsEmpty)
        {
            return new Decision { Outcome = Outcome.Refused, Job = growing.Job, Against = against };
        }

        // A manager's clock that is behind must not settle a report before it was there.
        var at = incoming.Effective > report.Received ? incoming.Effective : report.Received;
        var entry = EntryOf(growing, incoming, facts, at, new Judged
        {
            Person = asking.Person,
            Bench = asking.Bench,
            Role = facts.Role,
            Passing = settled.As == SettledAs.Happened ? report.Judged.Failed : [],
        });
        return Accept(growing, entry, facts, happened: settled.As == SettledAs.Happened ? report : null);
    }

    /// <summary>Writes a mended badge into a job. What would not have been allowed to the right person stands, and a manager is asked.</summary>
    public static Decision Mend(GrowingJob growing, Entry cause, PersonCorrected mended, Facts facts)
    {
        var entry = growing.Consequence(mended, cause.Id, cause.Place, cause.Received, facts.Rules.Version, growing.Job.Label, growing.Job.Version + 1, cause.Received);
        var harmed = SideBySide.Harmed(growing, entry, facts.Rules);
        var before = growing.Job;
        growing.Add(entry);
        Consequences.Follow(growing, before, entry, [], facts);
        if (!harmed.IsEmpty)
        {
            growing.AddConsequence(
                new HoldPlaced { Hold = HoldReason.Query, Reason = $"by the mended badge not allowed: {string.Join(", ", harmed.Select(one => one.Event.Type).Distinct())}" }, entry, at: entry.Received);
        }

        SecondLooks.Take(growing, entry, facts);
        return new Decision { Outcome = Outcome.Accepted, Entries = growing.Written, Job = growing.Job };
    }

    /// <summary>Writes what follows from another stream; written before, it is not written again.</summary>
    public static Decision HearElsewhere(GrowingJob growing, WorkshopEvent one, EventId cause, Place at, Instant received, ImmutableArray<string> flags, Facts facts)
    {
        var before = growing.Job;
        var entry = growing.Consequence(one, cause, at, received, facts.Rules.Version, before.Label, before.Version + 1) with { Flags = flags };
        if (growing.Reckoning.Find(entry.Id) is null)
        {
            growing.Add(entry);
            Consequences.Follow(growing, before, entry, [], facts);
            SecondLooks.Take(growing, entry with { Received = received }, facts);
        }

        return new Decision { Outcome = Outcome.Accepted, Entries = growing.Written, Job = growing.Job };
    }

    public static Decision Wrong(GrowingJob growing, Fault fault) => new() { Outcome = Outcome.Refused, Job = growing.Job, Faults = [fault] };

    private static IEnumerable<Objection> Waits(Reckoning reckoning, Entry report, SettledAs settledAs, Asking asking)
    {
        var state =
            report.Disposition != Disposition.Noted ? Phrase.Of("It counts; nothing waits to be settled")
            : reckoning.SettledBy(report.Id) is { Event: ReportSettled before } ? before.As == SettledAs.Happened ? Phrase.Of("It is settled already: it happened") : Phrase.Of("It is settled already: it did not happen")
            : reckoning.IsVoid(report.Id) ? Phrase.Of("It is void; nothing waits to be settled")
            : null;
        if (state is not null)
        {
            yield return GateTable.Objects("waits-for-review", asking.Rules, state, Phrase.Of("look at the job's reviews"));
        }
        else if (settledAs == SettledAs.Happened && report.Judged.InsteadOf is { } replaced && reckoning.IsVoid(replaced.Entry))
        {
            // Two entries in one place would both count.
            yield return GateTable.Objects("newest-of-its-chain", asking.Rules, Phrase.Of("Something else stands in its place by now"), Phrase.Of("settle it as not having happened")) with
            {
                Entries = [NamedEntry.Of(reckoning.Newest(reckoning.Find(replaced.Entry)!))],
            };
        }
    }

    private static Decision Accept(GrowingJob growing, Entry entry, Facts facts, Entry? happened = null)
    {
        var before = growing.Job;
        growing.Add(entry);
        if (happened is null)
        {
            Consequences.Follow(growing, before, entry, [], facts);
        }
        else
        {
            Consequences.Follow(growing, before, happened with { Disposition = Disposition.Applied }, [], facts, because: entry with { Place = happened.Place });
        }

        SecondLooks.Take(growing, entry, facts);
        return new Decision { Outcome = Outcome.Accepted, Entries = growing.Written, Job = growing.Job, Flags = entry.Flags };
    }

    private static Decision Note(GrowingJob growing, Entry entry, ImmutableArray<Objection> against, Facts facts)
    {
        var noted = entry with
        {
            Disposition = Disposition.Noted,
            Flags = entry.Flags.Add(EntryFlag.ForReview),
            Judged = entry.Judged with { Failed = [.. against.Select(one => one.Gate)] },
        };
        var before = growing.Job;
        growing.Add(noted);
        Consequences.Follow(growing, before, noted, against, facts);
        return new Decision { Outcome = Outcome.Noted, Entries = growing.Written, Job = growing.Job, Flags = noted.Flags, Against = against };
    }

    private static Entry EntryOf(GrowingJob growing, Incoming incoming, Facts facts, Instant at, Judged judged) => new()
    {
        Id = incoming.Id,
        Place = new Place(at, incoming.Id.Source, incoming.OrderSequence, growing.NextPosition),
        StreamVersion = growing.Job.Version + 1,
        Received = incoming.Received,
        Event = incoming.Event,
        Judged = judged,
        Flags = incoming.Live ? incoming.Flags : incoming.Flags.Add(EntryFlag.Late),
        RulesVersion = facts.Rules.Version,
        Sequence = incoming.Sequence,
    };
}
