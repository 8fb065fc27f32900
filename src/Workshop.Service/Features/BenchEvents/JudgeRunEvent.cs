using Microsoft.AspNetCore.Mvc;
using Workshop.Core.Cleaning;
using Workshop.Core.Gates;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Features.Gates;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Features.People;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>Judges what is told of a run of a cleaning machine. It stands in the run's own stream; what follows from it, in every job that was in it.</summary>
internal static class JudgeRunEvent
{
    public static EventResult Judge(Turn turn, SaidEvent said, CloudEvent one, Post post, EventSettings settings)
    {
        var data = said.Data!;
        if (WhatIsWrong(one, data, turn.Rules, post) is { } problem)
        {
            return EventResults.Refused(one.Id, null, problem, said.Language) with { Run = one.Subject };
        }

        var time = EventTime.Of(turn, one, data.Manner, post, takenIn: null, settings);
        var id = new EventId(one.Source, one.Id);
        var run = RunTable.Read(turn, one.Subject!);
        var asking = new Asking
        {
            Event = data.Event!,
            Person = SaidBy.Person(turn, id, data.Manner.Person, time.Effective, one.Sequence ?? 0),
            Bench = post.Caller.Bench ?? data.Manner.Bench,
            Role = Word.Of(post.Caller.Role),
            At = time.Effective,
            Rules = turn.Rules,
        };
        var decision = RunRules.Decide(run, data.Event!, asking, time.Live, data.Manner.Despite, EventResults.FlagsAtTheDoor(time, data, post), Facts(turn, run, data.Event!));
        if (!post.Ask)
        {
            KeepWhatGatesSaid(turn, id, data.Event!, decision);
        }

        if (decision.Outcome == Outcome.Refused)
        {
            return EventResults.Refused(one.Id, null, GateProblems.Details(decision.Against, said.Language), Saying.Refused(decision.Against, said.Language, [])) with { Run = run.Id };
        }

        var entry = turn.Compose(
            Run.StreamOf(run.Id), id, data.Event!, decision.Judged, time.Effective, causedBy: said.CausedBy, orderSequence: one.Sequence ?? 0, received: post.Received, flags: decision.Flags);
        entry = entry with { Entry = entry.Entry with { Disposition = decision.Outcome == Outcome.Noted ? Disposition.Noted : Disposition.Applied, Sequence = one.Sequence } };
        var after = run;
        if (!post.Ask)
        {
            turn.Append([entry], JudgeJobEvent.AsSentIn(one));
            after = RunTurn.Follow(turn, run, entry.Entry, decision.Against);
        }

        return new EventResult
        {
            Id = one.Id,
            Outcome = decision.Outcome == Outcome.Noted ? EventOutcome.Noted : EventOutcome.Accepted,
            Run = run.Id,
            Version = entry.Entry.StreamVersion,
            Effective = time.Effective,
            Flags = decision.Flags,
            Say = SayOf(decision, data.Event!, after, said.Language),
        };
    }

    private static ProblemDetails? WhatIsWrong(CloudEvent one, DataReading data, ShopRules rules, Post post) =>
        data.Event is not { } said ? Problems.BadFieldsDetails([.. data.Faults.Select(EventResults.InData)])
        : !WhoMayPost.May(post.Caller.Role, said) ? Problems.Details(
            ProblemCatalogue.NotForThisRole, $"A key of the role '{Word.Of(post.Caller.Role)}' may not say '{one.Type}' here.", ("role", Word.Of(post.Caller.Role)))
        : !Guid.TryParseExact(one.Subject, "D", out _) || one.Subject!.Any(char.IsUpper) ? Problems.BadFieldsDetails([new Fault("/subject", Phrase.Of("A run is a UUID in lower case."))])
        : one.Proof is { Digits: null } ? Problems.BadFieldsDetails([EventResults.NoNumber])
        : EventFaults.Of(said).Concat(Unknown(said, rules)).Select(EventResults.InData).ToArray() is { Length: > 0 } faults ? Problems.BadFieldsDetails(faults)
        : null;

    // A shop that has entered machines means one of them; before that any name will do.
    private static IEnumerable<Fault> Unknown(WorkshopEvent said, ShopRules rules)
    {
        if (said is not RunStarted started || rules.CleaningRoom.Machines.Count == 0)
        {
            yield break;
        }

        if (!rules.CleaningRoom.Machines.ContainsKey(started.Machine))
        {
            yield return new Fault("/machine", Phrase.Of("The shop has no machine '{0}'.", started.Machine));
        }

        if (!rules.CleaningRoom.Programmes.ContainsKey(started.Programme))
        {
            yield return new Fault("/programme", Phrase.Of("The shop has no programme '{0}'.", started.Programme));
        }
    }

    private static RunFacts Facts(Turn turn, Run run, WorkshopEvent said) => said is not RunStarted started ? new RunFacts() : new RunFacts
    {
        Contents = [.. run.Contents.Select(cage => CageKnown.Neighbour(turn, cage))],
        Running = RunTable.Going(turn, started.Machine, run.Id),
        Fillings = turn.Rules.CleaningRoom.Programmes.TryGetValue(started.Programme, out var programme) ? JarsOf.Programme(turn, started.Machine, programme) : [],
    };

    private static void KeepWhatGatesSaid(Turn turn, EventId id, WorkshopEvent said, RunDecision decision)
    {
        foreach (var one in decision.Against.Where(one => one.Names.ContainsKey("job")))
        {
            var word = new GateWord(one.Gate, decision.Outcome == Outcome.Refused ? one.Strength == Strength.Ask ? GateSaid.Asked : GateSaid.Refused : GateSaid.Noted);
            GateWordStore.Put(turn, Label.Read(one.Names["job"]), id, said, [word], turn.NextPosition - 1);
        }
    }

    private static Say SayOf(RunDecision decision, WorkshopEvent said, Run run, Language language)
    {
        if (decision.Outcome == Outcome.Noted)
        {
            return new Say(Signal.Ask, Phrase.Of("Kept for review by a manager").In(language), decision.Against[0].Line.Line(language));
        }

        if (!decision.Against.IsEmpty)
        {
            return new Say(Signal.Ask, Phrase.Of("Kept; a manager is told").In(language), decision.Against[0].Line.Line(language));
        }

        var line = decision.AlreadySo ? Phrase.Of("It was so already; nothing changed") : said switch
        {
            RunStarted => Phrase.Of("The run is going on: {0} cages", run.Contents.Count()),
            RunFinished => Phrase.Of("Finished: take out and scan every cage"),
            _ => Phrase.Of("Aborted: take out at once, rinse, dry; not washed"),
        };
        return new Say(said is RunAborted && !decision.AlreadySo ? Signal.Ask : Signal.Ok, line.In(language), null);
    }
}
