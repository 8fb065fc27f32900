using NodaTime;
using Workshop.Core.Promises;
using Workshop.Core.Shop;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.References;

/// <summary>Working days over published public holidays; sources and how sure they are: SOURCES.md, "Working days" and "Clock changes".</summary>
public class WorkingDayTests
{
    private static readonly Dictionary<string, string[]> Holidays = new()
    {
        ["England and Wales"] =
        [
            "2025-12-25", "2025-12-26", "2026-01-01", "2026-04-03", "2026-04-06", "2026-05-04", "2026-05-25", "2026-08-31", "2026-12-25", "2026-12-28",
            "2027-01-01", "2027-12-27", "2027-12-28", "2028-01-03",
        ],
        ["Germany"] =
        [
            "2025-12-25", "2025-12-26", "2026-01-01", "2026-04-03", "2026-04-06", "2026-05-01", "2026-05-14", "2026-05-25", "2026-10-03", "2026-12-25", "2026-12-26",
        ],
        ["Baden-Württemberg"] =
        [
            "2025-12-25", "2025-12-26", "2026-01-01", "2026-01-06", "2026-04-03", "2026-04-06", "2026-05-01", "2026-05-14", "2026-05-25", "2026-06-04",
        ],
        ["Zürich"] = ["2025-12-25", "2025-12-26", "2026-01-01", "2026-01-02"],
        ["TARGET"] = ["2026-12-25", "2026-12-26", "2027-01-01"],
    };

    [Theory]
    [InlineData("England and Wales", "2026-04-01", 5, "2026-04-10")]
    [InlineData("England and Wales", "2026-12-24", 1, "2026-12-29")]
    [InlineData("England and Wales", "2027-12-24", 1, "2027-12-29")]
    [InlineData("England and Wales", "2027-12-31", 1, "2028-01-04")]
    [InlineData("England and Wales", "2025-12-19", 10, "2026-01-07")]
    [InlineData("Baden-Württemberg", "2025-12-19", 10, "2026-01-08")]
    [InlineData("Germany", "2026-04-30", 1, "2026-05-04")]
    [InlineData("Germany", "2026-10-02", 1, "2026-10-05")]
    [InlineData("Baden-Württemberg", "2026-05-13", 2, "2026-05-18")]
    [InlineData("TARGET", "2026-12-24", 1, "2026-12-28")]
    public void Working_days_leave_out_weekends_and_public_holidays(string region, string start, int days, string expected) =>
        Assert.Equal(Date(expected), ShopIn(region).OpenDayAfter(Date(start), days));

    [Theory]
    [InlineData("Germany", false, "2026-01-15")]
    [InlineData("England and Wales", false, "2026-01-15")]
    [InlineData("Baden-Württemberg", false, "2026-01-16")]
    [InlineData("Zürich", false, "2026-01-16")]
    [InlineData("Germany", true, "2026-01-22")]
    [InlineData("England and Wales", true, "2026-01-22")]
    [InlineData("Zürich", true, "2026-01-22")]
    [InlineData("Baden-Württemberg", true, "2026-01-23")]
    public void Twenty_working_days_from_15_December_2025_depend_on_the_region(string region, bool shutAtTheTurnOfTheYear, string expected)
    {
        var shop = ShopIn(region, shutAtTheTurnOfTheYear ? [TurnOfTheYear] : []);

        Assert.Equal(Date(expected), PromiseArithmetic.Given(shop.At("2025-12-15 11:00"), 20, 4, shop).On);
    }

    // IANA time zone database, as NodaTime 3.3.7 carries it.
    [Theory]
    [InlineData("2026-03-28 12:00", "2026-03-29 12:00", 23)]
    [InlineData("2026-10-24 12:00", "2026-10-25 12:00", 25)]
    public void From_noon_to_noon_over_a_clock_change_are_not_24_hours(string from, string until, int hours)
    {
        var shop = MondayToFriday();

        Assert.Equal(Duration.FromHours(hours), shop.At(until) - shop.At(from));
    }

    [Fact]
    public void The_day_the_clocks_went_forward_in_Zurich_ended_at_22_UTC() =>
        Assert.Equal(Instant.FromUtc(2026, 3, 29, 22, 0), MondayToFriday().EndOfDay(Date("2026-03-29")));

    private static ShopCalendar ShopIn(string region, params Closure[] closures) =>
        MondayToFriday("Europe/Zurich", [.. closures, .. Holidays[region].Select(day => new Closure(Date(day), Date(day)))]);
}
