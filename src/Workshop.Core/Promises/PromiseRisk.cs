using NodaTime;
using Workshop.Core.Holds;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Words;

namespace Workshop.Core.Promises;

/// <summary>What stands in the way of a promised date, the plainest first.</summary>
public enum PromiseRiskReason
{
    /// <summary>Somebody holds the job.</summary>
    Hold,

    /// <summary>It waits for a part.</summary>
    Part,

    /// <summary>A check was not passed.</summary>
    FailedCheck,

    /// <summary>Nothing but the work that is left.</summary>
    WorkLeft,
}

/// <summary>A promised date that plain arithmetic no longer reaches.</summary>
/// <param name="Days">Open days from the promised day to the forecast.</param>
/// <param name="Forecast">See <see cref="PromiseForecast"/> for what it does not know.</param>
public sealed record PromiseRisk(int Days, PromiseRiskReason Why, LocalDate Forecast, Phrase Words)
{
    /// <returns>null where the forecast is no later than the promise, and where there is none to keep any more.</returns>
    public static PromiseRisk? Of(Job job, ShopRules rules, Instant now)
    {
        if (ToKeep(job, rules) is not var (promised, forecast) || forecast.On(rules.Calendar.DateOf(now)) is var on && on <= promised)
        {
            return null;
        }

        var days = rules.Calendar.OpenDaysBetween(promised, on);
        var (why, words) = InTheWay(job);
        return new PromiseRisk(days, why, on, Phrase.Of("Forecast {0}, {1} open days after the promised day: {2}", on, days, words));
    }

    /// <summary>
    /// The first moment at which the forecast falls behind the promise if nothing more is done, past or to come. It needs no clock, so
    /// that a row of the agenda can be made of it: the end of the last day from which the work would still be done in time, or earlier,
    /// since when the job waits for a day from which it no longer would. Never before the date was said.
    /// </summary>
    public static Instant? From(Job job, ShopRules rules)
    {
        if (ToKeep(job, rules) is not var (promised, forecast))
        {
            return null;
        }

        var latest = forecast.LatestStart(promised);
        var end = rules.Calendar.EndOfDay(latest);
        var from = forecast is { NotBefore: { } floor, NotBeforeSince: { } since } && floor > latest ? Instant.Min(end, since) : end;
        return Instant.Max(from, job.Promise.History[^1].SaidAt);
    }

    private static (LocalDate Promised, PromiseForecast Forecast)? ToKeep(Job job, ShopRules rules) =>
        job.Promise.On is { } promised && !job.Standings.IsReady && PromiseForecast.Of(job, rules) is { } forecast ? (promised, forecast) : null;

    private static (PromiseRiskReason, Phrase) InTheWay(Job job)
    {
        // A part is waited for by name; a legal hold is the managers' alone.
        if (job.Holds.Standing.FirstOrDefault(hold => hold.Reason != HoldReason.Parts) is { } hold)
        {
            return (PromiseRiskReason.Hold, Phrase.Of("Held: {0}", hold.Reason == HoldReason.Legal ? HoldReason.Query : hold.Reason));
        }

        if (job.Parts.Awaited().MaxBy(part => part.On ?? LocalDate.MaxIsoValue) is { } awaited)
        {
            return (PromiseRiskReason.Part, Phrase.Of("it waits for {0}", awaited.Part));
        }

        if (job.Holds.Holds(HoldReason.Parts))
        {
            return (PromiseRiskReason.Part, Phrase.Of("it waits for a part"));
        }

        if (job.Standings.Required.Select(planned => planned.Stage).FirstOrDefault(stage => job.Standings.Of(stage).State == StageState.Failed) is var failed && job.Standings.Of(failed).State == StageState.Failed)
        {
            return (PromiseRiskReason.FailedCheck, Phrase.Of("{0} has failed", failed));
        }

        return (PromiseRiskReason.WorkLeft, Phrase.Of("the work that is left"));
    }
}
