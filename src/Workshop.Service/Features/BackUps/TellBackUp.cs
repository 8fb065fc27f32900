using System.ComponentModel.DataAnnotations;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using Workshop.Core.House;
using Workshop.Core.Journal;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Bodies;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BackUps;

public sealed record BackUpBody
{
    /// <summary>The moment whose state it holds; now where left out.</summary>
    public Instant? MadeAt { get; init; }

    /// <summary>A few words on where it lies.</summary>
    [StringLength(200, MinimumLength = 1)]
    public required string Where { get; init; }

    [Range(0, long.MaxValue)]
    public long? Bytes { get; init; }
}

/// <summary>A back-up that was made.</summary>
public sealed record BackUpView(Instant MadeAt, string Where, long? Bytes);

/// <summary>How the house stands with its back-ups.</summary>
/// <param name="Newest">Absent while none was ever made.</param>
/// <param name="MadeHere">The service makes them itself; on PostgreSQL they are the operator's, who tells of them here.</param>
/// <param name="TooOldAfter">Age from which on the agenda says so.</param>
public sealed record BackUpsView(BackUpView? Newest, bool MadeHere, Duration TooOldAfter);

/// <summary>Somebody made a back-up that the service cannot see: its age counts from now on.</summary>
public static class TellBackUp
{
    public static Task<Once<Results<Done<BackUpsView>, ProblemHttpResult>>> Handle(JsonBody<BackUpBody> body, Once once, Caller caller, Writer writer, Storage.BackUps backUps) =>
        once.Do(writer, body.Bytes, turn => Tell(turn, body.Value, caller, backUps));

    private static Results<Done<BackUpsView>, ProblemHttpResult> Tell(Turn turn, BackUpBody body, Caller caller, Storage.BackUps backUps)
    {
        var at = body.MadeAt ?? turn.Now;
        if (at > turn.Now)
        {
            return Problems.BadFields(new Fault("/madeAt", "This moment is to come"));
        }

        HouseAgenda.Keep(turn, caller.Source, new BackUpMade { MadeAt = at, Where = body.Where, Bytes = body.Bytes });
        return Answer.Done(ReadBackUps.Of(HouseAgenda.Fold(turn), turn.Rules, backUps));
    }
}
