using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Route;
using Workshop.Core.Shop;

namespace Workshop.Core.Promises;

/// <summary>
/// When the work on a job would be done by plain arithmetic: bench minutes still to do, so many a working day; then the waits that no
/// bench shortens, and the day on which the last part is to come. It knows of no queue, no other job at the bench, no part without a day
/// and no check that fails: a figure for the house, never a promise.
/// </summary>
public sealed record PromiseForecast
{
    public required ShopCalendar Calendar { get; init; }

    /// <summary>Usual bench minutes of the required stages that do not stand.</summary>
    public required int BenchMinutes { get; init; }

    /// <summary>Working days those minutes take.</summary>
    public required int WorkingDays { get; init; }

    /// <summary>Elapsed days of each wait still to come, in order; each ends on an open day.</summary>
    public ImmutableArray<int> Waits { get; init; } = [];

    /// <summary>Nothing goes on before this day: a hold to be looked at again then, a part that comes then, or a worn check that is read then.</summary>
    public LocalDate? NotBefore { get; init; }

    /// <summary>Since when that is so.</summary>
    public Instant? NotBeforeSince { get; init; }

    /// <returns>null where there is nothing to expect: the watch has left, or was never taken in.</returns>
    public static PromiseForecast? Of(Job job, ShopRules rules)
    {
        if (!job.TakenIn || job.Standings.HandedOver)
        {
            return null;
        }

        var open = job.Standings.Required.Where(planned => !job.Standings.Stands(planned.Stage)).ToArray();
        var minutes = open.Sum(planned => planned.Minutes ?? 0);
        var (wholeDays, rest) = Math.DivRem(minutes, rules.Promises.BenchMinutesPerWorkingDay);
        var waits = ImmutableArray.CreateBuilder<int>();
        if (open.Any(planned => planned.Stage == Stage.WearCheck) && OwedDays(job) is { } owed)
        {
            waits.Add(owed);
        }

        if (open.Any(planned => planned.Stage == Stage.ReserveAndFunctions) && rules.Promises.ReserveElapsedDays > 0)
        {
            waits.Add(rules.Promises.ReserveElapsedDays);
        }

        var last = Floors(job, rules.Calendar).OrderBy(floor => floor.Day).ThenByDescending(floor => floor.Since).LastOrDefault();
        return new PromiseForecast
        {
            Calendar = rules.Calendar,
            BenchMinutes = minutes,
            WorkingDays = wholeDays + (rest > 0 ? 1 : 0),
            Waits = waits.ToImmutable(),
            NotBefore = last == default ? null : last.Day,
            NotBeforeSince = last == default ? null : last.Since,
        };
    }

    /// <summary>The day on which the work would be done.</summary>
    /// <param name="today">Counted from here, or from <see cref="NotBefore"/> where that is later; the day itself gives no bench minutes.</param>
    public LocalDate On(LocalDate today) => Waits.Aggregate(
        Calendar.OpenDayAfter(NotBefore is { } floor ? LocalDate.Max(today, floor) : today, WorkingDays),
        (day, wait) => Calendar.OpenDayAfter(day.PlusDays(wait - 1), 1));

    /// <summary>The last day from which the work would still be done by a date, <see cref="NotBefore"/> left aside: <see cref="On"/> backwards.</summary>
    public LocalDate LatestStart(LocalDate by)
    {
        var day = Waits.Reverse().Aggregate(by, (end, wait) => Calendar.OpenDayBefore(end.PlusDays(1), 1).PlusDays(-wait));
        return WorkingDays == 0 ? day : Calendar.OpenDayBefore(day.PlusDays(1), WorkingDays).PlusDays(-1);
    }

    // A check that is on wrist or winder is a day to wait for, not a wait.
    private static int? OwedDays(Job job)
    {
        var checks = job.WearChecks;
        if (checks.Running is { Due: not null } || job.Route?.Wear is not { } wear)
        {
            return null;
        }

        var owed = checks.StoppedSince ? wear.AfterAStop(job.Stops.ComesAndGoes()) : checks.FailedSince ? wear.OwedAfterAFail : wear.Owed;
        return Math.Max(1, (int)Math.Ceiling(owed.TotalDays));
    }

    private static IEnumerable<(LocalDate Day, Instant Since)> Floors(Job job, ShopCalendar calendar)
    {
        foreach (var hold in job.Holds.Standing)
        {
            if (hold.LookAgainOn is { } day)
            {
                yield return (day, hold.From);
            }
        }

        foreach (var part in job.Parts.Awaited())
        {
            if (part.On is { } day)
            {
                yield return (day, part.Since);
            }
        }

        if (job.WearChecks.Running is { Due: { } due } running)
        {
            yield return (calendar.DateOf(due), running.StartedAt);
        }
    }
}
