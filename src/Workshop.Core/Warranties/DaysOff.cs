using System.Collections.Frozen;
using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Shop;

namespace Workshop.Core.Warranties;

/// <summary>Why a day does not count as a last day.</summary>
internal enum DayOff
{
    Weekend,
    Holiday,
    Closed,
}

/// <summary>
/// Days that do not count as a last day: frozen when the warranty begins, so that no calendar is asked when a job is folded, and a day
/// that was promised does not move because the calendar did.
/// </summary>
public sealed record DaysOff
{
    /// <summary>How long after the nominal last day the calendar is looked at: claims may move a last day as far.</summary>
    private static readonly Period LookedAhead = Period.FromYears(2);

    public RollWhen When { get; init; }

    public ImmutableArray<IsoDayOfWeek> Weekdays { get; init; } = [];

    /// <summary>Days off besides these weekdays, in order.</summary>
    public ImmutableArray<LocalDate> Dates { get; init; } = [];

    /// <summary>Days that count although their weekday does not, in order.</summary>
    public ImmutableArray<LocalDate> Open { get; init; } = [];

    /// <summary>The last date for which more than weekdays was known; null where nothing was.</summary>
    public LocalDate? KnownThrough { get; init; }

    /// <summary>Looks the days up that may matter to a term with this nominal last day.</summary>
    /// <param name="holidays">Public holidays by region; under <see cref="RollRules.ShopCalendar"/> those of the shop's own.</param>
    /// <returns>Null where nothing rolls.</returns>
    public static DaysOff? LookUp(
        WarrantyRuleSet rules, LocalDate nominal, ShopCalendar calendar, FrozenDictionary<string, ImmutableSortedSet<LocalDate>> holidays)
    {
        var through = nominal + (rules.Extension.Fixed ?? Period.Zero) + LookedAhead;
        return rules.Roll.When switch
        {
            RollWhen.Never => null,
            RollWhen.ClosedDay => OfShop(calendar, nominal, through),
            RollWhen.WeekendOrHoliday => OfRegion(holidays.GetValueOrDefault(rules.Roll.Calendar, []), nominal, through),
        };
    }

    /// <summary>The first day from this one on that counts.</summary>
    public LocalDate Roll(LocalDate day)
    {
        while (Has(day))
        {
            day = day.PlusDays(1);
        }

        return day;
    }

    public bool Has(LocalDate day) => Dates.BinarySearch(day) >= 0 || (Weekdays.Contains(day.DayOfWeek) && Open.BinarySearch(day) < 0);

    /// <summary>Why this day does not count.</summary>
    internal DayOff WhyNot(LocalDate day) =>
        When == RollWhen.ClosedDay ? DayOff.Closed : Weekdays.Contains(day.DayOfWeek) ? DayOff.Weekend : DayOff.Holiday;

    private static DaysOff OfShop(ShopCalendar calendar, LocalDate from, LocalDate through)
    {
        var shut = Enum.GetValues<IsoDayOfWeek>().Where(day => day != IsoDayOfWeek.None && !calendar.Week.ContainsKey(day)).ToImmutableArray();
        var unusual = Enumerable.Range(0, Period.DaysBetween(from, through) + 1).Select(from.PlusDays).Where(day => calendar.IsOpenDay(day) == shut.Contains(day.DayOfWeek)).ToLookup(calendar.IsOpenDay);
        return new DaysOff { When = RollWhen.ClosedDay, Weekdays = shut, Dates = [.. unusual[false]], Open = [.. unusual[true]], KnownThrough = through };
    }

    private static DaysOff OfRegion(ImmutableSortedSet<LocalDate> holidays, LocalDate from, LocalDate through) => new()
    {
        When = RollWhen.WeekendOrHoliday,
        Weekdays = [IsoDayOfWeek.Saturday, IsoDayOfWeek.Sunday],
        Dates = [.. holidays.Where(day => from <= day && day <= through && day.DayOfWeek < IsoDayOfWeek.Saturday)],
        KnownThrough = holidays.IsEmpty ? null : LocalDate.Min(through, new LocalDate(holidays.Max.Year, 12, 31)),
    };
}
