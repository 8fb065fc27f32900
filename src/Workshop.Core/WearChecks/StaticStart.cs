using NodaTime;
using Workshop.Core.Shop;

namespace Workshop.Core.WearChecks;

/// <summary>When a static check may begin, so that somebody is there when it must be measured again.</summary>
/// <param name="Useful">The moment asked about is such a one.</param>
/// <param name="EarliestToday">The first useful start on the day asked about, from the moment asked about on; null where there is none left.</param>
/// <param name="LatestToday">The last one.</param>
/// <param name="NextDay">The first useful start of a later day.</param>
public sealed record StaticStart(bool Useful, Instant? EarliestToday, Instant? LatestToday, Instant NextDay)
{
    /// <summary>The first useful start from the moment asked about on.</summary>
    public Instant NextUseful => EarliestToday ?? NextDay;

    /// <summary>True time after which the second set may be measured at the earliest. Common practice.</summary>
    public static readonly Duration Earliest = Duration.FromHours(23);

    /// <summary>True time within which it must be measured. Common practice.</summary>
    public static readonly Duration Latest = Duration.FromHours(25);

    // A shop is never shut for ten years on end; a day whose every stretch is shorter than the measuring may follow another for long.
    private const int DaysLookedAt = 3_660;

    /// <summary>
    /// A start is useful if the shop is open then and some open stretch holds a whole measuring time inside 23 to 25 h later. Hours are
    /// elapsed time, also over a clock change.
    /// </summary>
    /// <returns>null where no start of the next ten years is useful.</returns>
    public static StaticStart? At(Instant moment, ShopCalendar calendar, Duration measuring)
    {
        var today = calendar.DateOf(moment);
        Instant? earliest = null, latest = null;
        var useful = false;
        foreach (var (from, through) in Starts(today, calendar, measuring))
        {
            if (through < moment)
            {
                continue;
            }

            useful |= from <= moment;
            if (calendar.DateOf(from) == today)
            {
                earliest ??= Instant.Max(from, moment);
                latest = through;
                continue;
            }

            return new StaticStart(useful, earliest, latest, from);
        }

        return null;
    }

    /// <summary>When the second set is measured: the open moment nearest after 24 h, else an earlier one from 23 h on, else when the shop opens again.</summary>
    public static Instant TaskOf(Instant startedAt, ShopCalendar calendar)
    {
        var afterADay = calendar.NextOpening(startedAt + Duration.FromHours(24));
        var sooner = calendar.NextOpening(startedAt + Earliest);
        return afterADay <= startedAt + Latest || sooner > startedAt + Latest ? afterADay : sooner;
    }

    // The useful stretches from a date on, in order. A second set fits into [opens, closes] for starts from opens + m − 25 h to closes − m − 23 h.
    private static IEnumerable<(Instant From, Instant Through)> Starts(LocalDate date, ShopCalendar calendar, Duration measuring)
    {
        for (var i = 0; i < DaysLookedAt; i++)
        {
            var day = date.PlusDays(i);
            var ends = new[] { day, day.PlusDays(1), day.PlusDays(2) }.SelectMany(calendar.OpenTimes).Where(open => open.Through - open.From >= measuring).ToList();
            foreach (var open in calendar.OpenTimes(day))
            {
                foreach (var stretch in Joined(ends
                    .Select(end => (From: Instant.Max(open.From, end.From + measuring - Latest), Through: Instant.Min(open.Through, end.Through - measuring - Earliest)))
                    .Where(stretch => stretch.From <= stretch.Through)))
                {
                    yield return stretch;
                }
            }
        }
    }

    private static IEnumerable<(Instant From, Instant Through)> Joined(IEnumerable<(Instant From, Instant Through)> stretches)
    {
        (Instant From, Instant Through)? last = null;
        foreach (var next in stretches.OrderBy(stretch => stretch.From))
        {
            if (last is { } before && next.From > before.Through)
            {
                yield return before;
                last = next;
            }
            else
            {
                last = last is { } one ? (one.From, Instant.Max(one.Through, next.Through)) : next;
            }
        }

        if (last is { } rest)
        {
            yield return rest;
        }
    }
}
