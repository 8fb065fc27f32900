using System.Collections.Immutable;
using Microsoft.AspNetCore.Mvc;
using Workshop.Core.Journal;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.CloudEvents;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>What a device is told of an event that was not judged by a job: refused for itself, or waiting.</summary>
internal static class EventResults
{
    public static EventResult Held(CloudEvent one, Language language) => new()
    {
        Id = one.Id,
        Outcome = EventOutcome.Held,
        Job = one.Subject,
        Say = new Say(Signal.Ok, Phrase.Of("Kept; something before it is still to come").In(language)),
    };

    // Cautions go with every word about a watch, also with one about a slip of the pen.
    public static EventResult Refused(Turn turn, CloudEvent one, ProblemDetails problem, Language language)
    {
        var history = Label.TryRead(one.Subject, out var label) ? turn.HistoryBehind(label.Value) : null;
        return Refused(one.Id, history?.Job.Label.ToString() ?? one.Subject, problem, Saying.Of(problem, language, history?.Job));
    }

    public static EventResult Refused(string? id, string? job, ProblemDetails problem, Language language) =>
        Refused(id, job, problem, Saying.Of(problem, language, about: null));

    public static EventResult Refused(string? id, string? job, ProblemDetails problem, Say say) => new()
    {
        Id = id,
        Outcome = EventOutcome.Refused,
        Job = job,
        Say = say,
        Problem = problem,
    };

    /// <summary>Something was told as a proof that cannot be one; it is not shown again.</summary>
    public static readonly Fault NoNumber = new("/data/proof", Phrase.Of("A proof is a text of 4 to 8 digits."));

    public static Fault InData(Fault fault) => fault with { Pointer = $"/data{fault.Pointer}", Detail = fault.Detail.TrimEnd('.') };

    /// <summary>Flags that the door sets, whatever the event says.</summary>
    public static ImmutableArray<string> FlagsAtTheDoor(EventTime time, DataReading data, Post post)
    {
        (bool Set, string Flag)[] flags =
        [
            (time.ClockSuspect, EntryFlag.ClockSuspect),
            (time.ClockStepped, EntryFlag.ClockStepped),
            (post.AfterGap, EntryFlag.Gap),
            (!data.UnknownMembers.IsEmpty, EntryFlag.UnknownMember),
        ];
        return [.. flags.Where(one => one.Set).Select(one => one.Flag)];
    }
}
