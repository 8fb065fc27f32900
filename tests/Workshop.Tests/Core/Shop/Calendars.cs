using System.Collections.Immutable;
using CsCheck;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Shop;

namespace Workshop.Tests.Core.Shop;

/// <summary>Calendars and moments the tests speak of.</summary>
public static class Calendars
{
    private static readonly LocalDate FirstDay = new(2025, 1, 1);

    private static readonly LocalDateTimePattern Moment = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd HH:mm");

    private static readonly string[] ZonesWithOddClocks =
        ["Europe/Zurich", "Pacific/Auckland", "Asia/Tokyo", "Africa/Casablanca", "Australia/Lord_Howe", "Africa/Cairo", "America/St_Johns"];

    /// <summary>Monday to Friday, 9 to 18.</summary>
    public static ShopCalendar MondayToFriday(string zone = "Europe/Zurich", params Closure[] closures) =>
        new(DateTimeZoneProviders.Tzdb[zone], Week(Hours("09:00", "18:00")), closures);

    /// <summary>Monday to Friday with a lunch break from 12 to 13, Fridays until 15.</summary>
    public static ShopCalendar WithLunch()
    {
        var week = Week(Hours("09:00", "12:00", "13:00", "18:00"));
        week[IsoDayOfWeek.Friday] = Hours("09:00", "12:00", "13:00", "15:00");
        return new(DateTimeZoneProviders.Tzdb["Europe/Zurich"], week);
    }

    public static Closure TurnOfTheYear { get; } = new(new(2025, 12, 24), new(2026, 1, 4), "turn of the year");

    public static Dictionary<IsoDayOfWeek, ImmutableArray<OpenSpan>> Week(ImmutableArray<OpenSpan> hours) =>
        Enumerable.Range(1, 5).ToDictionary(day => (IsoDayOfWeek)day, _ => hours);

    /// <summary>Pairs of opening and closing, <c>HH:mm</c>.</summary>
    public static ImmutableArray<OpenSpan> Hours(params string[] times) =>
        [.. times.Chunk(2).Select(pair => new OpenSpan(Time(pair[0]), Time(pair[1])))];

    /// <summary>A moment by the clock on the shop's wall.</summary>
    public static Instant At(this ShopCalendar calendar, string local) =>
        Moment.Parse(local).Value.InZoneStrictly(calendar.Zone).ToInstant();

    /// <summary>What the clock on the shop's wall shows.</summary>
    public static string Wall(this ShopCalendar calendar, Instant moment) => Moment.Format(moment.InZone(calendar.Zone).LocalDateTime);

    public static LocalDate Date(string text) => LocalDatePattern.Iso.Parse(text).Value;

    /// <summary>Calendars with one to seven open days, one or two stretches a day, closures and extra open days.</summary>
    public static Gen<ShopCalendar> Any { get; } =
        from zone in Gen.Int[0, ZonesWithOddClocks.Length - 1].Select(i => ZonesWithOddClocks[i])
        from days in Gen.Int[1, 127]
        from opens in Gen.Int[0, 11 * 60]
        from minutes in Gen.Int[30, 5 * 60]
        from pause in Gen.Int[0, 90]
        from twice in Gen.Bool
        from closures in Gen.Select(Gen.Int[0, 800], Gen.Int[0, 40]).Array[0, 4]
        from extra in Gen.Int[0, 800].Array[0, 2]
        let first = Span(opens, minutes)
        let hours = twice ? ImmutableArray.Create(first, Span(opens + minutes + pause, minutes)) : [first]
        select new ShopCalendar(
            DateTimeZoneProviders.Tzdb[zone],
            Enumerable.Range(1, 7).Where(day => (days >> (day - 1) & 1) == 1).ToDictionary(day => (IsoDayOfWeek)day, _ => hours),
            closures.Select(one => new Closure(FirstDay.PlusDays(one.Item1), FirstDay.PlusDays(one.Item1 + one.Item2))),
            extra.Distinct().ToDictionary(FirstDay.PlusDays, _ => hours));

    /// <summary>Moments of the two years the closures of <see cref="Any"/> fall into, to the minute.</summary>
    public static Gen<Instant> AnyMoment { get; } =
        Gen.Int[0, 800 * 24 * 60].Select(minutes => FirstDay.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant() + Duration.FromMinutes(minutes));

    public static Gen<LocalDate> AnyDate { get; } = Gen.Int[0, 800].Select(FirstDay.PlusDays);

    private static OpenSpan Span(int opens, int minutes) =>
        new(LocalTime.FromMinutesSinceMidnight(opens), LocalTime.FromMinutesSinceMidnight(opens + minutes));

    private static LocalTime Time(string text) => LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(text).Value;
}
