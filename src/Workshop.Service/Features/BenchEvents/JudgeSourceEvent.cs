using Microsoft.AspNetCore.Mvc;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Sources;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>Takes in what a device says about itself. It stands in the stream of its source; no gate is asked.</summary>
internal static class JudgeSourceEvent
{
    public static EventResult Judge(Turn turn, SaidEvent said, CloudEvent one, Post post, EventSettings settings)
    {
        var data = said.Data!;
        if (WhatIsWrong(one, data, post) is { } problem)
        {
            return EventResults.Refused(one.Id, null, problem, said.Language);
        }

        var time = EventTime.Of(turn, one, data.Manner, post, takenIn: null, settings);
        var entry = turn.Compose(
            StreamEntry.OfSource(one.Source),
            new EventId(one.Source, one.Id),
            data.Event!,
            new Judged { Person = data.Manner.Person, Bench = post.Caller.Bench ?? data.Manner.Bench, Role = Word.Of(post.Caller.Role) },
            time.Effective,
            orderSequence: one.Sequence ?? 0,
            received: post.Received,
            flags: EventResults.FlagsAtTheDoor(time, data, post));
        if (!post.Ask)
        {
            turn.Append([entry], JudgeJobEvent.AsSentIn(one));
            Follow(turn, one.Source, data.Event!);
        }

        return new EventResult
        {
            Id = one.Id,
            Outcome = EventOutcome.Accepted,
            Version = entry.Entry.StreamVersion,
            Effective = time.Effective,
            Flags = entry.Entry.Flags,
            Say = new Say(Signal.Ok, Line(data.Event!).In(said.Language)),
        };
    }

    private static ProblemDetails? WhatIsWrong(CloudEvent one, DataReading data, Post post) =>
        data.Event is not { } said ? Problems.BadFieldsDetails([.. data.Faults.Select(EventResults.InData)])
        : one.Subject is { } subject && subject != one.Source ? Problems.BadFieldsDetails([new Fault("/subject", "A device speaks of itself here: the subject is its source, or left out")])
        : EventFaults.Of(said).Select(EventResults.InData).ToArray() is { Length: > 0 } faults ? Problems.BadFieldsDetails(faults)
        : said is GapDeclared gap && gap.To >= one.Sequence ? Problems.BadFieldsDetails([new Fault("/data/to", "A number that was not used yet cannot be lost; this event has a higher one")])
        : !WhoMayPost.May(post.Caller.Role, said) ? Problems.Details(
            ProblemCatalogue.NotForThisRole, $"A key of the role '{Word.Of(post.Caller.Role)}' may not say '{one.Type}' here.", ("role", Word.Of(post.Caller.Role)))
        : null;

    private static void Follow(Turn turn, string source, WorkshopEvent said)
    {
        if (said is GapDeclared gap)
        {
            var state = turn.Source(source);
            turn.SaveSource(state with { Sequence = state.Sequence.Without(gap.From, gap.To) });
        }
    }

    private static Phrase Line(WorkshopEvent said) => said switch
    {
        GapDeclared => Phrase.Of("Nobody waits for them any longer"),
        _ => Phrase.Of("Heard"),
    };
}
