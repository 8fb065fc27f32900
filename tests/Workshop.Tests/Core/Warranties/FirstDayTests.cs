using NodaTime;
using NodaTime.Text;
using Workshop.Core.Warranties;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.Core.Warranties;

/// <summary>A term whose first day counts ends on the day before the like-numbered one; two short ways to that are each wrong somewhere.</summary>
public class FirstDayTests
{
    // BGB 187(2), 188(2), 188(3), wording from memory: the last column is what each of the two short ways gives.
    [Theory]
    [InlineData("2025-03-01", "P24M", "2027-02-28", "2027-02-28", "2027-02-28")]
    [InlineData("2025-08-29", "P6M", "2026-02-28", "2026-02-27", "2026-02-28")]
    [InlineData("2025-08-30", "P6M", "2026-02-28", "2026-02-27", "2026-02-28")]
    [InlineData("2025-08-31", "P6M", "2026-02-28", "2026-02-27", "2026-02-28")]
    [InlineData("2024-02-29", "P24M", "2026-02-28", "2026-02-27", "2026-02-28")]
    [InlineData("2025-01-31", "P1M", "2025-02-28", "2025-02-27", "2025-02-28")]
    [InlineData("2023-03-01", "P12M", "2024-02-29", "2024-02-29", "2024-02-28")]
    public void The_last_day_lies_before_the_like_numbered_one(string first, string term, string lastDay, string monthsFirst, string dayFirst)
    {
        var months = PeriodPattern.NormalizingIso.Parse(term).Value;

        Assert.Equal(Date(lastDay), WarrantyArithmetic.LastDay(Date(first), months, FirstDay.Counted));
        Assert.Equal((Date(monthsFirst), Date(dayFirst)), ((Date(first) + months).PlusDays(-1), Date(first).PlusDays(-1) + months));
    }

    [Fact]
    public void It_is_the_later_of_the_two_short_ways_on_every_day_of_twelve_years_and_for_every_term_to_sixty_months()
    {
        var (begin, end) = (new LocalDate(2019, 1, 1), new LocalDate(2030, 12, 31));
        var (compared, monthsWrong, dayWrong) = (0, 0, 0);
        for (var first = begin; first <= end; first = first.PlusDays(1))
        {
            for (var months = 1; months <= 60; months++)
            {
                var (monthsFirst, dayFirst) = (first.PlusMonths(months).PlusDays(-1), first.PlusDays(-1).PlusMonths(months));
                var last = WarrantyArithmetic.LastDay(first, Period.FromMonths(months), FirstDay.Counted);
                Assert.Equal(LocalDate.Max(monthsFirst, dayFirst), last);
                compared++;
                monthsWrong += last == monthsFirst ? 0 : 1;
                dayWrong += last == dayFirst ? 0 : 1;
            }
        }

        Assert.Equal(4_383 * 60, compared);
        Assert.True(monthsWrong > 0 && dayWrong > 0, "neither short way would have been wrong");
    }

    [Theory]
    [InlineData("P1D", "2026-03-02")]
    [InlineData("P2W", "2026-03-15")]
    [InlineData("P1M10D", "2026-04-11")]
    public void Weeks_and_days_count_the_first_day_too(string term, string lastDay) =>
        Assert.Equal(Date(lastDay), WarrantyArithmetic.LastDay(Date("2026-03-02"), PeriodPattern.Roundtrip.Parse(term).Value, FirstDay.Counted));
}
