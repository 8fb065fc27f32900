using Microsoft.AspNetCore.Mvc;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Pieces;
using Workshop.Core.Scans;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>Judges an event about a job: read, allowed for the key, timed, decided by the rules of the workshop.</summary>
internal static class JudgeJobEvent
{
    public static EventResult Judge(Turn turn, SaidEvent said, CloudEvent one, Post post, EventSettings settings)
    {
        var history = Label.TryRead(one.Subject, out var label) ? turn.HistoryBehind(label.Value) : null;
        (said, one) = PositionsTold.Read(turn, said, one, history);
        var data = said.Data!;
        return WhatIsWrong(one, data, label, history, post) is { } problem
            ? EventResults.Refused(turn, one, problem, said.Language)
            : data.Event is ScanMade ? MakeScan.Judge(turn, said, one, post, settings)
            : Decide(turn, history!, label!.Value, one, said, post, settings);
    }

    /// <summary>What is wrong in the event alone, late or not, or with who says it; null where the job itself is to be asked.</summary>
    private static ProblemDetails? WhatIsWrong(CloudEvent one, DataReading data, Label? label, JobHistory? history, Post post) =>
        EventCatalogue.SenderOf(one.Type) is not SentBy.Bench ? Problems.BadFieldsDetails([new Fault("/type", $"'{one.Type}' is not sent by a bench")])
        : data.Event is not { } said ? Problems.BadFieldsDetails([.. data.Faults.Select(EventResults.InData)])
        : one.Proof is { Digits: null } ? Problems.BadFieldsDetails([EventResults.NoNumber])
        : EventFaults.Of(said).Select(EventResults.InData).ToArray() is { Length: > 0 } faults ? Problems.BadFieldsDetails(faults)
        : !WhoMayPost.May(post.Caller.Role, said) ? Problems.Details(
            ProblemCatalogue.NotForThisRole, $"A key of the role '{Word.Of(post.Caller.Role)}' may not say '{one.Type}' here.", ("role", Word.Of(post.Caller.Role)))
        : said is ScanMade ? null
        : label is null ? Problems.Details(ProblemCatalogue.LabelUnreadable, "The subject is no label.")
        : history is null ? Problems.BadFieldsDetails([new Fault("/subject", "There is no job with this label")])
        : label.Value.Kind == LabelKind.Piece && said is PieceEvent { Piece: null } ? Problems.BadFieldsDetails([new Fault("/data/piece", "The subject is a piece's label: name the piece too")])
        : null;

    private static EventResult Decide(Turn turn, JobHistory history, Label under, CloudEvent one, SaidEvent said, Post post, EventSettings settings)
    {
        var data = said.Data!;
        var language = said.Language;
        var before = history.Job;
        var time = EventTime.Of(turn, one, data.Manner, post, before.Intake.TakenInAt, settings);
        var incoming = new Incoming
        {
            Id = new EventId(one.Source, one.Id),
            Job = before.Label,
            Under = under,
            CausedBy = said.CausedBy,
            Event = data.Event!,
            Manner = data.Manner,
            Effective = time.Effective,
            Received = post.Received,
            OrderSequence = one.Sequence ?? 0,
            Live = time.Live,
            Proof = HearProofs.Settle(turn, said, post),
            Flags = EventResults.FlagsAtTheDoor(time, data, post),
        };
        var decision = post.Ask
            ? JobTurn.Ask(turn, history, incoming, post.Caller)
            : JobTurn.Decide(turn, history, incoming, post.Caller, AsSentIn(one));
        if (!decision.Faults.IsEmpty)
        {
            return EventResults.Refused(turn, one, Problems.BadFieldsDetails([.. decision.Faults.Select(EventResults.InData)]), said.Language);
        }

        var say = Saying.Of(before, decision, incoming, turn.Rules, said.Language);
        return decision.Outcome == Outcome.Refused
            ? EventResults.Refused(one.Id, before.Label.ToString(), GateProblems.Details(decision.Against, said.Language), say)
            : Accepted(one.Id, decision, incoming, say, turn.Rules, language);
    }

    public static AsSent AsSentIn(CloudEvent one) =>
        new() { Id = new EventId(one.Source, one.Id), Data = one.Data, Sequence = one.Sequence, DeviceTime = one.TimeText };

    private static EventResult Accepted(string id, Decision decision, Incoming incoming, Say say, ShopRules rules, Language language) => new()
    {
        Id = id,
        Outcome = decision.Outcome == Outcome.Noted ? EventOutcome.Noted : EventOutcome.Accepted,
        Job = decision.Job.Label.ToString(),
        Version = decision.Job.Version,
        Effective = decision.Entries.Single(written => written.Entry.Id == incoming.Id).Entry.Effective,
        Flags = decision.Flags,
        Say = say,
        Reading = decision.Job.WearChecks.ReadingOf(incoming.Id) is { } reading ? WearFigures.Of(reading)
            : decision.Job.WearChecks.StaticReadingOf(incoming.Id) is { } still ? WearFigures.Of(still) : null,
        RateSet = decision.Job.Timekeeping.Find(incoming.Id) is { } set ? RateFigures.Of(set, decision.Job, rules, language) : null,
        Due = incoming.Event.Type.StartsWith("wear-check.", StringComparison.Ordinal) ? decision.Job.WearChecks.Running?.Due ?? decision.Job.WearChecks.RunningStatic?.Due : null,
    };
}
