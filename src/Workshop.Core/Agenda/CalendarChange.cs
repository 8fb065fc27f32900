using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Promises;
using Workshop.Core.Shop;

namespace Workshop.Core.Agenda;

/// <summary>A promise that would be counted otherwise. What the customer was told stands.</summary>
/// <param name="From">The day that the rule gives by the calendar in force.</param>
/// <param name="To">The day that it would give.</param>
public sealed record MovedPromise(LocalDate From, LocalDate To);

/// <summary>The day on which the work would be done by plain arithmetic.</summary>
/// <param name="AtRisk">It would lie after the promised day.</param>
/// <param name="WasAtRisk">It does so already.</param>
public sealed record MovedForecast(LocalDate From, LocalDate To, bool AtRisk, bool WasAtRisk);

/// <summary>A row of the agenda whose task would be at another time. A due moment of elapsed time, as that of a worn check, stays.</summary>
/// <param name="Due">As the calendar in force has it.</param>
/// <param name="To">Null where there would be no such row any more.</param>
public sealed record MovedTask(AgendaKind Kind, string Ref, Instant? Due, Instant? From, Instant? To);

/// <summary>
/// What another calendar would do to one job: the same job, its dates counted twice. Nothing of it happens by itself but that the tasks
/// move: a promise is moved by a person, or by its own rule when the clock has stood still.
/// </summary>
public sealed record CalendarChange(LocalDate? PromisedOn, MovedPromise? Promise, MovedForecast? Forecast, ImmutableArray<MovedTask> Tasks)
{
    public bool IsNone => Promise is null && Forecast is null && Tasks.IsEmpty;

    /// <param name="forecast">The day on which the work on a job would be done, by a calendar; null where nothing is left to foresee.</param>
    public static CalendarChange Of(Job job, ShopRules before, ShopRules after, Func<Job, ShopRules, LocalDate?> forecast)
    {
        var open = job is { TakenIn: true, Standings: { IsReady: false, HandedOver: false } };
        var (promisedOn, was, would) = (job.Promise.On, open ? forecast(job, before) : null, open ? forecast(job, after) : null);
        return new CalendarChange(
            open ? promisedOn : null,
            open && Counted(job, before.Calendar) is { } from && Counted(job, after.Calendar) is { } to && from != to ? new MovedPromise(from, to) : null,
            was is { } earlier && would is { } later && was != would ? new MovedForecast(earlier, later, later > promisedOn, earlier > promisedOn) : null,
            TasksBetween(AgendaPlan.For(job, before), AgendaPlan.For(job, after)));
    }

    /// <summary>The rows whose task is at another time in the second plan.</summary>
    public static ImmutableArray<MovedTask> TasksBetween(ImmutableArray<AgendaRow> before, ImmutableArray<AgendaRow> after)
    {
        var then = after.ToDictionary(row => (row.Kind, row.Ref));
        return
        [
            .. before.Select(row => (Row: row, To: then.GetValueOrDefault((row.Kind, row.Ref))?.Task))
                .Where(one => one.Row.Task != one.To)
                .Select(one => new MovedTask(one.Row.Kind, one.Row.Ref, one.Row.Due, one.Row.Task, one.To)),
        ];
    }

    // By the rule, whatever was said since: the days promised from day 0 on, and those the clock stood still.
    private static LocalDate? Counted(Job job, ShopCalendar calendar)
    {
        if (job.Promise.Given is not { BeforeOurRecords: not true } given)
        {
            return null;
        }

        var stops = job.Holds.All.Where(hold => hold.StopsPromise).Select(hold => new StopInterval(hold.From, hold.Until));
        var from = new PromiseBase(calendar.OpenDayAfter(given.ApprovedOn, given.WorkingDays), given.ApprovedOn);
        return calendar.OpenDayAfter(from.On, PromiseArithmetic.StoppedWorkingDays(stops, from, calendar));
    }
}
