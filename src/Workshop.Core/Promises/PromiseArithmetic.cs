using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Shop;

namespace Workshop.Core.Promises;

/// <summary>A stretch during which the promise's clock stood still.</summary>
/// <param name="Lifted">Null while it still stands.</param>
public readonly record struct StopInterval(Instant Placed, Instant? Lifted);

/// <summary>What a stop took from the shop.</summary>
/// <param name="Days">Open days.</param>
public readonly record struct CountedStop(StopInterval Stop, int Days);

/// <summary>The date that stops move: the one said last by a person or by an approval.</summary>
/// <param name="CountsFrom">Days of a stop count after this one.</param>
/// <param name="StoppedBefore">Open days that stops had taken by then; they are in the date already.</param>
public readonly record struct PromiseBase(LocalDate On, LocalDate CountsFrom, int StoppedBefore = 0);

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
    /// Open days during which the clock stood still, for each stop in the order of its beginning: those after the day it was stopped,
    /// through the day it went on, each counted once however many stops covered it and for the first of them. A stop within one day
    /// counts 0, and so does one that still stands. A day after the promised date, as stops before it have moved that, counts for
    /// nothing: the date was missed by then, and waiting afterwards does not make it kept.
    /// </summary>
    /// <param name="from">Days through its <see cref="PromiseBase.CountsFrom"/> do not count.</param>
    public static ImmutableArray<CountedStop> Count(IEnumerable<StopInterval> stops, PromiseBase from, ShopCalendar calendar)
    {
        var counts = ImmutableArray.CreateBuilder<CountedStop>();
        var (promised, counted) = (from.On, from.CountsFrom);
        foreach (var stop in stops.OrderBy(one => one.Placed).ThenBy(one => one.Lifted ?? Instant.MaxValue))
        {
            var days = 0;
            if (stop.Lifted is { } lifted)
            {
                var through = calendar.DayZero(lifted);
                for (var day = LocalDate.Max(counted, calendar.DayZero(stop.Placed)).PlusDays(1); day <= through && day <= promised; day = day.PlusDays(1))
                {
                    if (calendar.IsOpenDay(day))
                    {
                        days++;
                        promised = calendar.OpenDayAfter(promised, 1);
                    }
                }

                counted = LocalDate.Max(counted, through);
            }

            counts.Add(new CountedStop(stop, days));
        }

        return counts.ToImmutable();
    }

    /// <summary>All days of <see cref="Count"/> together.</summary>
    public static int StoppedWorkingDays(IEnumerable<StopInterval> stops, PromiseBase from, ShopCalendar calendar) => Count(stops, from, calendar).Sum(one => one.Days);

    /// <summary>
    /// The move that stops of the clock make by rule: once, when the last of them is lifted, by the open days they took in all.
    /// </summary>
    /// <param name="from">The date that a person or an approval set last; stops move it later, never earlier.</param>
    /// <param name="lastGivenDate">The date the customer was told last.</param>
    /// <returns>null while a stop still stands, and where the date is the one last given.</returns>
    public static PromiseMoved? Moved(
        PromiseBase from,
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

        var stopped = StoppedWorkingDays(stops, from, calendar);
        var on = calendar.OpenDayAfter(from.On, stopped);
        return on == lastGivenDate
            ? null
            : new PromiseMoved
            {
                From = lastGivenDate,
                To = on,
                Target = TargetFor(on, from.CountsFrom, targetWorkingDaysBefore, calendar),
                StoppedWorkingDays = from.StoppedBefore + stopped,
                Reason = reason,
            };
    }

    /// <summary>
    /// The move that agreed supplementary work makes: by the stops so far and by the open days it takes. Another stop that still stands
    /// has taken its days until now; those to come count from here on.
    /// </summary>
    /// <param name="agreed">When it was agreed.</param>
    /// <param name="workingDays">Open days that the work adds; more than none.</param>
    public static PromiseMoved MovedBySupplement(
        PromiseBase from, LocalDate lastGivenDate, int workingDays, Instant agreed, int targetWorkingDaysBefore, IEnumerable<StopInterval> stops, ShopCalendar calendar)
    {
        var stopped = StoppedWorkingDays(stops.Select(stop => stop with { Lifted = stop.Lifted ?? Instant.Max(stop.Placed, agreed) }), from, calendar);
        var (on, dayZero) = (calendar.OpenDayAfter(from.On, stopped + workingDays), calendar.DayZero(agreed));
        return new PromiseMoved
        {
            From = lastGivenDate,
            To = on,
            Target = TargetFor(on, dayZero, targetWorkingDaysBefore, calendar),
            StoppedWorkingDays = from.StoppedBefore + stopped,
            Reason = PromiseReason.SupplementaryWork,
            CountsFrom = dayZero,
        };
    }

    /// <summary>The move that a person makes: the date they say, with a target of its own. Stops are counted from it, beginning with the day after.</summary>
    /// <param name="before">What was said so far.</param>
    /// <param name="said">When it is said.</param>
    public static PromiseMoved MovedByPerson(PromiseBook before, LocalDate lastGivenDate, LocalDate to, PromiseReason reason, string? note, Instant said, int targetWorkingDaysBefore, ShopCalendar calendar)
    {
        var day = calendar.DayZero(said);
        return new PromiseMoved
        {
            From = lastGivenDate,
            To = to,
            Target = TargetFor(to, day, targetWorkingDaysBefore, calendar),
            StoppedWorkingDays = before.StoppedWorkingDays,
            Reason = reason,
            By = PromiseMover.Person,
            CountsFrom = day,
            Note = note,
        };
    }

    /// <summary>By how many open days a move moves, later or earlier.</summary>
    public static int OpenDaysMoved(PromiseMoved moved, ShopCalendar calendar) =>
        calendar.OpenDaysBetween(LocalDate.Min(moved.From, moved.To), LocalDate.Max(moved.From, moved.To));

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
