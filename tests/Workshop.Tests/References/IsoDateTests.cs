using System.Globalization;
using NodaTime;
using NodaTime.Calendars;
using NodaTime.Text;
using Workshop.Core.Warranties;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.References;

/// <summary>Durations and week dates of ISO 8601 as the program computes them; sources and how sure they are: SOURCES.md, "Durations and weeks".</summary>
public class IsoDateTests
{
    // Computed: months are those of the calendar; 24 of them are no 730 days.
    [Theory]
    [InlineData("2023-03-01", "P24M", "2025-03-01")]
    [InlineData("2023-03-01", "P2Y", "2025-03-01")]
    [InlineData("2023-03-01", "P730D", "2025-02-28")]
    [InlineData("2024-02-29", "P730D", "2026-02-28")]
    [InlineData("2024-02-29", "P24M", "2026-02-28")]
    [InlineData("2024-02-29", "P1Y", "2025-02-28")]
    [InlineData("2024-02-29", "P12M", "2025-02-28")]
    // NodaTime 3.3.7, LocalDate.PlusMonths, the example of its documentation (read).
    [InlineData("2011-01-30", "P1M", "2011-02-28")]
    public void A_term_is_added_by_the_calendar(string from, string term, string lastDay) =>
        Assert.Equal(Date(lastDay), WarrantyDateTests.Line("plain", from, term).LastDay);

    // Computed: 31 January and one month, and one month, is 28 March; two months are 31 March. So a last day comes from the start, never from steps.
    [Fact]
    public void Months_added_one_by_one_lose_the_end_of_the_month()
    {
        var start = Date("2025-01-31");

        Assert.Equal(Date("2025-03-28"), WarrantyArithmetic.LastDay(WarrantyArithmetic.LastDay(start, Period.FromMonths(1)), Period.FromMonths(1)));
        Assert.Equal(Date("2025-03-31"), WarrantyArithmetic.LastDay(start, Period.FromMonths(2)));
    }

    // Computed.
    [Fact]
    public void Between_two_dates_lies_a_year_or_a_month_also_where_the_month_is_short()
    {
        Assert.Equal(Period.FromYears(1), Period.Between(Date("2024-02-29"), Date("2025-02-28")));
        Assert.Equal(Period.FromMonths(1), Period.Between(Date("2025-01-31"), Date("2025-02-28")));
    }

    // The runtime's own calendars, over the table of the periods: computed with another library.
    [Theory]
    [InlineData("2025-01-31", 1)]
    [InlineData("2024-01-31", 1)]
    [InlineData("2025-12-31", 2)]
    [InlineData("2024-02-29", 12)]
    [InlineData("2024-02-29", 24)]
    [InlineData("2024-02-29", 48)]
    [InlineData("2025-08-31", 6)]
    [InlineData("2025-02-28", 1)]
    [InlineData("1978-09-30", 4)]
    [InlineData("2025-04-03", 12)]
    public void The_runtimes_months_end_on_the_same_day(string from, int months)
    {
        var last = WarrantyArithmetic.LastDay(Date(from), Period.FromMonths(months));

        Assert.Equal(DateOnly.ParseExact(from, "O", CultureInfo.InvariantCulture).AddMonths(months), last.ToDateOnly());
        Assert.Equal(DateTime.ParseExact(from, "yyyy-MM-dd", CultureInfo.InvariantCulture).AddMonths(months), last.ToDateTimeUnspecified());
    }

    // Computed; the rule that PT24H is no P1D follows from it. Times by the IANA database as NodaTime 3.3.7 carries it (read).
    [Theory]
    [InlineData("2026-03-28 12:00", 23)]
    [InlineData("2026-10-24 12:00", 25)]
    [InlineData("2026-06-24 12:00", 24)]
    public void From_noon_to_noon_are_not_always_24_hours_and_a_warranty_day_is_a_date(string noon, int hours)
    {
        var calendar = MondayToFriday();
        var from = calendar.At(noon);
        var next = calendar.At($"{LocalDatePattern.Iso.Format(calendar.DateOf(from).PlusDays(1))} 12:00");

        Assert.Equal(Duration.FromHours(hours), next - from);
        Assert.Equal(calendar.DateOf(from).PlusDays(1), WarrantyArithmetic.LastDay(calendar.DateOf(from), Period.FromDays(1)));
        Assert.Throws<ArgumentException>(() => WarrantyArithmetic.LastDay(calendar.DateOf(from), Period.FromHours(24)));
    }

    // Computed.
    [Fact]
    public void The_last_minute_of_a_last_day_is_the_workshops_own()
    {
        var calendar = MondayToFriday();

        Assert.Equal(Instant.FromUtc(2026, 3, 29, 22, 0), calendar.EndOfDay(Date("2026-03-29")));
        Assert.Equal(Instant.FromUtc(2026, 3, 28, 23, 0), calendar.EndOfDay(Date("2026-03-28")));
        Assert.Equal(Instant.FromUtc(2026, 10, 25, 23, 0), calendar.EndOfDay(Date("2026-10-25")));
    }

    // ISO 8601 week dates, computed with Python's isocalendar; here by NodaTime and by the runtime.
    [Theory]
    [InlineData("2024-12-29", 2024, 52, 7)]
    [InlineData("2024-12-30", 2025, 1, 1)]
    [InlineData("2025-12-29", 2026, 1, 1)]
    [InlineData("2026-12-31", 2026, 53, 4)]
    [InlineData("2027-01-01", 2026, 53, 5)]
    [InlineData("2027-01-03", 2026, 53, 7)]
    [InlineData("2027-01-04", 2027, 1, 1)]
    [InlineData("2028-01-01", 2027, 52, 6)]
    [InlineData("2028-01-03", 2028, 1, 1)]
    public void A_date_has_its_week_date(string date, int year, int week, int day)
    {
        var (local, runtime) = (Date(date), DateOnly.ParseExact(date, "O", CultureInfo.InvariantCulture).ToDateTime(TimeOnly.MinValue));

        Assert.Equal((year, week, day), (WeekYearRules.Iso.GetWeekYear(local), WeekYearRules.Iso.GetWeekOfWeekYear(local), (int)local.DayOfWeek));
        Assert.Equal((year, week), (ISOWeek.GetYear(runtime), ISOWeek.GetWeekOfYear(runtime)));
        Assert.Equal(local, LocalDate.FromWeekYearWeekAndDay(year, week, (IsoDayOfWeek)day));
    }

    [Fact]
    public void Of_the_years_2020_to_2027_those_with_53_weeks_are_2020_and_2026() =>
        Assert.Equal([2020, 2026], Enumerable.Range(2020, 8).Where(year => ISOWeek.GetWeeksInYear(year) == 53 && WeekYearRules.Iso.GetWeeksInWeekYear(year) == 53));
}
