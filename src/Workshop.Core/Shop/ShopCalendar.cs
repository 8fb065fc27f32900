using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Diagnostics;
using NodaTime;
using NodaTime.TimeZones;

namespace Workshop.Core.Shop;

/// <summary>An open stretch of a day, from opening to closing, in the workshop's own time; the closing moment still belongs to it.</summary>
public readonly record struct OpenSpan(LocalTime Opens, LocalTime Closes);

/// <summary>Days on which the shop is shut although the week says otherwise, both ends included.</summary>
public sealed record Closure(LocalDate From, LocalDate Through, string? Reason = null);

/// <summary>A public holiday as the shop keeps it.</summary>
public sealed record Holiday(LocalDate Date, string Name);

/// <summary>
/// The shop's calendar: time zone, weekly hours, closures, public holidays and extra open days. Working days are whole open days of this
/// calendar; elapsed time (wear) never goes through it.
/// </summary>
/// <remarks>
/// A local time that a clock change skips is moved forward by the length of the gap; one that happens twice means the first.
/// Every search for an open day ends: the constructor refuses a calendar that would be shut for ten years on end.
/// </remarks>
public sealed class ShopCalendar
{
    /// <param name="holidays">Days on which the shop is shut as the region is, unless it says that it is open.</param>
    /// <param name="holidaysThrough">The last day whose holidays are known; null where no region is followed.</param>
    /// <exception cref="ArgumentException">
    /// Hours that close before they open or overlap, a closure that ends before it begins, or no open day within ten years:
    /// <see cref="CalendarFaults"/> names them all.
    /// </exception>
    public ShopCalendar(
        DateTimeZone zone,
        IReadOnlyDictionary<IsoDayOfWeek, ImmutableArray<OpenSpan>> week,
        IEnumerable<Closure>? closures = null,
        IReadOnlyDictionary<LocalDate, ImmutableArray<OpenSpan>>? extraOpenDays = null,
        IEnumerable<Holiday>? holidays = null,
        LocalDate? holidaysThrough = null)
    {
        Closures = [.. closures ?? []];
        Holidays = (holidays ?? []).GroupBy(one => one.Date).ToFrozenDictionary(day => day.Key, day => day.Last().Name);
        HolidaysThrough = holidaysThrough;
        extraOpenDays ??= FrozenDictionary<LocalDate, ImmutableArray<OpenSpan>>.Empty;
        if (CalendarFaults.Of(week, Closures, extraOpenDays, Holidays.ContainsKey).FirstOrDefault() is { } fault)
        {
            throw new ArgumentException(fault.Detail, nameof(week));
        }

        Zone = zone;
        Week = week.Where(day => !day.Value.IsDefaultOrEmpty).ToFrozenDictionary(day => day.Key, day => InOrder(day.Value));
        ExtraOpenDays = extraOpenDays.ToFrozenDictionary(day => day.Key, day => InOrder(day.Value));
    }

    public DateTimeZone Zone { get; }

    /// <summary>Hours by day of the week, in order of time; a day that is always shut is left out.</summary>
    public FrozenDictionary<IsoDayOfWeek, ImmutableArray<OpenSpan>> Week { get; }

    public ImmutableArray<Closure> Closures { get; }

    /// <summary>Public holidays by date, with their names.</summary>
    public FrozenDictionary<LocalDate, string> Holidays { get; }

    /// <summary>The last day whose holidays are known; null where no region is followed, since then the shop's own list is all there is.</summary>
    public LocalDate? HolidaysThrough { get; }

    /// <summary>Dates with hours of their own; they stand over the week, over closures and over holidays.</summary>
    public FrozenDictionary<LocalDate, ImmutableArray<OpenSpan>> ExtraOpenDays { get; }

    /// <summary>Whether a date lies so far ahead that its holidays are not known: it was counted without them.</summary>
    public bool IsBeyondHolidays(LocalDate date) => date > HolidaysThrough;

    /// <summary>The date of a moment in the workshop's own zone.</summary>
    public LocalDate DateOf(Instant moment) => moment.InZone(Zone).Date;

    /// <summary>The open stretches of a date, in order of time; empty on a closed day.</summary>
    public ImmutableArray<OpenSpan> SpansOn(LocalDate date) =>
        ExtraOpenDays.TryGetValue(date, out var hours) ? hours : Holidays.ContainsKey(date) || ShutByClosure(date) ? [] : UsualHours(date);

    public bool IsOpenDay(LocalDate date) => !SpansOn(date).IsEmpty;

    /// <summary>Whether somebody is there; at the very moment of closing, still yes.</summary>
    public bool IsOpenAt(Instant moment) => OpenTimes(DateOf(moment)).Any(open => open.From <= moment && moment <= open.Through);

    /// <summary>The moment itself while the shop is open (the moment of closing included), else the next opening.</summary>
    public Instant NextOpening(Instant moment)
    {
        var open = OpenTimesFrom(DateOf(moment)).First(one => moment <= one.Through);
        return Instant.Max(moment, open.From);
    }

    /// <summary>
    /// The day from which working days are counted: the date of the moment, or the next calendar date after that day's last closing.
    /// On a closed day it is that date. The day itself is never counted.
    /// </summary>
    public LocalDate DayZero(Instant moment)
    {
        var date = DateOf(moment);
        var spans = SpansOn(date);
        return !spans.IsEmpty && moment > At(date, spans[^1].Closes) ? date.PlusDays(1) : date;
    }

    /// <summary>The n-th open day after a date; for 0 the date itself, open or not.</summary>
    /// <exception cref="ArgumentOutOfRangeException">n is negative.</exception>
    public LocalDate OpenDayAfter(LocalDate date, int n) => NthOpenDay(date, n, 1);

    /// <summary>The n-th open day before a date; for 0 the date itself, open or not.</summary>
    /// <exception cref="ArgumentOutOfRangeException">n is negative.</exception>
    public LocalDate OpenDayBefore(LocalDate date, int n) => NthOpenDay(date, n, -1);

    /// <summary>Open days after one date, through another one; 0 when the second is not later.</summary>
    public int OpenDaysBetween(LocalDate after, LocalDate through)
    {
        var count = 0;
        for (var day = after.PlusDays(1); day <= through; day = day.PlusDays(1))
        {
            count += IsOpenDay(day) ? 1 : 0;
        }

        return count;
    }

    /// <summary>The moment at which so much open time has passed; a start on closed time begins at the next opening.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The working time is negative.</exception>
    public Instant AfterWorkingHours(Instant from, Duration working)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(working, Duration.Zero);
        var left = working;
        foreach (var open in OpenTimesFrom(DateOf(from)).SkipWhile(one => one.Through < from))
        {
            var begin = Instant.Max(from, open.From);
            if (left <= open.Through - begin)
            {
                return begin + left;
            }

            left -= open.Through - begin;
        }

        throw new UnreachableException("Open days never run out.");
    }

    /// <summary>
    /// One working day later: the same local time on the next open day after the day of the next opening; where the shop is shut at
    /// that time, its next opening of that day, and after the last closing the closing itself.
    /// </summary>
    public Instant NextWorkingDay(Instant from)
    {
        var begin = NextOpening(from).InZone(Zone);
        var day = OpenDayAfter(begin.Date, 1);
        var hours = SpansOn(day);
        return hours.Where(span => begin.TimeOfDay <= span.Closes)
            .Select(span => At(day, LocalTime.Max(begin.TimeOfDay, span.Opens)))
            .DefaultIfEmpty(At(day, hours[^1].Closes))
            .First();
    }

    /// <summary>The end of a local date, which is the start of the next one; not always 24 hours after its own start.</summary>
    public Instant EndOfDay(LocalDate date)
    {
        var midnight = Zone.MapLocal(date.PlusDays(1).AtMidnight());
        return midnight.Count == 0 ? midnight.LateInterval.Start : midnight.First().ToInstant();
    }

    private Instant At(LocalDate date, LocalTime time) => Zone.ResolveLocal(date + time, Resolvers.LenientResolver).ToInstant();

    private IEnumerable<(Instant From, Instant Through)> OpenTimesFrom(LocalDate date)
    {
        for (var day = date; ; day = day.PlusDays(1))
        {
            foreach (var open in OpenTimes(day))
            {
                yield return open;
            }
        }
    }

    /// <summary>The open stretches of a date as moments, in order; one that lies wholly in the hour a clock change skips has no moment in it.</summary>
    public IEnumerable<(Instant From, Instant Through)> OpenTimes(LocalDate date) =>
        SpansOn(date).Select(span => (From: At(date, span.Opens), Through: At(date, span.Closes))).Where(open => open.From < open.Through);

    private LocalDate NthOpenDay(LocalDate date, int n, int direction)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(n);
        var day = date;
        for (var left = n; left > 0; left -= IsOpenDay(day) ? 1 : 0)
        {
            day = day.PlusDays(direction);
        }

        return day;
    }

    private ImmutableArray<OpenSpan> UsualHours(LocalDate date) => Week.GetValueOrDefault(date.DayOfWeek, []);

    private bool ShutByClosure(LocalDate date)
    {
        foreach (var closure in Closures)
        {
            if (closure.From <= date && date <= closure.Through)
            {
                return true;
            }
        }

        return false;
    }

    private static ImmutableArray<OpenSpan> InOrder(ImmutableArray<OpenSpan> hours) => hours.Sort((one, other) => one.Opens.CompareTo(other.Opens));
}
