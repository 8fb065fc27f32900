using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Labels;
using Workshop.Core.Promises;
using Workshop.Core.Shop;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Keys;

namespace Workshop.Service.Features.Promises;

/// <summary>The three dates of a job, each with its history: what was promised, what the shop aims at, what plain arithmetic expects today.</summary>
/// <param name="Version">The version of the job.</param>
/// <param name="Words">As the customer is told; or what the date waits for; absent before the first approval.</param>
/// <param name="MostLikely">Absent where it is not before the promise.</param>
/// <param name="Promised">Every date as it was said, the last one at the end.</param>
/// <param name="Target">The shop's own target for each of them, never told.</param>
/// <param name="Forecast">Absent once the watch has left.</param>
/// <param name="Stops">Holds that stopped the clock, the first one first.</param>
/// <param name="AtRisk">Absent while the forecast keeps the promise.</param>
public sealed record PromiseHistory(
    Label Job, long Version, string? Words, LocalDate? MostLikely, ImmutableArray<SaidPromise> Promised, ImmutableArray<TargetDate> Target, ForecastView? Forecast,
    ImmutableArray<StopOfTheClock> Stops, AtRiskView? AtRisk)
{
    internal static PromiseHistory Of(Job job, ShopRules rules, Instant now, Role role, Language language)
    {
        var said = job.Promise.History;
        var likely = PromiseWords.MostLikely(job, rules, now);
        var forecast = PromiseForecast.Of(job, rules);
        return new PromiseHistory(
            job.Label, job.Version, (PromiseStart.Words(job, rules) ?? PromiseWords.Said(job.Promise.On, likely))?.In(language), likely,
            [.. said.Select((one, i) => new SaidPromise(one.On, i == 0 ? null : said[i - 1].On, one.SaidAt, one.By, one.Person, one.Reason, one.StoppedWorkingDays, one.Note))],
            [.. said.Select(one => new TargetDate(one.Target, one.SaidAt))],
            forecast is null ? null : new ForecastView(
                forecast.On(rules.Calendar.DateOf(now)),
                [.. PromiseWords.RestsOn(forecast, rules.Promises).Select(one => one.In(language))],
                [.. PromiseWords.DoesNotKnow.Select(one => one.In(language))]),
            StopsOf(job, rules, role),
            AtRiskView.Of(job, rules, now, language));
    }

    private static ImmutableArray<StopOfTheClock> StopsOf(Job job, ShopRules rules, Role role)
    {
        var holds = job.Holds.All.Where(hold => hold.StopsPromise).OrderBy(hold => hold.From).ThenBy(hold => hold.Until ?? Instant.MaxValue).ToArray();
        ImmutableArray<CountedStop> counted = job.Promise.Base is { } from
            ? PromiseArithmetic.Count(holds.Select(hold => new StopInterval(hold.From, hold.Until)), from, rules.Calendar)
            : [];
        return [.. holds.Select((hold, i) => new StopOfTheClock(LegalHolds.Word(hold.Reason, role), hold.From, hold.Until, counted.IsEmpty ? 0 : counted[i].Days))];
    }
}

/// <param name="On">The date as it was said.</param>
/// <param name="Was">The date before it; absent for the first.</param>
/// <param name="By">A person of the house, or a rule.</param>
/// <param name="Person">Who, where the entry names one.</param>
/// <param name="Reason">Why it moved; absent for the first.</param>
/// <param name="StoppedWorkingDays">Open days the clock had stood still by then.</param>
/// <param name="Note">What they said to it.</param>
public sealed record SaidPromise(LocalDate On, LocalDate? Was, Instant SaidAt, PromiseMover By, string? Person, PromiseReason? Reason, int StoppedWorkingDays, string? Note);

public sealed record TargetDate(LocalDate On, Instant SaidAt);

/// <summary>A figure for the house, never a promise.</summary>
/// <param name="RestsOn">What it was computed from.</param>
/// <param name="DoesNotKnow">What it leaves out.</param>
public sealed record ForecastView(LocalDate On, ImmutableArray<string> RestsOn, ImmutableArray<string> DoesNotKnow);

/// <param name="Reason">A word; a legal hold shows as a query to all but managers.</param>
/// <param name="Lifted">Absent while it stands.</param>
/// <param name="CountedDays">Open days it moves the date that stands by; 0 for what was in the date already when a person or an approval set it.</param>
public sealed record StopOfTheClock(string Reason, Instant Placed, Instant? Lifted, int CountedDays);
