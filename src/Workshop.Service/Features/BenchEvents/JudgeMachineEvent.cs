using System.Text.Json;
using Microsoft.AspNetCore.Mvc;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.People;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>
/// Takes in what is told of a cleaning machine: its fluids, and that it stands still. It is in the machine's own stream; the shop's document
/// of the batch is saved in the same turn, so that whoever reads it sees what stands in the jar.
/// </summary>
internal static class JudgeMachineEvent
{
    public static EventResult Judge(Turn turn, SaidEvent said, CloudEvent one, Post post, EventSettings settings)
    {
        var data = said.Data!;
        var machine = MachineOf(turn, one.Subject);
        if (WhatIsWrong(turn, one, data, machine, post) is { } problem)
        {
            return EventResults.Refused(one.Id, null, problem, said.Language);
        }

        var time = EventTime.Of(turn, one, data.Manner, post, takenIn: null, settings);
        var id = new EventId(one.Source, one.Id);
        var entry = turn.Compose(
            FluidLedger.StreamOf(machine!), id, data.Event!,
            new Judged { Person = SaidBy.Person(turn, id, data.Manner.Person, time.Effective, one.Sequence ?? 0), Bench = post.Caller.Bench ?? data.Manner.Bench, Role = Word.Of(post.Caller.Role) },
            time.Effective, causedBy: said.CausedBy, orderSequence: one.Sequence ?? 0, received: post.Received,
            flags: time.Live ? EventResults.FlagsAtTheDoor(time, data, post) : EventResults.FlagsAtTheDoor(time, data, post).Add(EntryFlag.Late));
        if (!post.Ask)
        {
            turn.Append([entry with { Entry = entry.Entry with { Sequence = one.Sequence } }], JudgeJobEvent.AsSentIn(one));
            Follow(turn, machine!, data.Event!, turn.Rules.Calendar.DateOf(time.Effective), one.Source);
        }

        return new EventResult
        {
            Id = one.Id,
            Outcome = EventOutcome.Accepted,
            Version = entry.Entry.StreamVersion,
            Effective = time.Effective,
            Flags = entry.Entry.Flags,
            Say = new Say(Signal.Ok, Line(data.Event!).In(said.Language), null),
        };
    }

    /// <summary>A machine by its id, by its address in the shop, or by the label on it; null where the shop has none such.</summary>
    private static string? MachineOf(Turn turn, string? subject)
    {
        var named = Label.TryRead(subject, out var label) ? turn.NamesOf(label.Value) : subject;
        var id = named?.Split('/') is [.., var last] ? last : null;
        return id is not null && turn.Rules.CleaningRoom.Machines.ContainsKey(id) ? id : null;
    }

    private static ProblemDetails? WhatIsWrong(Turn turn, CloudEvent one, DataReading data, string? machine, Post post) =>
        data.Event is not { } said ? Problems.BadFieldsDetails([.. data.Faults.Select(EventResults.InData)])
        : !WhoMayPost.May(post.Caller.Role, said) ? Problems.Details(
            ProblemCatalogue.NotForThisRole, $"A key of the role '{Word.Of(post.Caller.Role)}' may not say '{one.Type}' here.", ("role", Word.Of(post.Caller.Role)))
        : machine is null ? Problems.BadFieldsDetails([new Fault("/subject", Phrase.Of("The subject is a cleaning machine of the shop."))])
        : one.Proof is { Digits: null } ? Problems.BadFieldsDetails([EventResults.NoNumber])
        : EventFaults.Of(said).Concat(Unknown(turn, machine, said)).Select(EventResults.InData).ToArray() is { Length: > 0 } faults ? Problems.BadFieldsDetails(faults)
        : null;

    private static IEnumerable<Fault> Unknown(Turn turn, string machine, WorkshopEvent said)
    {
        var jars = turn.Rules.CleaningRoom.Machines[machine].Jars;
        foreach (var (jar, pointer) in said switch
        {
            FluidFilled filled => [(filled.Jar, "/jar")],
            FluidMoved moved => [(moved.FromJar, "/fromJar"), (moved.ToJar, "/toJar")],
            _ => Array.Empty<(string, string)>(),
        })
        {
            if (!jars.ContainsKey(jar))
            {
                yield return new Fault(pointer, Phrase.Of("{0} has no jar '{1}'.", machine, jar));
            }
        }

        if (said is FluidFilled { Batch: var fresh } && (!DocumentCheck.IsId(fresh) || ShopDocuments.Newest(turn, Kind, fresh) is not null))
        {
            yield return new Fault("/batch", Phrase.Of("A new filling has a name of its own, in lower case."));
        }

        if (said switch { FluidMoved moved => moved.Batch, FluidDiscarded discarded => discarded.Batch, _ => null } is { } batch && ShopDocuments.Newest(turn, Kind, batch) is null)
        {
            yield return new Fault("/batch", Phrase.Of("Nobody has told of a filling '{0}'.", batch));
        }
    }

    private static string Kind => ShopKinds.Of<FluidBatchDocument>().Name;

    private static void Follow(Turn turn, string machine, WorkshopEvent said, LocalDate on, string source)
    {
        switch (said)
        {
            case FluidFilled filled:
                Clear(turn, machine, filled.Jar, filled.Batch, on, source);
                Save(turn, filled.Batch, source, new FluidBatchDocument
                {
                    Fluid = filled.Fluid ?? turn.Rules.CleaningRoom.Machines[machine].Jars[filled.Jar].Fluid,
                    Machine = machine,
                    Jar = filled.Jar,
                    FilledOn = on,
                    Lot = filled.Lot,
                    Litres = filled.Litres,
                });
                break;
            case FluidMoved moved:
                Clear(turn, machine, moved.ToJar, moved.Batch, on, source);
                Save(turn, moved.Batch, source, Known(turn, moved.Batch) with { Jar = moved.ToJar, Machine = machine });
                break;
            case FluidDiscarded discarded:
                var batch = Known(turn, discarded.Batch);
                Save(turn, discarded.Batch, source, batch with { DiscardedOn = LocalDate.Max(on, batch.FilledOn) });
                break;
        }
    }

    // A jar holds one filling: what stood there before is thrown away, whether anybody says so or not.
    private static void Clear(Turn turn, string machine, string jar, string except, LocalDate on, string source)
    {
        foreach (var (id, batch) in JarsOf.Batches(turn).Where(one => one.Id != except && one.Batch.Machine == machine && one.Batch.Jar == jar && one.Batch.DiscardedOn is null).ToArray())
        {
            Save(turn, id, source, batch with { DiscardedOn = LocalDate.Max(on, batch.FilledOn) });
        }
    }

    private static FluidBatchDocument Known(Turn turn, string batch) => JsonSerializer.Deserialize<FluidBatchDocument>(ShopDocuments.Newest(turn, Kind, batch)!.Document, WorkshopJson.Options)!;

    private static void Save(Turn turn, string batch, string source, FluidBatchDocument document) => ShopDocuments.Put(turn, Kind, batch, JsonSerializer.Serialize(document, WorkshopJson.Stored), source);

    private static Phrase Line(WorkshopEvent said) => said switch
    {
        FluidFilled filled => Phrase.Of("{0} is filled afresh", filled.Jar),
        FluidMoved moved => Phrase.Of("It stands in {0} now", moved.ToJar),
        FluidDiscarded => Phrase.Of("Thrown away and counted"),
        _ => Phrase.Of("Noted: the machine stands still"),
    };
}
