using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Shop;

namespace Workshop.Core.Promises;

/// <summary>A stretch during which the promise's clock stood still.</summary>
/// <param name="Lifted">Null while it still stands.</param>
public readonly record struct StopInterval(Instant Placed, Instant? Lifted);

/// <summary>
/// Promised days, counted in open days of the shop's calendar from the day of approval, which is day 0. Common practice of the
/// trade; a moment after that day's closing hour counts as the next calendar day.
/// </summary>
public static class PromiseArithmetic
{
    /// <summary>The promise that follows from an approval: the n-th open day after day 0, and the shop's own target before it.</summary>
    /// <param name="approved">The latest of approval, deposit and last missing information.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number of days is negative.</exception>
    public static PromiseGiven Given(Instant approved, int workingDays, int targetWorkingDaysBefore, ShopCalendar calendar)
    {
        var dayZero = calendar.DayZero(approved);
        var on = calendar.OpenDayAfter(dayZero, workingDays);
        return new PromiseGiven
        {
            On = on,
            Target = TargetFor(on, dayZero, targetWorkingDaysBefore, calendar),
            ApprovedOn = dayZero,
            WorkingDays = workingDays,
        };
    }

    /// <summary>A promise that was given before the job was adopted: the date as told, nothing computed anew but the shop's own target.</summary>
    /// <param name="on">As the customer was told.</param>
    /// <param name="takenInOn">The day the watch came; when it was approved nobody knows.</param>
    public static PromiseGiven GivenBefore(LocalDate on, LocalDate takenInOn, int targetWorkingDaysBefore, ShopCalendar calendar) => new()
    {
        On = on,
        Target = TargetFor(on, takenInOn, targetWorkingDaysBefore, calendar),
        ApprovedOn = takenInOn,
        WorkingDays = calendar.OpenDaysBetween(takenInOn, on),
        BeforeOurRecords = true,
    };

    /// <summary>The move that a new approval makes: the count begins anew on its day.</summary>
    /// <param name="lastGivenDate">The date the customer was told last.</param>
    public static PromiseMoved Anew(LocalDate lastGivenDate, Instant approved, int workingDays, int targetWorkingDaysBefore, ShopCalendar calendar)
    {
        var given = Given(approved, workingDays, targetWorkingDaysBefore, calendar);
        return new PromiseMoved
        {
            From = lastGivenDate,
            To = given.On,
            Target = given.Target,
            StoppedWorkingDays = 0,
            Reason = PromiseReason.SupplementaryWork,
            ApprovedOn = given.ApprovedOn,
            WorkingDays = workingDays,
        };
    }

    /// <summary>
    /// Open days during which the clock stood still: those after the day it was stopped, through the day it went on, each counted
    /// once however many stops covered it. A stop within one day counts 0, and so does one that still stands.
    /// </summary>
    /// <param name="since">Day 0 of the approval; days through it do not count.</param>
    public static int StoppedWorkingDays(IEnumerable<StopInterval> stops, LocalDate since, ShopCalendar calendar)
    {
        var days = 0;
        var counted = since;
        foreach (var stop in stops.OrderBy(one => one.Placed))
        {
            if (stop.Lifted is not { } lifted)
            {
                continue;
            }

            var through = calendar.DayZero(lifted);
            days += calendar.OpenDaysBetween(LocalDate.Max(counted, calendar.DayZero(stop.Placed)), through);
            counted = LocalDate.Max(counted, through);
        }

        return days;
    }

    /// <summary>
    /// The move that stops of the clock make by rule: once, when the last of them is lifted, by the open days they took in all.
    /// </summary>
    /// <param name="given">The promise as first given.</param>
    /// <param name="lastGivenDate">The date the customer was told last.</param>
    /// <returns>null while a stop still stands, and where the date is the one last given.</returns>
    public static PromiseMoved? Moved(
        PromiseGiven given,
        LocalDate lastGivenDate,
        int targetWorkingDaysBefore,
        IReadOnlyCollection<StopInterval> stops,
        ShopCalendar calendar,
        PromiseReason reason = PromiseReason.WaitedForYou)
    {
        if (stops.Any(stop => stop.Lifted is null))
        {
            return null;
        }

        var stopped = StoppedWorkingDays(stops, given.ApprovedOn, calendar);
        var on = calendar.OpenDayAfter(given.On, stopped);
        return on == lastGivenDate
            ? null
            : new PromiseMoved
            {
                From = lastGivenDate,
                To = on,
                Target = TargetFor(on, given.ApprovedOn, targetWorkingDaysBefore, calendar),
                StoppedWorkingDays = stopped,
                Reason = reason,
            };
    }

    /// <summary>
    /// When the work would be done by plain arithmetic: the bench minutes still to do, so many a working day, from the next open day
    /// on. It knows of no queue, no waiting for parts and no nights of wear; it is a figure for the house, never a promise.
    /// </summary>
    /// <param name="remainingMinutes">Usual bench minutes of the required stages that do not stand.</param>
    /// <param name="benchMinutesPerWorkingDay">Minutes that one working day gives one job; a setting, greater than 0.</param>
    /// <returns>today where nothing is left to do, otherwise a later open day.</returns>
    /// <exception cref="ArgumentOutOfRangeException">Negative work, or a day without minutes.</exception>
    public static LocalDate Forecast(int remainingMinutes, int benchMinutesPerWorkingDay, LocalDate today, ShopCalendar calendar)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(remainingMinutes);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(benchMinutesPerWorkingDay);
        var (wholeDays, rest) = Math.DivRem(remainingMinutes, benchMinutesPerWorkingDay);
        return calendar.OpenDayAfter(today, wholeDays + (rest > 0 ? 1 : 0));
    }

    /// <summary>Whether a promise is for a day so far ahead that its public holidays were not known.</summary>
    public static bool IsBeyondCalendar(WorkshopEvent promised, ShopCalendar calendar) => promised switch
    {
        PromiseGiven given => calendar.IsBeyondHolidays(given.On),
        PromiseMoved moved => calendar.IsBeyondHolidays(moved.To),
        _ => false,
    };

    // A target before the approval would be late before it began.
    private static LocalDate TargetFor(LocalDate on, LocalDate dayZero, int workingDaysBefore, ShopCalendar calendar) =>
        LocalDate.Max(dayZero, calendar.OpenDayBefore(on, workingDaysBefore));
}
