using NodaTime;
using NodaTime.Text;
using Workshop.Core.Warranties;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.References;

/// <summary>Published rules and cases on the end of a period in months; sources and how sure they are: SOURCES.md, "Periods".</summary>
public class WarrantyDateTests
{
    // Event day not counted, like-numbered day, end of a short month: Regulation (EEC, Euratom) No 1182/71, art. 3(1), 3(2)(c); BGB 187(1), 188(2), 188(3).
    [Theory]
    [InlineData("2025-01-31", "P1M", "2025-02-28")]
    [InlineData("2024-01-31", "P1M", "2024-02-29")]
    [InlineData("2025-12-31", "P2M", "2026-02-28")]
    [InlineData("2024-02-29", "P12M", "2025-02-28")]
    [InlineData("2024-02-29", "P24M", "2026-02-28")]
    [InlineData("2024-02-29", "P48M", "2028-02-29")]
    [InlineData("2025-08-31", "P6M", "2026-02-28")]
    [InlineData("2025-02-28", "P1M", "2025-03-28")]
    [InlineData("2025-03-01", "P24M", "2027-03-01")]
    // Nominal end only: 3 April 2026 is Good Friday, and this rule set rolls no last day on.
    [InlineData("2025-04-03", "P12M", "2026-04-03")]
    // Dodds v Walker [1981] UKHL: four months from 30 September end on 30 January; 31 January was one day late.
    [InlineData("1978-09-30", "P4M", "1979-01-30")]
    // Court of Justice, 11 November 2004, C-171/03 Toeters: weeks run from the day of the event.
    [InlineData("1998-03-12", "P3W", "1998-04-02")]
    // A month is no number of days, a year no 365: P24M is not P730D.
    [InlineData("2023-03-01", "P24M", "2025-03-01")]
    [InlineData("2023-03-01", "P2Y", "2025-03-01")]
    [InlineData("2023-03-01", "P730D", "2025-02-28")]
    // NodaTime 3.3.7, LocalDate.PlusMonths, the example of its documentation.
    [InlineData("2011-01-30", "P1M", "2011-02-28")]
    public void A_period_ends_with_the_like_numbered_day_of_its_last_month(string handedOver, string term, string lastDay)
    {
        var warranty = WarrantyArithmetic.Begin(new("movement", PeriodPattern.NormalizingIso.Parse(term).Value), Date(handedOver));

        Assert.Equal(Date(lastDay), warranty.LastDay);
    }

    // Computed: 3 to 24 March 2025 are 21 days as a difference of dates; law differs on whether both end days count.
    [Fact]
    public void Twenty_one_days_in_the_house_move_1_June_to_22_June()
    {
        var term = WarrantyArithmetic.Begin(new("movement", Period.FromMonths(24)), Date("2024-06-01"));
        var claim = new WarrantyClaim { Number = 1, Covered = true, Stays = [new(Date("2025-03-03"), Date("2025-03-24"))] };

        var line = WarrantyArithmetic.Lines([term], [claim])[0];

        Assert.Equal((Date("2026-06-01"), 21, Date("2026-06-22")), (line.NominalLastDay, line.ExtensionDays, line.LastDay));
    }
}
