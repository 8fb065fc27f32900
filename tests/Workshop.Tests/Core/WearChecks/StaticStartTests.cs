using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Shop;
using Workshop.Core.WearChecks;
using Workshop.Tests.Core.Shop;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.Core.WearChecks;

public class StaticStartTests
{
    private static readonly Duration TwentyMinutes = Duration.FromMinutes(20);

    [Fact]
    public void Before_a_day_that_closes_at_three_the_last_useful_start_is_twenty_to_four()
    {
        // Thursday; the shop closes at 15:00 on Fridays.
        var shop = WithLunch();
        var start = StaticStart.At(shop.At("2025-03-13 14:00"), shop, TwentyMinutes)!;

        Assert.True(start.Useful);
        Assert.Equal("2025-03-13 15:40", shop.Wall(start.LatestToday!.Value));
        Assert.True(StaticStart.At(shop.At("2025-03-13 15:40"), shop, TwentyMinutes)!.Useful);
        Assert.False(StaticStart.At(shop.At("2025-03-13 15:41"), shop, TwentyMinutes)!.Useful);
    }

    [Fact]
    public void On_a_Friday_evening_the_next_useful_start_is_Monday_at_opening()
    {
        var shop = MondayToFriday("Europe/Zurich");
        var start = StaticStart.At(shop.At("2025-03-14 17:30"), shop, TwentyMinutes)!;

        Assert.False(start.Useful);
        Assert.Null(start.LatestToday);
        Assert.Equal("2025-03-17 09:00", shop.Wall(start.NextUseful));
    }

    [Fact]
    public void The_last_start_is_never_after_todays_closing()
    {
        var shop = MondayToFriday("Europe/Zurich");
        var start = StaticStart.At(shop.At("2025-03-11 10:00"), shop, TwentyMinutes)!;

        Assert.Equal(shop.Wall(shop.AfterWorkingHours(shop.At("2025-03-11 09:00"), Duration.FromHours(9))), shop.Wall(start.LatestToday!.Value));
        Assert.Equal("2025-03-12 09:00", shop.Wall(start.NextDay));
    }

    // 23 and 25 h are elapsed time: the day of the spring change is an hour short by the clock, that of the autumn change an hour long.
    [Theory]
    [InlineData("2026-03-28 09:00", "2026-03-28 15:40")]
    [InlineData("2025-10-25 09:00", "2025-10-25 17:40")]
    [InlineData("2026-04-11 09:00", "2026-04-11 16:40")]
    public void A_clock_change_moves_the_last_start_by_its_hour(string asked, string latest)
    {
        var zone = DateTimeZoneProviders.Tzdb["Europe/Zurich"];
        var tomorrow = Date(asked[..10]).PlusDays(1);
        var shop = new ShopCalendar(
            zone, Enum.GetValues<IsoDayOfWeek>().Where(day => day != IsoDayOfWeek.None).ToDictionary(day => day, _ => Hours("08:00", "18:00")),
            extraOpenDays: new Dictionary<LocalDate, ImmutableArray<OpenSpan>> { [tomorrow] = Hours("08:00", "16:00") });

        Assert.Equal(latest, shop.Wall(StaticStart.At(shop.At(asked), shop, TwentyMinutes)!.LatestToday!.Value));
    }

    [Fact]
    public void A_holiday_tomorrow_leaves_no_start_today()
    {
        var shop = new ShopCalendar(
            DateTimeZoneProviders.Tzdb["Europe/Zurich"], Week(Hours("09:00", "18:00")), holidays: [new Holiday(Date("2025-05-29"), "Ascension")]);
        var start = StaticStart.At(shop.At("2025-05-28 10:00"), shop, TwentyMinutes)!;

        Assert.Equal((false, null), (start.Useful, start.LatestToday));

        // Thursday is shut; Friday is open, but nobody is there on Saturday.
        Assert.Equal("2025-06-02 09:00", shop.Wall(start.NextUseful));
    }

    [Fact]
    public void Every_useful_start_finds_somebody_for_the_whole_measuring()
    {
        var shop = WithLunch();
        for (var moment = shop.At("2025-03-10 06:00"); moment < shop.At("2025-03-18 00:00"); moment += Duration.FromMinutes(7))
        {
            var start = StaticStart.At(moment, shop, TwentyMinutes)!;
            var found = Enumerable.Range(0, 101).Select(minute => moment + Duration.FromHours(23) + Duration.FromMinutes(minute))
                .Any(begin => shop.IsOpenAt(begin) && shop.NextOpening(begin) == begin && Enumerable.Range(0, 21).All(more => shop.IsOpenAt(begin + Duration.FromMinutes(more))));

            Assert.Equal(found && shop.IsOpenAt(moment), start.Useful);
            Assert.True(start.NextUseful >= moment);
            Assert.True(StaticStart.At(start.NextUseful, shop, TwentyMinutes)!.Useful);
        }
    }

    [Theory]
    [InlineData("2025-03-11 10:00", "2025-03-12 10:00")]
    [InlineData("2025-03-13 15:30", "2025-03-14 14:30")]
    public void The_second_set_is_measured_inside_its_window(string started, string task)
    {
        var shop = WithLunch();

        Assert.Equal(task, shop.Wall(StaticStart.TaskOf(shop.At(started), shop)));
    }
}
