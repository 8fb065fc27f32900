using System.Collections.Immutable;
using Microsoft.AspNetCore.Mvc;
using Workshop.Core.Charts;
using Workshop.Core.Corrections;
using Workshop.Core.Gates;
using Workshop.Core.House;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.People;
using Workshop.Core.Sources;
using Workshop.Core.Words;
using Workshop.Service.Features.People;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>Takes in what a device says about itself. It stands in the stream of its source; no gate about a watch is asked.</summary>
internal static class JudgeSourceEvent
{
    private const int NameAtMost = 36;

    public static EventResult Judge(Turn turn, SaidEvent said, CloudEvent one, Post post, EventSettings settings)
    {
        var data = said.Data!;
        if ((WhatIsWrong(turn, one, data, post) ?? WhoIsIt(turn, data.Event!)) is { } problem)
        {
            return EventResults.Refused(one.Id, null, problem, said.Language);
        }

        var time = EventTime.Of(turn, one, data.Manner, post, takenIn: null, settings);
        var id = new EventId(one.Source, one.Id);

        // Whose work it was is no word about who says so.
        var person = data.Event is PersonCorrected ? null : SaidBy.Person(turn, id, data.Manner.Person, time.Effective, one.Sequence ?? 0);
        var proof = data.Event is PersonSignedOn ? ProofOf(turn, said, post, id, person!) : Proof.NotNeeded;
        if (time.Live && one.Proof is not null && FactGates.Proven(proof, turn.Rules).ToImmutableArray() is { IsEmpty: false } against && !post.Ask)
        {
            return EventResults.Refused(one.Id, null, GateProblems.Details(against, said.Language), Saying.Refused(against, said.Language, []));
        }

        var flags = EventResults.FlagsAtTheDoor(time, data, post);
        var entry = turn.Compose(
            data.Event is SafeCounted or ControlChartRestarted ? House.Stream : StreamEntry.OfSource(one.Source),
            id,
            data.Event!,
            new Judged { Person = person, Bench = post.Caller.Bench ?? data.Manner.Bench, Role = Word.Of(post.Caller.Role) },
            time.Effective,
            causedBy: said.CausedBy,
            orderSequence: one.Sequence ?? 0,
            received: post.Received,
            flags: one.Proof is not null && proof is Proof.Wrong or Proof.Locked ? flags.Add(EntryFlag.Unproven) : flags);
        var compared = data.Event is SafeCounted counted ? CompareSafe.Compare(turn, counted) : null;
        if (!post.Ask)
        {
            turn.Append([entry], JudgeJobEvent.AsSentIn(one));
            Follow(turn, entry.Entry, proof);
            if (compared is not null)
            {
                CompareSafe.Keep(turn, entry.Entry, compared);
            }
        }

        return new EventResult
        {
            Id = one.Id,
            Outcome = EventOutcome.Accepted,
            Version = entry.Entry.StreamVersion,
            Effective = time.Effective,
            Flags = entry.Entry.Flags,
            Say = compared is not null ? SayCompared(compared, said.Language) : new Say(Signal.Ok, Line(turn, data.Event!, person).In(said.Language)),
        };
    }

    private static ProblemDetails? WhatIsWrong(Turn turn, CloudEvent one, DataReading data, Post post) =>
        data.Event is not { } said ? Problems.BadFieldsDetails([.. data.Faults.Select(EventResults.InData)])
        : one.Subject is { } subject && subject != one.Source ? Problems.BadFieldsDetails([new Fault("/subject", "A device speaks of itself here: the subject is its source, or left out")])
        : one.Proof is { Digits: null } ? Problems.BadFieldsDetails([EventResults.NoNumber])
        : EventFaults.Of(said).Select(EventResults.InData).ToArray() is { Length: > 0 } faults ? Problems.BadFieldsDetails(faults)
        : said is GapDeclared gap && gap.To >= one.Sequence ? Problems.BadFieldsDetails([new Fault("/data/to", "A number that was not used yet cannot be lost; this event has a higher one")])
        : !WhoMayPost.May(post.Caller.Role, said) ? Problems.Details(
            ProblemCatalogue.NotForThisRole, $"A key of the role '{Word.Of(post.Caller.Role)}' may not say '{one.Type}' here.", ("role", Word.Of(post.Caller.Role)))
        : said is SafeCounted counted && CompareSafe.Unknown(turn, counted).ToArray() is { Length: > 0 } unknown ? Problems.BadFieldsDetails([.. unknown.Select(EventResults.InData)])
        : said is PersonSignedOn && string.IsNullOrWhiteSpace(data.Manner.Person) ? Problems.BadFieldsDetails([new Fault("/data/person", Phrase.Of("Whose badge was it?"))])
        : null;

    private static Proof ProofOf(Turn turn, SaidEvent said, Post post, EventId id, string person) =>
        HearProofs.Settle(turn, said, post) is var proof && proof != Proof.Right && ProofStore.WasHeard(turn, id, person) ? Proof.Right : proof;

    // A badge that nobody knows is taken as it stands where work is told; whoever mends one has to say who it was.
    private static ProblemDetails? WhoIsIt(Turn turn, WorkshopEvent said) =>
        said is PersonCorrected mended && turn.Rules.PersonBehind(mended.Person) is null
            ? Problems.BadFieldsDetails([new Fault("/data/person", Phrase.Of("Nobody of the house has the badge or short name '{0}'.", mended.Person))])
            : null;

    private static void Follow(Turn turn, Entry entry, Proof proof)
    {
        switch (entry.Event)
        {
            case GapDeclared gap:
                var state = turn.Source(entry.Id.Source);
                turn.SaveSource(state with { Sequence = state.Sequence.Without(gap.From, gap.To) });
                break;

            case PersonSignedOn or PersonSignedOff:
                var calendar = turn.Rules.Calendar;
                turn.SignOn(
                    entry.Id, entry.Effective, entry.Place.OrderSequence, entry.Event is PersonSignedOn ? entry.Person : null,
                    until: calendar.EndOfDay(calendar.DateOf(entry.Effective)),
                    proof == Proof.Right ? ProofStore.Given(turn, entry.Person!) : null);
                break;

            case PersonCorrected mended:
                MendBadge.InEveryJob(turn, entry, mended);
                break;
        }
    }

    private static Say SayCompared(SafeCompared compared, Language language) => compared.Missing.IsEmpty
        ? new Say(Signal.Ok, Phrase.Of("{0} counted, nothing is missing", compared.Counted).In(language))
        : new Say(Signal.Stop, Phrase.Of("{0} counted, {1} missing: look before you lock", compared.Counted, compared.Missing.Length).In(language), string.Join(", ", compared.Missing));

    private static Phrase Line(Turn turn, WorkshopEvent said, string? person) => said switch
    {
        PersonCorrected mended => Phrase.Of("Numbers {0} to {1} are mended", $"{mended.FromSequence}", $"{mended.ToSequence}"),
        ControlChartRestarted => Phrase.Of("The chart begins anew"),
        GapDeclared => Phrase.Of("Nobody waits for them any longer"),
        PersonSignedOn => Phrase.Of("{0} is signed on here", NameOf(turn, person)),
        PersonSignedOff when person is null => Phrase.Of("Nobody is signed on here"),
        PersonSignedOff => Phrase.Of("{0} is signed off", NameOf(turn, person)),
        _ => Phrase.Of("Heard"),
    };

    // Names are as long as people like; a line is not.
    private static string NameOf(Turn turn, string? person)
    {
        var name = turn.Rules.PersonBehind(person)?.Name ?? person ?? "";
        return name.Length > NameAtMost ? $"{name[..(NameAtMost - 1)]}…" : name;
    }
}
