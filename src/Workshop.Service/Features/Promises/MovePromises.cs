using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Mvc;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Promises;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Promises;

public sealed record MovesBody
{
    [Length(1, 200)]
    public required ImmutableArray<MoveBody> Moves { get; init; }

    /// <summary>Whose word it is: a badge or a short name.</summary>
    [StringLength(60)]
    public string? Person { get; init; }
}

public sealed record MoveBody
{
    /// <summary>The job's label.</summary>
    [StringLength(40, MinimumLength = 1)]
    public required string Job { get; init; }

    /// <summary>The new date: an open day, today at the earliest, within three years. It may be earlier than the one promised: the shop has room sooner, or said a wrong day.</summary>
    public required LocalDate To { get; init; }

    public required PromiseReason Reason { get; init; }

    [StringLength(2_000)]
    public string? Note { get; init; }

    /// <summary>Gates that ask and are to be passed.</summary>
    [Length(0, 20)]
    public ImmutableArray<string>? Despite { get; init; }
}

/// <summary>What became of one move, in the order given.</summary>
/// <param name="Job">The label as it was sent.</param>
/// <param name="Was">The date the customer was told before.</param>
/// <param name="By">The date that stands now.</param>
/// <param name="Target">The shop's own target for it.</param>
/// <param name="WorthAMessage">The date moved by more open days than the shop lets pass without writing to the customer.</param>
/// <param name="Problem">For a refused move: what stands against it, by RFC 9457.</param>
public sealed record MovedPromise(
    string Job, Outcome Outcome, LocalDate? Was, LocalDate? By, LocalDate? Target, bool? WorthAMessage, ImmutableArray<string> Flags, ProblemDetails? Problem = null);

public sealed record MovedPromises(ImmutableArray<MovedPromise> Moves);

/// <summary>Somebody of the house moves promised dates. Each move is judged for itself; the target follows, and stops of the clock count on from the new date.</summary>
public static class MovePromises
{
    private const int YearsAhead = 3;

    public static async Task<Once<Done<MovedPromises>>> Handle(JsonBody<MovesBody> body, Once once, Caller caller, Writer writer) => await once.Do(
        writer,
        body.Bytes,
        turn => Answer.Done(new MovedPromises([.. body.Value.Moves.Select((move, i) => Move(turn, move, $"/moves/{i}", body.Value.Person, caller))])));

    private static MovedPromise Move(Turn turn, MoveBody move, string pointer, string? person, Caller caller)
    {
        if (!Label.TryRead(move.Job, out var label))
        {
            return Refused(move, null, Problems.BadFieldsDetails([new Fault($"{pointer}/job", "This is no label")]));
        }

        if (label.Value.Kind != LabelKind.Job || turn.History(label.Value) is not { } history)
        {
            return Refused(move, null, PathLabel.NoJob().ProblemDetails);
        }

        var promise = history.Job.Promise;
        if (Faults(turn, promise, move, pointer).ToArray() is { Length: > 0 } faults)
        {
            return Refused(move, promise, Problems.BadFieldsDetails(faults));
        }

        var calendar = turn.Rules.Calendar;
        var moved = PromiseArithmetic.MovedByPerson(
            promise, promise.On ?? move.To, move.To, move.Reason, move.Note, turn.Now, history.Job.Route?.TargetWorkingDaysBefore ?? 0, calendar);
        var decision = DeskCommand.Say(turn, history, caller, moved, person, move.Despite);
        if (decision.Outcome == Outcome.Refused)
        {
            return Refused(move, promise, DeskCommand.Refusal(decision));
        }

        var after = decision.Job.Promise;
        return new MovedPromise(
            move.Job, decision.Outcome, promise.On, after.On, after.Target, PromiseArithmetic.OpenDaysMoved(moved, calendar) > turn.Rules.Promises.MessageBeyondWorkingDays, decision.Flags);
    }

    private static MovedPromise Refused(MoveBody move, PromiseBook? promise, ProblemDetails problem) =>
        new(move.Job, Outcome.Refused, promise?.On, promise?.On, promise?.Target, null, [], problem);

    private static IEnumerable<Fault> Faults(Turn turn, PromiseBook promise, MoveBody move, string pointer)
    {
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        if (move.To < today)
        {
            yield return new Fault($"{pointer}/to", "This day is past");
        }
        else if (move.To > today.PlusYears(YearsAhead))
        {
            yield return new Fault($"{pointer}/to", $"Nobody promises more than {YearsAhead} years ahead");
        }
        else if (!turn.Rules.Calendar.IsOpenDay(move.To))
        {
            yield return new Fault($"{pointer}/to", "The shop is shut on this day");
        }
        else if (move.To == promise.On)
        {
            yield return new Fault($"{pointer}/to", "This is the day that is promised already");
        }
    }
}
