using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Mvc;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Journal;
using Workshop.Core.Scans;
using Workshop.Core.Sources;
using Workshop.Core.Words;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Settings;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>
/// Hears one event in its turn: known already, or to wait for what its device said before, or judged. An event is found again by source
/// and id: the same content gives the same verdict, other content is a conflict. What could be read is kept, refused or not.
/// </summary>
internal static class HearEvent
{
    /// <summary>Events that had waited and are judged in the turn of the one they waited for; more of them have a turn of their own.</summary>
    public const int ReleasedInATurn = 64;

    public static Verdict Hear(Turn turn, SaidEvent said, Post post, EventSettings settings)
    {
        if (said.Envelope.Event is not { } one)
        {
            return Malformed(turn, said, post, settings);
        }

        var id = new EventId(one.Source, one.Id);
        if (turn.FindReceived(id) is { } known)
        {
            return known.Digest.AsSpan().SequenceEqual(one.Digest.AsSpan())
                ? new Verdict(Again(known)) { LookAgainAt = known.ReleaseAt }
                : new Verdict(EventResults.Refused(turn, one, Conflict(known), said.Language));
        }

        if (!post.Ask && one.Sequence is { } number && !IsAGap(one) && turn.Source(one.Source).Sequence.MustWait(number))
        {
            return Hold(turn, said, one, post);
        }

        var verdict = Judge(turn, said, one, post, settings);
        return post.Ask ? verdict : AndThoseBehind(turn, verdict, one.Source, settings);
    }

    /// <summary>Judges the held event of a source with the lowest number; what is missing before it is not waited for any longer.</summary>
    /// <returns>false: none waits.</returns>
    public static bool Release(Turn turn, string source, EventSettings settings)
    {
        if (turn.FirstHeld(source) is not { } waiting)
        {
            return false;
        }

        var envelope = CloudEventReader.ReadKept(waiting.Body!);
        var state = turn.Source(source);
        turn.SaveSource(state with { Held = state.Held - 1 });

        // It was taken in when it came; that its key was withdrawn meanwhile makes nothing of it unsaid.
        var key = ApiKeys.OfId(turn, waiting.ApiKey!) ?? throw new InvalidDataException($"The held event {waiting.Id} was sent with the key '{waiting.ApiKey}', which nobody knows.");
        var caller = Http.Keys.Caller.Behind(key) ?? throw new InvalidDataException($"The key '{key.Id}' has the role '{key.Role}', which this program does not know.");
        var post = new Post { Caller = caller, Received = waiting.Received, HoldUntil = waiting.ReleaseAt!.Value, AfterGap = state.Sequence.MustWait(waiting.Sequence!.Value) };
        Judge(turn, SaidEvent.Of(envelope, Word.Read<Language>(waiting.Language!) ?? Language.English), envelope.Event!, post, settings, state.Outcomes + 1);
        return true;
    }

    /// <summary>Judges what waited for nothing else than what was judged now.</summary>
    /// <returns>true: more of them wait for a turn of their own, and have waited long enough.</returns>
    public static bool ReleaseFollowing(Turn turn, string source, EventSettings settings)
    {
        for (var released = 0; turn.Source(source) is { Held: > 0 } state && turn.FirstHeld(source) is { } first && !state.Sequence.MustWait(first.Sequence!.Value); released++)
        {
            if (released == ReleasedInATurn)
            {
                turn.SaveReceived(first with { ReleaseAt = Instant.FromUnixTimeTicks(0) });
                return true;
            }

            Release(turn, source, settings);
        }

        return false;
    }

    private static Verdict AndThoseBehind(Turn turn, Verdict verdict, string source, EventSettings settings) =>
        ReleaseFollowing(turn, source, settings) ? verdict with { LookAgainAt = Instant.MinValue } : verdict;

    private static Verdict Hold(Turn turn, SaidEvent said, CloudEvent one, Post post)
    {
        HearProofs.SettleBeforeWaiting(turn, said, post);
        var verdict = Verdict.ToKeep(EventResults.Held(one, said.Language)) with { LookAgainAt = post.HoldUntil };
        turn.SaveReceived(Received(one, post) with { Body = one.Text, State = ReceivedState.Held, ReleaseAt = post.HoldUntil, Answer = verdict.Text, Language = Word.Of(said.Language) });
        var state = turn.Source(one.Source);
        turn.SaveSource(state with { Held = state.Held + 1 });
        return verdict;
    }

    private static Verdict Judge(Turn turn, SaidEvent said, CloudEvent one, Post post, EventSettings settings, long? outcome = null)
    {
        var position = turn.NextPosition;
        var result = JudgeByKind(turn, said, one, post, settings);
        if (post.Ask || (result.Problem?.Status == StatusCodes.Status403Forbidden && outcome is null))
        {
            // Whoever may not say it keeps it, until the device is paired for a place that may: that is no verdict on the event, and
            // nothing behind it waits for it.
            if (!post.Ask && one.Sequence is { } number)
            {
                NobodyWaitsFor(turn, one.Source, number);
            }

            return new Verdict(result);
        }

        var verdict = Verdict.ToKeep(result);
        var refused = result.Outcome == EventOutcome.Refused;

        // The journal has what was accepted; of a scan it has the event that the scan means.
        var inJournal = !refused && EventCatalogue.RecordOf(one.Type) != typeof(ScanMade);
        turn.SaveReceived(Received(one, post) with
        {
            Body = inJournal ? null : one.Text,
            State = refused ? ReceivedState.Refused : ReceivedState.Accepted,
            Answer = verdict.Text,
            Position = inJournal ? position : null,
            Outcome = outcome,
        });
        Count(turn, one, result, outcome);
        return verdict;
    }

    /// <summary>The event that a scan means has an identity of its own, and is known by it when it is sent.</summary>
    public static EventResult JudgeMade(Turn turn, SaidEvent made, Post post, EventSettings settings)
    {
        var one = made.Envelope.Event!;
        if (turn.FindReceived(new EventId(one.Source, one.Id)) is { } known)
        {
            return EventResults.Refused(turn, one, Conflict(known), made.Language);
        }

        var position = turn.NextPosition;
        var result = JudgeByKind(turn, made, one, post, settings);
        if (!post.Ask && result.Outcome != EventOutcome.Refused)
        {
            turn.SaveReceived(Received(one, post) with { State = ReceivedState.Accepted, Answer = Verdict.ToKeep(result).Text, Position = position });
        }

        return result;
    }

    // By what it is about: the device itself, a run of a machine, a machine, or a watch.
    private static EventResult JudgeByKind(Turn turn, SaidEvent said, CloudEvent one, Post post, EventSettings settings) =>
        Is<SourceEvent>(one.Type) ? JudgeSourceEvent.Judge(turn, said, one, post, settings)
        : Is<RunEvent>(one.Type) ? JudgeRunEvent.Judge(turn, said, one, post, settings)
        : Is<MachineEvent>(one.Type) ? JudgeMachineEvent.Judge(turn, said, one, post, settings)
        : JudgeJobEvent.Judge(turn, said, one, post, settings);

    private static bool Is<T>(string type) => EventCatalogue.RecordOf(type)?.IsAssignableTo(typeof(T)) == true;

    // The source expects the number after the highest that was judged, and no later event of it counts before this one.
    private static void Count(Turn turn, CloudEvent one, EventResult result, long? outcome)
    {
        var state = turn.Source(one.Source);
        var newest = one.Sequence >= state.Sequence.Next && !IsAGap(one);
        var after = state with
        {
            Sequence = one.Sequence is not { } number ? state.Sequence
                : newest ? state.Sequence.Judged(number)
                : state.Sequence.Without(number, number),

            // Also by a lower number that came late and has nothing accepted above it: what has a higher one still comes after it.
            JudgedUntil = !IsAGap(one) && result.Effective is { } effective && !(effective < state.JudgedUntil) ? effective : state.JudgedUntil,
            Outcomes = outcome ?? state.Outcomes,
        };
        if (after != state)
        {
            turn.SaveSource(after);
        }
    }

    // That a number will never come is said so that nobody waits: it waits for nothing itself, and lets nothing else be overtaken.
    private static bool IsAGap(CloudEvent one) => EventCatalogue.RecordOf(one.Type) == typeof(GapDeclared);

    // What has an identity is kept under it, whatever else is wrong: a person may have to look at it.
    private static Verdict Malformed(Turn turn, SaidEvent said, Post post, EventSettings settings)
    {
        var envelope = said.Envelope;
        var refused = EventResults.Refused(envelope.Id, null, Problems.BadFieldsDetails(envelope.Faults), said.Language);
        if (envelope.Malformed is not { } one || post.Ask)
        {
            return new Verdict(refused);
        }

        var id = new EventId(one.Source, one.Id);
        if (turn.FindReceived(id) is { } known)
        {
            return new Verdict(known.Digest.AsSpan().SequenceEqual(one.Digest.AsSpan()) ? Again(known) : EventResults.Refused(envelope.Id, null, Conflict(known), said.Language));
        }

        var verdict = Verdict.ToKeep(refused);
        turn.SaveReceived(new ReceivedEvent
        {
            Id = id,
            Digest = [.. one.Digest],
            Body = one.Text,
            Sequence = one.Sequence,
            DeviceTime = one.TimeText,
            Received = post.Received,
            ApiKey = post.Caller.KeyId,
            State = ReceivedState.Refused,
            Answer = verdict.Text,
        });
        if (one.Sequence is { } number)
        {
            NobodyWaitsFor(turn, one.Source, number);
        }

        return AndThoseBehind(turn, verdict, one.Source, settings);
    }

    private static void NobodyWaitsFor(Turn turn, string source, long number)
    {
        var state = turn.Source(source);
        turn.SaveSource(state with { Sequence = state.Sequence.Without(number, number) });
    }

    private static ReceivedEvent Received(CloudEvent one, Post post) => new()
    {
        Id = new EventId(one.Source, one.Id),
        Digest = [.. one.Digest],
        Sequence = one.Sequence,
        DeviceTime = one.TimeText,
        Received = post.Received,
        ApiKey = post.Caller.KeyId,
        State = ReceivedState.Held,
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

        // What waits goes on waiting: that is no verdict yet.
        return known.State == ReceivedState.Held ? first : first with { Outcome = EventOutcome.Replayed, First = first.Outcome };
    }
}

/// <summary>The event that was received before under the same identity.</summary>
public sealed record StoredEvent(string Source, string Id, Instant Received, long? Position);
