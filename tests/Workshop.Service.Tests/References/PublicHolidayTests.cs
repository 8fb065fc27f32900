using System.Collections.Immutable;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Promises;
using Workshop.Core.Shop;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Tests.References;

/// <summary>
/// Published public holidays, and working days counted over them, as the service computes them; sources and how sure they are:
/// tests/Workshop.Tests/References/SOURCES.md, "Public holidays".
/// </summary>
public class PublicHolidayTests
{
    private static readonly Closure TurnOfTheYear = new(new(2025, 12, 24), new(2026, 1, 4));

    [Theory]
    [InlineData(2025, "04-18 04-21", 255)]
    [InlineData(2026, "04-03 04-06", 256)]
    [InlineData(2027, "03-26 03-29", 258)]
    [InlineData(2028, "04-14 04-17", 255)]
    public void Ecb_closing_days_of_target(int year, string aboutEaster, int openDays)
    {
        Assert.Equal(Days(year, $"01-01 {aboutEaster} 05-01 12-25 12-26"), DatesOf("TARGET", year));
        Assert.Equal(openDays, OpenDaysOf("TARGET", year));
    }

    [Theory]
    [InlineData(2025, "01-01 04-18 04-21 05-05 05-26 08-25 12-25 12-26", 253)]
    [InlineData(2026, "01-01 04-03 04-06 05-04 05-25 08-31 12-25 12-28", 253)]
    [InlineData(2027, "01-01 03-26 03-29 05-03 05-31 08-30 12-27 12-28", 253)]
    [InlineData(2028, "01-03 04-14 04-17 05-01 05-29 08-28 12-25 12-26", 252)]
    public void Gov_uk_bank_holidays_of_England_and_Wales(int year, string days, int workingDays)
    {
        Assert.Equal(Days(year, days), DatesOf("GB-ENG", year));
        Assert.Equal(Days(year, days), DatesOf("GB-WLS", year));
        Assert.Equal(workingDays, OpenDaysOf("GB-ENG", year));
    }

    [Theory]
    [InlineData(2025, "01-01 04-18 04-21 05-01 05-29 06-09 10-03 12-25 12-26")]
    [InlineData(2026, "01-01 04-03 04-06 05-01 05-14 05-25 10-03 12-25 12-26")]
    [InlineData(2027, "01-01 03-26 03-29 05-01 05-06 05-17 10-03 12-25 12-26")]
    [InlineData(2028, "01-01 04-14 04-17 05-01 05-25 06-05 10-03 12-25 12-26")]
    public void Germany_has_nine_days_in_all_states_and_no_substitutes(int year, string days)
    {
        Assert.Equal(Days(year, days), DatesOf("DE", year));
        Assert.All(HolidayRegions.All.Where(one => one.Id.StartsWith("DE-", StringComparison.Ordinal)), state => Assert.Subset(DatesOf(state.Id, year).ToHashSet(), Days(year, days).ToHashSet()));
    }

    [Fact]
    public void There_are_sixteen_german_states_and_twenty_six_cantons()
    {
        Assert.Equal(16, HolidayRegions.All.Count(one => one.Id.StartsWith("DE-", StringComparison.Ordinal)));
        Assert.Equal(26, HolidayRegions.All.Count(one => one.Id.StartsWith("CH-", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("DE-BW", 2025, "01-06 06-19 11-01")]
    [InlineData("DE-BW", 2026, "01-06 06-04 11-01")]
    [InlineData("DE-BW", 2027, "01-06 05-27 11-01")]
    [InlineData("DE-BW", 2028, "01-06 06-15 11-01")]
    [InlineData("DE-SN", 2025, "10-31 11-19")]
    [InlineData("DE-SN", 2026, "10-31 11-18")]
    [InlineData("DE-SN", 2027, "10-31 11-17")]
    [InlineData("DE-SN", 2028, "10-31 11-22")]
    [InlineData("DE-BE", 2025, "03-08 05-08")]
    [InlineData("DE-BE", 2026, "03-08")]
    [InlineData("DE-BE", 2028, "03-08 06-17")]
    public void German_states_add_days_of_their_own(string state, int year, string days) =>
        Assert.Equal(Days(year, days), DatesOf(state, year).Except(DatesOf("DE", year)));

    [Theory]
    [InlineData(2025, "05-29")]
    [InlineData(2026, "05-14")]
    [InlineData(2027, "05-06")]
    [InlineData(2028, "05-25")]
    public void Every_swiss_canton_has_four_days_in_common_from_memory(int year, string ascension)
    {
        var common = Days(year, $"01-01 {ascension} 08-01 12-25");

        Assert.Equal(common, DatesOf("CH", year));
        Assert.All(HolidayRegions.All.Where(one => one.Id.StartsWith("CH-", StringComparison.Ordinal)), canton => Assert.Subset(DatesOf(canton.Id, year).ToHashSet(), common.ToHashSet()));
    }

    [Theory]
    [InlineData("GB-ENG", "2026-04-01", 5, "2026-04-10")]
    [InlineData("GB-ENG", "2026-12-24", 1, "2026-12-29")]
    [InlineData("GB-ENG", "2027-12-24", 1, "2027-12-29")]
    [InlineData("GB-ENG", "2027-12-31", 1, "2028-01-04")]
    [InlineData("GB-ENG", "2025-12-19", 10, "2026-01-07")]
    [InlineData("DE-BW", "2025-12-19", 10, "2026-01-08")]
    [InlineData("DE", "2026-04-30", 1, "2026-05-04")]
    [InlineData("DE", "2026-10-02", 1, "2026-10-05")]
    [InlineData("DE-BW", "2026-05-13", 2, "2026-05-18")]
    [InlineData("TARGET", "2026-12-24", 1, "2026-12-28")]
    public void Working_days_leave_out_the_holidays_of_the_region(string region, string start, int days, string expected) =>
        Assert.Equal(Date(expected), ShopIn(region).OpenDayAfter(Date(start), days));

    [Theory]
    [InlineData(null, false, "2026-01-12")]
    [InlineData(null, true, "2026-01-22")]
    [InlineData("DE", false, "2026-01-15")]
    [InlineData("GB-ENG", false, "2026-01-15")]
    [InlineData("DE-BW", false, "2026-01-16")]
    [InlineData("CH-ZH", false, "2026-01-16")]
    [InlineData("DE", true, "2026-01-22")]
    [InlineData("GB-ENG", true, "2026-01-22")]
    [InlineData("CH-ZH", true, "2026-01-22")]
    [InlineData("DE-BW", true, "2026-01-23")]
    [InlineData("AT", true, "2026-01-23")]
    [InlineData("CH-TI", true, "2026-01-23")]
    public void Twenty_working_days_from_15_December_2025(string? region, bool shut, string expected)
    {
        var shop = ShopIn(region, shut ? [TurnOfTheYear] : []);

        Assert.Equal(Date(expected), PromiseArithmetic.Given(Instant.FromUtc(2025, 12, 15, 10, 0), 20, 4, shop).On);
    }

    [Fact]
    public void The_services_good_friday_is_that_of_the_library()
    {
        for (var year = HolidayRegions.Earliest; year <= HolidayRegions.Latest; year++)
        {
            Assert.Contains(Easter.Sunday(year).PlusDays(-2), DatesOf("DE", year));
            Assert.Contains(Easter.Sunday(year).PlusDays(50), DatesOf("DE", year));
        }
    }

    [Fact]
    public void Every_region_has_named_days_in_every_year_that_a_calendar_keeps()
    {
        Assert.All(HolidayRegions.All, region =>
        {
            var days = HolidayRegions.DatesOf(region.Id, HolidayRegions.Earliest, HolidayRegions.Latest);

            Assert.All(Enumerable.Range(2023, 16), year => Assert.InRange(days.Count(day => day.Date.Year == year), 4, 25));
            Assert.All(days, day => Assert.NotEmpty(day.Name));
            Assert.Equal(days.Select(day => day.Date).Distinct().Order(), days.Select(day => day.Date));
        });
    }

    [Theory]
    [InlineData("DE", "DE-BW", "DE-SN", "DE-NW", "AT", "FR", "IE", "GB-ENG")]
    public void The_regions_on_which_two_lists_agree_are_in_no_doubt(params string[] regions) =>
        Assert.All(regions, region => Assert.Null(HolidayRegions.Find(region)!.Disagreement));

    [Fact]
    public void The_regions_on_which_two_lists_disagree_say_so()
    {
        string[] inDoubt =
        [
            "DE-BY", "CH", "CH-AG", "CH-AI", "CH-AR", "CH-FR", "CH-GE", "CH-GL", "CH-GR", "CH-JU", "CH-LU", "CH-NE", "CH-NW", "CH-OW", "CH-SH", "CH-SO", "CH-TI", "CH-UR", "CH-VS",
            "CH-VD", "CH-ZG", "CH-ZH", "GB-SCT", "IT", "PT", "NL", "DK", "SE", "SK", "US", "JP", "CA-ON", "CA-QC", "CA-BC",
        ];

        Assert.All(inDoubt, region => Assert.NotNull(HolidayRegions.Find(region)!.Disagreement));
        Assert.All(["CH-BE", "CH-BL", "CH-BS", "CH-SG", "CH-SZ", "CH-TG"], region => Assert.Null(HolidayRegions.Find(region)!.Disagreement));
    }

    private static LocalDate[] DatesOf(string region, int year) => [.. HolidayRegions.DatesOf(region, year, year).Select(day => day.Date)];

    private static int OpenDaysOf(string region, int year) => ShopIn(region).OpenDaysBetween(new LocalDate(year, 1, 1).PlusDays(-1), new LocalDate(year, 12, 31));

    private static ShopCalendar ShopIn(string? region, params Closure[] closures) => new(
        DateTimeZoneProviders.Tzdb["Europe/Zurich"],
        Enumerable.Range(1, 5).ToDictionary(day => (IsoDayOfWeek)day, _ => ImmutableArray.Create(new OpenSpan(new LocalTime(9, 0), new LocalTime(18, 0)))),
        closures,
        holidays: region is null ? [] : HolidayRegions.DatesOf(region, 2024, 2029));

    private static LocalDate[] Days(int year, string monthsAndDays) => [.. monthsAndDays.Split(' ').Select(day => Date($"{year}-{day}"))];

    private static LocalDate Date(string text) => LocalDatePattern.Iso.Parse(text).Value;
}
