using System.Collections.Immutable;
using NodaTime;
using NodaTime.Text;

namespace Workshop.Core.Stops;

/// <summary>One moment at which the watch may have stopped.</summary>
/// <param name="RanFor">By its own hands: what they show less what they showed when it was set going.</param>
/// <param name="Shows">The watch's own day and time, by a dial of twenty-four hours: its day goes on at its own midnights, whatever the clocks of the town do.</param>
/// <param name="DayDoubtful">By the hands the calendar was changing: the day that was read may be that of before or of after.</param>
public sealed record RunTimeCandidate(Duration RanFor, LocalDateTime Shows, bool DayDoubtful);

/// <summary>For how long a watch ran that was found stopped, as far as its hands tell.</summary>
/// <param name="Candidates">Shortest first, 12 hours apart where the dial does not say which half of the day it is; empty where nobody read the hands.</param>
/// <param name="DayFitsNone">A day was read that none of the possible moments shows: the day was left aside.</param>
public sealed record RunTime(ImmutableArray<RunTimeCandidate> Candidates, bool DayFitsNone)
{
    /// <summary>The calendar moves by the hands from here on. Common practice: a dragging calendar begins at nine.</summary>
    public static readonly LocalTime CalendarMovesFrom = new(21, 0);

    /// <summary>By the hands the calendar has moved by now. Common practice.</summary>
    public static readonly LocalTime CalendarMovesUntil = new(0, 45);

    private const int DaysOnADisc = 31;
    private static readonly Duration HalfADay = Duration.FromHours(12);

    public static RunTime Unread { get; } = new([], false);

    /// <summary>The only candidate; null where there are several or none.</summary>
    public Duration? Only => Candidates is [var one] ? one.RanFor : null;

    /// <summary>What the hands show, as somebody read them: <c>HH:mm</c> or <c>HH:mm:ss</c>; null for anything else.</summary>
    public static ShownHands? ReadHands(string? text) =>
        text is null ? null
        : LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(text) is { Success: true, Value: var minutes } ? new ShownHands(minutes, Duration.FromMinutes(1))
        : LocalTimePattern.CreateWithInvariantCulture("HH:mm:ss").Parse(text) is { Success: true, Value: var seconds } ? new ShownHands(seconds, Duration.FromSeconds(1))
        : null;

    /// <summary>
    /// Every moment between start and finding at which the hands showed this. The dial has twelve hours; only a day, where one was read and is not
    /// changing, tells the half of the day, and not always.
    /// </summary>
    /// <param name="start">When the watch was set going, and what it showed then.</param>
    /// <param name="found">When it was found stopped.</param>
    /// <param name="lastSeenRunning">It ran at this moment still; the start where nobody looked.</param>
    /// <param name="zone">The zone by which the watch was set. Clocks that change meanwhile move no hands.</param>
    public static RunTime Of(RunStart start, Instant found, Instant? lastSeenRunning, ShownHands? hands, int? shownDay, DateTimeZone zone)
    {
        if (hands is not { } read)
        {
            return Unread;
        }

        var shownAtStart = start.At.InZone(zone).LocalDateTime.PlusNanoseconds((long)(start.OffsetSeconds * 1_000_000_000m));
        var first = HoursAhead(shownAtStart.TimeOfDay, read.Time);

        // Hands that were read a little short of where they began have not gone round: it stopped where it was set.
        var from = HalfADay - first <= read.Step ? first - HalfADay : first;
        var least = (lastSeenRunning is { } seen && seen > start.At ? seen - start.At : Duration.Zero) - read.Step;
        var most = found - start.At + read.Step;
        var possible = ImmutableArray.CreateBuilder<RunTimeCandidate>();
        for (var ran = from; ran <= most; ran += HalfADay)
        {
            if (ran >= least)
            {
                var shows = shownAtStart.PlusNanoseconds((long)ran.ToInt64Nanoseconds());
                possible.Add(new RunTimeCandidate(Duration.Max(ran, Duration.Zero), shows, IsMoving(shows.TimeOfDay)));
            }
        }

        var all = possible.ToImmutable();
        if (shownDay is not { } day)
        {
            return new RunTime(all, false);
        }

        var fits = all.Where(one => Shows(one, day, shownAtStart.Date, start.ShownDay)).ToImmutableArray();
        return fits.IsEmpty ? new RunTime(all, !all.IsEmpty) : new RunTime(fits, false);
    }

    /// <summary>Whether the calendar is moving at this time of the watch's own day.</summary>
    public static bool IsMoving(LocalTime time) => time >= CalendarMovesFrom || time <= CalendarMovesUntil;

    // A disc of 31 goes on to 31 after the 30th of April, a perpetual one to 1; nobody asks which it is.
    private static bool Shows(RunTimeCandidate one, int day, LocalDate setOn, int? shownAtStart)
    {
        var midnights = Period.Between(setOn, one.Shows.Date, PeriodUnits.Days).Days;
        var moved = !one.DayDoubtful ? [midnights]
            : one.Shows.TimeOfDay >= CalendarMovesFrom ? new[] { midnights, midnights + 1 }
            : [midnights - 1, midnights];
        return moved.Any(days => OnADisc(shownAtStart ?? setOn.Day, days) == day || (shownAtStart is null && setOn.PlusDays(days).Day == day));
    }

    private static int OnADisc(int from, int days) => ((((from - 1 + days) % DaysOnADisc) + DaysOnADisc) % DaysOnADisc) + 1;

    private static Duration HoursAhead(LocalTime from, LocalTime to)
    {
        var half = HalfADay.ToInt64Nanoseconds();
        var ahead = (to.NanosecondOfDay - from.NanosecondOfDay) % half;
        return Duration.FromNanoseconds(ahead < 0 ? ahead + half : ahead);
    }
}

/// <summary>How a watch was set going.</summary>
/// <param name="OffsetSeconds">Watch minus true time, seconds; ahead is plus.</param>
/// <param name="ShownDay">The day its calendar showed; the true one where nobody said.</param>
public readonly record struct RunStart(Instant At, decimal OffsetSeconds, int? ShownDay);

/// <summary>What hands show.</summary>
/// <param name="Time">Of a dial of twelve hours: the half of the day says nothing.</param>
/// <param name="Step">How finely it was read.</param>
public readonly record struct ShownHands(LocalTime Time, Duration Step);
