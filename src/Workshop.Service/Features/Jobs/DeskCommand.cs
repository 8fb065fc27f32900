using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Mvc;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.People;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>
/// A command of the desk becomes an event of the job: its source is the key's, its sequence 0, its id is made here, since what makes a
/// command safe to repeat is its Idempotency-Key.
/// </summary>
public static class DeskCommand
{
    /// <summary>Decides and appends, as every event is decided about.</summary>
    /// <param name="at">When it happened; now where left out.</param>
    /// <param name="proof">What came of the number told with it, for what asks for one.</param>
    /// <param name="live">False where it reports what can no longer be refused.</param>
    public static Decision Say(
        Turn turn, JobHistory history, Caller caller, WorkshopEvent one, string? person = null, ImmutableArray<string>? despite = null, Instant? at = null, bool live = true,
        Func<EventId, Proof>? proof = null)
    {
        var id = new EventId(caller.Source, NewId(turn));
        var position = turn.NextPosition;
        var decision = JobTurn.Decide(turn, history, Heard(turn, history, id, one, person, despite, at) with { Live = live, Proof = proof?.Invoke(id) ?? Proof.Missing }, caller);
        if (decision.Outcome != Outcome.Refused)
        {
            Occupy(turn, caller, id, position);
        }

        return decision;
    }

    /// <summary>What would be decided; nothing is kept. For a command about several jobs, which is done to all of them or to none.</summary>
    public static Decision Ask(Turn turn, JobHistory history, Caller caller, WorkshopEvent one, string? person, ImmutableArray<string>? despite, Instant at) =>
        JobTurn.Ask(turn, history, Heard(turn, history, new EventId(caller.Source, NewId(turn)), one, person, despite, at), caller);

    private static Incoming Heard(Turn turn, JobHistory history, EventId id, WorkshopEvent one, string? person, ImmutableArray<string>? despite, Instant? at) => new()
    {
        Id = id,
        Job = history.Job.Label,
        Event = one,
        Manner = person is null && despite is null ? Manner.Plain : new Manner { Person = person, Despite = despite ?? [] },
        Effective = at ?? turn.Now,
        Received = turn.Now,
        Live = true,
    };

    /// <summary>
    /// When something happened, as told or now. A time in whole seconds means some moment of that second: told within it, it comes
    /// after what the teller has seen happen in the same second.
    /// </summary>
    public static Instant Told(Turn turn, Instant? at) =>
        at is not { } moment || (moment <= turn.Now && turn.Now - moment < Duration.FromSeconds(1) && moment.ToUnixTimeTicks() % NodaConstants.TicksPerSecond == 0)
            ? turn.Now
            : moment;

    /// <summary>What stands against a command that was refused.</summary>
    public static ProblemDetails Refusal(Decision decision)
    {
        var problem = GateProblems.Details(decision.Against);
        problem.Extensions["job"] = decision.Job.Label.ToString();
        return problem;
    }

    /// <summary>Ids sort by when they were made.</summary>
    public static string NewId(Turn turn) => Guid.CreateVersion7(turn.Now.ToDateTimeOffset()).ToString();

    // The history shows the identity. An event sent under it by the same key is to meet a conflict, as with any other known identity;
    // no content of an event has this digest.
    private static void Occupy(Turn turn, Caller caller, EventId id, long position) => turn.SaveReceived(new ReceivedEvent
    {
        Id = id,
        Digest = SHA256.HashData(Encoding.UTF8.GetBytes($"command {id}")),
        Received = turn.Now,
        ApiKey = caller.KeyId,
        State = ReceivedState.Accepted,
        Position = position,
    });
}
