using NodaTime;
using Workshop.Core.Shop;

namespace Workshop.Service.Demo;

/// <summary>Moments of the demo's past, counted back from today in the workshop's own calendar.</summary>
internal sealed class DemoDays(ShopCalendar calendar, Instant now)
{
    public Instant Now => now;

    public LocalDate Today { get; } = calendar.DateOf(now);

    /// <summary>An open day so many open days before today.</summary>
    public LocalDate OpenDay(int openDaysAgo) => calendar.OpenDayBefore(Today, openDaysAgo);

    /// <summary>A local time on the open day so many open days before today.</summary>
    public Instant On(int openDaysAgo, LocalTime time) => (OpenDay(openDaysAgo) + time).InZoneLeniently(calendar.Zone).ToInstant();

    /// <summary>So long before the last closing of that open day; of today, a little before now.</summary>
    public Instant BeforeClosing(int openDaysAgo, Duration before) =>
        openDaysAgo == 0 ? now - Duration.FromMinutes(10) : On(openDaysAgo, calendar.SpansOn(OpenDay(openDaysAgo))[^1].Closes) - before;

    /// <summary>The opening of the n-th open day after the day of a moment.</summary>
    public Instant OpeningAfter(Instant moment, int openDays)
    {
        var day = calendar.OpenDayAfter(calendar.DateOf(moment), openDays);
        return (day + calendar.SpansOn(day)[0].Opens).InZoneLeniently(calendar.Zone).ToInstant();
    }

    /// <summary>The first moment from which so much work fits before closing. Work that is longer than any day begins at an opening.</summary>
    public Instant Fitting(Instant from, Duration work)
    {
        var begin = calendar.NextOpening(from);
        for (var tries = 0; tries < 7 && calendar.AfterWorkingHours(begin, work) != begin + work; tries++)
        {
            begin = OpeningAfter(begin, 1);
        }

        return begin;
    }

    public Instant NextOpening(Instant moment) => calendar.NextOpening(moment);
}
