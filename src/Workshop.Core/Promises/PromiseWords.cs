using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Core.Promises;

/// <summary>A promised date as it is said, and what stands behind a forecast.</summary>
public static class PromiseWords
{
    /// <summary>
    /// The day around which the watch is most likely ready: the later of what the shop aims at and what plain arithmetic expects.
    /// </summary>
    /// <returns>null where that is not before the promise: then there is nothing more to say than the promise.</returns>
    public static LocalDate? MostLikely(Job job, ShopRules rules, Instant now)
    {
        if (job.Promise is not { On: { } on, Target: { } target } || job.Standings.IsReady || PromiseForecast.Of(job, rules) is not { } forecast)
        {
            return null;
        }

        var likely = LocalDate.Max(target, forecast.On(rules.Calendar.DateOf(now)));
        return likely < on ? likely : null;
    }

    /// <summary>As the customer is told; null before the first promise.</summary>
    public static Phrase? Said(LocalDate? on, LocalDate? mostLikely) => (on, mostLikely) switch
    {
        ({ } by, { } likely) => Phrase.Of("by {0}, most likely around {1}", new Spoken(by, Weekday: true), new Spoken(likely)),
        ({ } by, null) => Phrase.Of("by {0}", new Spoken(by, Weekday: true)),
        _ => null,
    };

    /// <summary>What a forecast was computed from.</summary>
    public static ImmutableArray<Phrase> RestsOn(PromiseForecast forecast, PromiseRules rules) =>
    [
        Phrase.Of("{0} bench minutes at {1} a working day: {2} working days", forecast.BenchMinutes, rules.BenchMinutesPerWorkingDay, forecast.WorkingDays),
        .. forecast.Waits.IsEmpty ? ImmutableArray<Phrase>.Empty : [Phrase.Of("{0} elapsed days that no bench shortens", forecast.Waits.Sum())],
        .. forecast.NotBefore is { } floor ? [Phrase.Of("nothing before {0}", new Spoken(floor))] : ImmutableArray<Phrase>.Empty,
    ];

    /// <summary>What a forecast leaves out.</summary>
    public static ImmutableArray<Phrase> DoesNotKnow { get; } =
    [
        Phrase.Of("the queue before each bench and the other jobs at it"),
        Phrase.Of("when a part comes for which nobody has said a day"),
        Phrase.Of("checks that will fail, and people who will be away"),
    ];
}
