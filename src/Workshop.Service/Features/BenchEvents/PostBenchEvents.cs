using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Core.Scans;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>
/// The one door for everything a bench says. An event is found again by source and id: the same content gives the same verdict, other
/// content is a conflict. What could be read is kept, refused or not.
/// </summary>
public static class PostBenchEvents
{
    /// <summary>Events of a large batch share the writer with others: so many in one turn.</summary>
    private const int EventsInATurn = 64;

    private const string ScanType = "scan.made";

    /// <param name="ask">What would be said is answered and nothing is kept; of a batch each event by itself, as if it came alone.</param>
    public static async Task<Results<EventAnswer, ProblemHttpResult>> Handle(
        CloudEventsBody body, Caller caller, Writer writer, EventSettings settings, CancellationToken cancel, bool ask = false)
    {
        if (body.Events.FirstOrDefault(read => read.Event is { } one && one.Source != caller.Source) is { } foreign)
        {
            return Problems.Of(ProblemCatalogue.SourceNotYours, $"This key speaks for '{caller.Source}', not for '{foreign.Event!.Source}'.", ("source", caller.Source));
        }

        // Read before the turn: at the writer everybody else is waiting.
        var said = body.Events.Select(SaidEvent.Of).ToArray();
        var verdicts = new Verdict[said.Length];

        // Judged in the order of the device's own numbers, answered in the order given.
        var order = Enumerable.Range(0, said.Length).OrderBy(i => said[i].Envelope.Event?.Sequence ?? long.MaxValue).ToArray();
        foreach (var chunk in order.Chunk(EventsInATurn))
        {
            var judged = await writer.Turn(caller.Site, turn => chunk.Select(i => Judge(turn, said[i], caller, settings, ask)).ToArray(), cancel);
            foreach (var (i, verdict) in chunk.Zip(judged))
            {
                verdicts[i] = verdict;
            }
        }

        return body.IsBatch ? EventAnswer.Batch(verdicts) : EventAnswer.One(verdicts[0]);
    }

    /// <summary>Judges one event in its turn and keeps it, refused or not.</summary>
    internal static Verdict Judge(Turn turn, SaidEvent said, Caller caller, EventSettings settings, bool ask = false)
    {
        if (said is not { Envelope.Event: { } one, Data: { } data })
        {
            // Without a readable envelope there is no identity to keep it under.
            return new Verdict(Refused(said.Envelope.Id, null, Problems.BadFieldsDetails(said.Envelope.Faults)));
        }

        var history = Label.TryRead(one.Subject, out var label) ? turn.HistoryBehind(label.Value) : null;
        var id = new EventId(one.Source, one.Id);
        if (turn.FindReceived(id) is { } known)
        {
            return new Verdict(known.Digest.AsSpan().SequenceEqual(one.Digest.AsSpan()) ? Again(known) : Refused(one, history, Conflict(known)));
        }

        var position = turn.NextPosition;
        var result = WhatIsWrong(one, data, label, history, caller) is { } problem
            ? Refused(one, history, problem)
            : data.Event is ScanMade
            ? MakeScan.Judge(turn, one, data, caller, settings, (made, under, cause) => JudgeMade(turn, made, under, cause, caller, settings, ask))
            : Decide(turn, history!, label!.Value, one, data, caller, settings, ask);
        if (ask || result.Problem?.Status == StatusCodes.Status403Forbidden)
        {
            // Whoever may not say it keeps it, until the device is paired for a place that may: that is no verdict on the event.
            return new Verdict(result);
        }

        var verdict = Verdict.ToKeep(result);
        Keep(turn, one, caller, verdict, position);
        return verdict;
    }

    /// <summary>The event that a scan means has an identity of its own, and is known by it when it is sent again.</summary>
    private static EventResult JudgeMade(Turn turn, SaidEvent made, Label under, EventId cause, Caller caller, EventSettings settings, bool ask)
    {
        var (one, data) = (made.Envelope.Event!, made.Data!);
        var history = turn.HistoryBehind(under);
        if (turn.FindReceived(new EventId(one.Source, one.Id)) is { } known)
        {
            return Refused(one, history, Conflict(known));
        }

        var position = turn.NextPosition;
        var result = WhatIsWrong(one, data, under, history, caller) is { } problem
            ? Refused(one, history, problem)
            : Decide(turn, history!, under, one, data, caller, settings, ask, cause);
        if (!ask && result.Outcome != EventOutcome.Refused)
        {
            Keep(turn, one, caller, Verdict.ToKeep(result), position);
        }

        return result;
    }

    private static void Keep(Turn turn, CloudEvent one, Caller caller, Verdict verdict, long position)
    {
        var refused = verdict.Result.Outcome == EventOutcome.Refused;

        // The journal has what was accepted; of a scan it has what the scan means.
        var inJournal = !refused && one.Type != ScanType;
        turn.SaveReceived(new ReceivedEvent
        {
            Id = new EventId(one.Source, one.Id),
            Digest = [.. one.Digest],
            Body = inJournal ? null : one.Text,
            Sequence = one.Sequence,
            DeviceTime = one.TimeText,
            Received = turn.Now,
            ApiKey = caller.KeyId,
            State = refused ? ReceivedState.Refused : ReceivedState.Accepted,
            Answer = verdict.Text,
            Position = inJournal ? position : null,
        });
    }

    /// <summary>What is wrong in the event alone, late or not, or with who says it; null where the job itself is to be asked.</summary>
    private static ProblemDetails? WhatIsWrong(CloudEvent one, DataReading data, Label? label, JobHistory? history, Caller caller) =>
        EventCatalogue.SenderOf(one.Type) is not SentBy.Bench ? Problems.BadFieldsDetails([new Fault("/type", $"'{one.Type}' is not sent by a bench")])
        : data.Event is not { } said ? Problems.BadFieldsDetails([.. data.Faults.Select(InData)])
        : data.Manner.InsteadOf is not null ? Problems.BadFieldsDetails([new Fault("/data/insteadOf", "Corrections are not taken yet; tell it to a manager")])
        : EventFaults.Of(said).Select(InData).ToArray() is { Length: > 0 } faults ? Problems.BadFieldsDetails(faults)
        : !WhoMayPost.May(caller.Role, said) ? Problems.Details(
            ProblemCatalogue.NotForThisRole, $"A key of the role '{Word.Of(caller.Role)}' may not say '{one.Type}' here.", ("role", Word.Of(caller.Role)))
        : said is ScanMade ? null
        : label is null ? Problems.Details(ProblemCatalogue.LabelUnreadable, "The subject is no label.")
        : history is null ? Problems.BadFieldsDetails([new Fault("/subject", "There is no job with this label")])
        : label.Value.Kind == LabelKind.Piece && said is PieceEvent { Piece: null } ? Problems.BadFieldsDetails([new Fault("/data/piece", "The subject is a piece's label: name the piece too")])
        : null;

    private static EventResult Decide(Turn turn, JobHistory history, Label under, CloudEvent one, DataReading data, Caller caller, EventSettings settings, bool ask, EventId? cause = null)
    {
        var before = history.Job;
        var time = EventTime.Of(one, data.Manner, turn.Now, before.Intake.TakenInAt, settings);
        var flags = ImmutableArray.CreateBuilder<string>();
        if (time.ClockSuspect)
        {
            flags.Add(EntryFlag.ClockSuspect);
        }

        if (!data.UnknownMembers.IsEmpty)
        {
            flags.Add(EntryFlag.UnknownMember);
        }

        var incoming = new Incoming
        {
            Id = new EventId(one.Source, one.Id),
            Job = before.Label,
            Under = under,
            CausedBy = cause,
            Event = data.Event!,
            Manner = data.Manner,
            Effective = time.Effective,
            Received = turn.Now,
            OrderSequence = one.Sequence ?? 0,
            Live = time.Live,
            Flags = flags.ToImmutable(),
        };
        var decision = ask
            ? JobTurn.Ask(turn, history, incoming, caller)
            : JobTurn.Decide(turn, history, incoming, caller, new AsSent { Id = incoming.Id, Data = one.Data, Sequence = one.Sequence, DeviceTime = one.TimeText });
        var say = Saying.Of(before, decision, incoming, turn.Rules);
        return decision.Outcome == Outcome.Refused
            ? Refused(one.Id, before.Label.ToString(), GateProblems.Details(decision.Against), say)
            : Accepted(one.Id, decision, incoming, say);
    }

    private static EventResult Accepted(string id, Decision decision, Incoming incoming, Say say) => new()
    {
        Id = id,
        Outcome = decision.Outcome == Outcome.Noted ? EventOutcome.Noted : EventOutcome.Accepted,
        Job = decision.Job.Label.ToString(),
        Version = decision.Job.Version,
        Effective = incoming.Effective,
        Flags = decision.Flags,
        Say = say,
        Reading = decision.Job.WearChecks.ReadingOf(incoming.Id) is { } reading ? WearFigures.Of(reading) : null,
        RateSet = decision.Job.Timekeeping.RateSets.LastOrDefault(set => set.Id == incoming.Id) is { } set ? RateFigures.Of(set) : null,
        Due = incoming.Event.Type.StartsWith("wear-check.", StringComparison.Ordinal) ? decision.Job.WearChecks.Running?.Due : null,
    };

    // Cautions go with every word about a watch, also with one about a slip of the pen.
    private static EventResult Refused(CloudEvent one, JobHistory? history, ProblemDetails problem) => Refused(
        one.Id, history?.Job.Label.ToString() ?? one.Subject, problem,
        new Say(Signal.Stop, problem.Title!, problem.Detail) { Cautions = history is null ? [] : Saying.CautionsOf(history.Job) });

    private static EventResult Refused(string? id, string? job, ProblemDetails problem, Say? say = null) => new()
    {
        Id = id,
        Outcome = EventOutcome.Refused,
        Job = job,
        Say = say ?? new Say(Signal.Stop, problem.Title!, problem.Detail),
        Problem = problem,
    };

    private static ProblemDetails Conflict(ReceivedEvent known) => Problems.Details(
        ProblemCatalogue.EventConflict, $"The event {known.Id} was received before with another content.",
        ("stored", new StoredEvent(known.Id.Source, known.Id.Id, known.Received, known.Position)));

    private static EventResult Again(ReceivedEvent known)
    {
        var first = JsonSerializer.Deserialize<EventResult>(known.Answer!, WorkshopJson.Options)!;
        if (first.Problem is { } problem)
        {
            problem.Extensions["replayed"] = JsonValue.Create(true);
            return first;
        }

        return first with { Outcome = EventOutcome.Replayed, First = first.Outcome };
    }

    private static Fault InData(Fault fault) => fault with { Pointer = $"/data{fault.Pointer}", Detail = fault.Detail.TrimEnd('.') };
}

/// <summary>The event that was received before under the same identity.</summary>
public sealed record StoredEvent(string Source, string Id, NodaTime.Instant Received, long? Position);
