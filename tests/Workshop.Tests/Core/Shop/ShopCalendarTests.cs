using System.Collections.Immutable;
using CsCheck;
using NodaTime;
using Workshop.Core.Promises;
using Workshop.Core.Shop;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.Core.Shop;

public class ShopCalendarTests
{
    [Theory]
    [InlineData("Europe/Zurich", "2025-10-25 16:00", "2025-10-26 15:00", "2025-10-27 09:00")]
    [InlineData("Europe/Zurich", "2026-03-28 16:00", "2026-03-29 17:00", "2026-03-30 09:00")]
    [InlineData("Pacific/Auckland", "2026-09-26 16:00", "2026-09-27 17:00", "2026-09-28 09:00")]
    [InlineData("Pacific/Auckland", "2025-04-05 16:00", "2025-04-06 15:00", "2025-04-07 09:00")]
    [InlineData("Asia/Tokyo", "2025-10-25 16:00", "2025-10-26 16:00", "2025-10-27 09:00")]
    [InlineData("Africa/Casablanca", "2026-02-14 16:00", "2026-02-15 15:00", "2026-02-16 09:00")]
    public void Twenty_four_hours_end_where_the_clock_change_puts_them_and_the_task_waits_for_the_next_opening(
        string zone, string started, string due, string task)
    {
        var shop = MondayToFriday(zone);

        var dueAt = shop.At(started) + Duration.FromHours(24);

        Assert.Equal(due, shop.Wall(dueAt));
        Assert.Equal(task, shop.Wall(shop.NextOpening(dueAt)));
    }

    [Theory]
    [InlineData("2025-03-11 10:00", "2025-03-11 10:00")]
    [InlineData("2025-03-11 09:00", "2025-03-11 09:00")]
    [InlineData("2025-03-11 12:30", "2025-03-11 13:00")]
    [InlineData("2025-03-11 18:00", "2025-03-11 18:00")]
    [InlineData("2025-03-11 18:01", "2025-03-12 09:00")]
    [InlineData("2025-03-14 15:00", "2025-03-14 15:00")]
    [InlineData("2025-03-14 15:01", "2025-03-17 09:00")]
    public void A_moment_at_which_the_shop_is_open_stays_and_the_moment_of_closing_belongs_to_that_day(string moment, string expected)
    {
        var shop = WithLunch();

        Assert.Equal(expected, shop.Wall(shop.NextOpening(shop.At(moment))));
        Assert.Equal(moment == expected, shop.IsOpenAt(shop.At(moment)));
    }

    [Fact]
    public void An_opening_inside_the_skipped_hour_moves_forward_by_the_length_of_the_gap()
    {
        var shop = EveryDay("Europe/Zurich", "02:30", "06:00");

        Assert.Equal("2026-03-29 03:30", shop.Wall(shop.NextOpening(shop.At("2026-03-29 00:00"))));
    }

    [Fact]
    public void A_time_that_happens_twice_means_the_first()
    {
        var shop = EveryDay("Europe/Zurich", "00:30", "02:30");
        var firstHalfPastTwo = Instant.FromUtc(2025, 10, 26, 0, 30);

        Assert.True(shop.IsOpenAt(firstHalfPastTwo));
        Assert.False(shop.IsOpenAt(firstHalfPastTwo + Duration.FromMinutes(1)));
        Assert.False(shop.IsOpenAt(firstHalfPastTwo + Duration.FromHours(1)));
    }

    [Fact]
    public void Hours_that_lie_wholly_in_the_skipped_hour_hold_no_moment_of_work()
    {
        var shop = EveryDay("Europe/Zurich", "02:30", "03:00");

        Assert.Equal("2026-03-30 02:30", shop.Wall(shop.NextOpening(shop.At("2026-03-29 00:00"))));
    }

    [Fact]
    public void Extra_open_days_stand_over_the_week_and_over_closures()
    {
        var saturdayOfTheClosure = Date("2025-12-27");
        var shop = new ShopCalendar(
            DateTimeZoneProviders.Tzdb["Europe/Zurich"],
            Week(Hours("09:00", "18:00")),
            [TurnOfTheYear],
            new Dictionary<LocalDate, ImmutableArray<OpenSpan>> { [saturdayOfTheClosure] = Hours("10:00", "12:00") });

        Assert.True(shop.IsOpenDay(saturdayOfTheClosure));
        Assert.Equal("2025-12-27 10:00", shop.Wall(shop.NextOpening(shop.At("2025-12-23 18:01"))));
        Assert.Equal("2026-01-05 09:00", shop.Wall(shop.NextOpening(shop.At("2025-12-27 12:01"))));
    }

    [Theory]
    [InlineData("2026-06-05 18:00", "2026-06-05")]
    [InlineData("2026-06-05 18:01", "2026-06-06")]
    [InlineData("2026-06-05 08:00", "2026-06-05")]
    [InlineData("2026-06-06 20:00", "2026-06-06")]
    [InlineData("2026-06-07 11:00", "2026-06-07")]
    public void After_closing_a_day_counts_from_the_next_date_and_on_a_closed_day_from_that_day(string moment, string dayZero)
    {
        var shop = MondayToFriday();

        Assert.Equal(Date(dayZero), shop.DayZero(shop.At(moment)));
    }

    [Theory]
    [InlineData("2025-03-11 17:00", 4, "2025-03-12 12:00")]
    [InlineData("2025-03-14 14:00", 4, "2025-03-17 12:00")]
    [InlineData("2025-03-15 14:00", 4, "2025-03-17 14:00")]
    [InlineData("2025-03-11 09:00", 3, "2025-03-11 12:00")]
    [InlineData("2025-03-11 10:00", 0, "2025-03-11 10:00")]
    [InlineData("2025-03-11 20:00", 0, "2025-03-12 09:00")]
    public void Working_hours_are_open_hours_and_a_start_on_closed_time_waits_for_the_opening(string from, int hours, string expected)
    {
        var shop = WithLunch();

        Assert.Equal(expected, shop.Wall(shop.AfterWorkingHours(shop.At(from), Duration.FromHours(hours))));
    }

    [Theory]
    [InlineData("2025-03-11 10:30", "2025-03-12 10:30")]
    [InlineData("2025-03-13 17:00", "2025-03-14 15:00")]
    [InlineData("2025-03-14 14:00", "2025-03-17 14:00")]
    [InlineData("2025-03-15 11:00", "2025-03-18 09:00")]
    [InlineData("2025-03-11 12:20", "2025-03-12 13:00")]
    public void One_working_day_later_is_the_same_time_of_the_next_open_day_moved_into_its_hours(string from, string expected)
    {
        var shop = WithLunch();

        Assert.Equal(expected, shop.Wall(shop.NextWorkingDay(shop.At(from))));
    }

    [Fact]
    public void One_working_day_later_waits_for_a_later_opening()
    {
        var week = Week(Hours("09:00", "18:00"));
        week[IsoDayOfWeek.Wednesday] = Hours("11:00", "18:00");
        var shop = new ShopCalendar(DateTimeZoneProviders.Tzdb["Europe/Zurich"], week);

        Assert.Equal("2025-03-12 11:00", shop.Wall(shop.NextWorkingDay(shop.At("2025-03-11 09:30"))));
    }

    [Fact]
    public void The_lunch_break_is_not_the_end_of_the_day() =>
        Assert.Equal(Date("2025-03-11"), WithLunch().DayZero(WithLunch().At("2025-03-11 12:30")));

    [Fact]
    public void A_working_day_over_a_clock_change_keeps_the_time_on_the_wall()
    {
        var shop = EveryDay("Europe/Zurich", "09:00", "18:00");

        Assert.Equal("2026-03-29 10:00", shop.Wall(shop.NextWorkingDay(shop.At("2026-03-28 10:00"))));
    }

    [Theory]
    [InlineData("Africa/Cairo", "2026-04-23")]
    [InlineData("Pacific/Apia", "2011-12-29")]
    [InlineData("Europe/Zurich", "2025-10-26")]
    public void A_day_ends_where_the_next_one_begins_even_if_midnight_is_skipped(string zone, string date)
    {
        var end = MondayToFriday(zone).EndOfDay(Date(date));

        Assert.Equal(Date(date), end.Minus(Duration.Epsilon).InZone(DateTimeZoneProviders.Tzdb[zone]).Date);
        Assert.True(end.InZone(DateTimeZoneProviders.Tzdb[zone]).Date > Date(date));
    }

    [Fact]
    public void A_calendar_that_would_never_open_is_refused()
    {
        var none = new Dictionary<IsoDayOfWeek, ImmutableArray<OpenSpan>> { [IsoDayOfWeek.Monday] = [] };

        Assert.Throws<ArgumentException>(() => new ShopCalendar(DateTimeZone.Utc, none));
        Assert.Throws<ArgumentException>(() => MondayToFriday("Europe/Zurich", new Closure(new(2026, 1, 1), new(9999, 12, 31))));
        Assert.Throws<ArgumentException>(() => MondayToFriday("Europe/Zurich", new Closure(new(9999, 12, 30), new(9999, 12, 31))));
        Assert.Throws<ArgumentException>(() => MondayToFriday(
            "Europe/Zurich", new Closure(new(2026, 1, 1), new(2033, 12, 31)), new Closure(new(2034, 1, 1), new(2040, 12, 31))));
    }

    [Fact]
    public void A_closure_of_years_is_searched_through_and_not_refused()
    {
        var shop = MondayToFriday("Europe/Zurich", new Closure(new(2026, 1, 1), new(2034, 12, 31)));

        Assert.Equal(new LocalDate(2035, 1, 1), shop.OpenDayAfter(new(2025, 12, 31), 1));
        Assert.Equal(new LocalDate(2025, 12, 31), shop.OpenDayBefore(new(2035, 1, 1), 1));
    }

    [Theory]
    [InlineData("18:00", "09:00")]
    [InlineData("09:00", "09:00")]
    [InlineData("09:00", "13:00", "12:00", "18:00")]
    [InlineData]
    public void Hours_that_make_no_sense_are_refused(params string[] hours) =>
        Assert.Throws<ArgumentException>(() => new ShopCalendar(
            DateTimeZone.Utc,
            Week(Hours("09:00", "18:00")),
            extraOpenDays: new Dictionary<LocalDate, ImmutableArray<OpenSpan>> { [new(2026, 1, 3)] = Hours(hours) }));

    [Fact]
    public void A_closure_that_ends_before_it_begins_is_refused() =>
        Assert.Throws<ArgumentException>(() => MondayToFriday("Europe/Zurich", new Closure(new(2026, 1, 4), new(2025, 12, 24))));

    [Fact]
    public void The_next_opening_is_open_not_earlier_and_nothing_open_lies_before_it() =>
        Gen.Select(Any, AnyMoment, Gen.Int[0, 999]).Sample((shop, moment, share) =>
        {
            var opening = shop.NextOpening(moment);
            var between = moment + (opening - moment) * share / 1000;

            return opening >= moment
                && shop.IsOpenAt(opening)
                && shop.IsOpenAt(moment) == (opening == moment)
                && shop.NextOpening(opening) == opening
                && (between == opening || !shop.IsOpenAt(between));
        });

    [Fact]
    public void Working_hours_add_up_wherever_they_are_broken_off() =>
        Gen.Select(Any, AnyMoment, Gen.Int[0, 3000], Gen.Int[0, 3000]).Sample((shop, from, first, second) =>
            shop.AfterWorkingHours(shop.AfterWorkingHours(from, Duration.FromMinutes(first)), Duration.FromMinutes(second))
            == shop.AfterWorkingHours(from, Duration.FromMinutes(first + second)));

    [Fact]
    public void Working_hours_are_the_open_minutes_counted_one_by_one() =>
        Gen.Select(Any, AnyMoment, Gen.Int[1, 200]).Sample(
            (shop, from, minutes) =>
            {
                var moment = from;
                for (var left = minutes; left > 0; moment += Duration.FromMinutes(1))
                {
                    // A minute is worked when its middle is open: every opening and closing here falls on a whole minute.
                    left -= shop.IsOpenAt(moment + Duration.FromSeconds(30)) ? 1 : 0;
                }

                return moment == shop.AfterWorkingHours(from, Duration.FromMinutes(minutes));
            },
            iter: 30);

    [Fact]
    public void Counting_open_days_undoes_going_that_many_open_days() =>
        Gen.Select(Any, AnyDate, Gen.Int[1, 40]).Sample((shop, date, n) =>
        {
            var after = shop.OpenDayAfter(date, n);
            var before = shop.OpenDayBefore(date, n);

            return shop.IsOpenDay(after)
                && shop.OpenDaysBetween(date, after) == n
                && shop.IsOpenDay(before)
                && shop.OpenDaysBetween(before.PlusDays(-1), date.PlusDays(-1)) == n;
        });

    [Fact]
    public void One_working_day_later_is_open_and_on_the_next_open_day() =>
        Gen.Select(Any, AnyMoment).Sample((shop, from) =>
            shop.DateOf(shop.NextWorkingDay(from)) == shop.OpenDayAfter(shop.DateOf(shop.NextOpening(from)), 1));

    [Fact]
    public void Day_zero_never_runs_backwards() =>
        Gen.Select(Any, AnyMoment, Gen.Int[0, 5000]).Sample((shop, moment, minutes) =>
            shop.DayZero(moment) <= shop.DayZero(moment + Duration.FromMinutes(minutes)));

    private static ShopCalendar EveryDay(string zone, params string[] hours) =>
        new(DateTimeZoneProviders.Tzdb[zone], Enumerable.Range(1, 7).ToDictionary(day => (IsoDayOfWeek)day, _ => Hours(hours)));

    [Fact]
    public void A_public_holiday_is_a_closed_day_unless_the_shop_says_that_it_is_open()
    {
        var (kings, labour) = (Date("2026-01-06"), Date("2026-05-01"));
        var shop = new ShopCalendar(
            DateTimeZoneProviders.Tzdb["Europe/Zurich"], Week(Hours("09:00", "18:00")),
            extraOpenDays: new Dictionary<LocalDate, ImmutableArray<OpenSpan>> { [kings] = Hours("10:00", "12:00") },
            holidays: [new Holiday(kings, "Kings"), new Holiday(labour, "Labour")]);

        Assert.Equal("10:00", $"{shop.SpansOn(kings)[0].Opens:HH:mm}");
        Assert.False(shop.IsOpenDay(labour));
        Assert.Equal(Date("2026-05-04"), shop.OpenDayAfter(Date("2026-04-30"), 1));
        Assert.Equal("Labour", shop.Holidays[labour]);
    }

    [Theory]
    [InlineData("2036-12-31", "2036-12-31", false)]
    [InlineData("2036-12-31", "2037-01-01", true)]
    [InlineData(null, "2099-01-01", false)]
    public void Beyond_the_years_whose_holidays_are_known_nothing_is_known_of_them(string? through, string date, bool beyond)
    {
        var shop = new ShopCalendar(DateTimeZone.Utc, Week(Hours("09:00", "18:00")), holidaysThrough: through is null ? null : Date(through));

        Assert.Equal(beyond, shop.IsBeyondHolidays(Date(date)));
        Assert.Equal(beyond, PromiseArithmetic.IsBeyondCalendar(new PromiseMoved { From = Date("2026-01-05"), To = Date(date), Target = Date("2026-01-05"), StoppedWorkingDays = 1, Reason = PromiseReason.Other }, shop));
    }

    [Fact]
    public void Closures_that_follow_one_another_for_ten_years_are_one_that_never_ends()
    {
        var closures = Enumerable.Range(0, 11).Select(year => new Closure(new LocalDate(2026 + year, 1, 1), new LocalDate(2026 + year, 12, 31))).ToImmutableArray();

        Assert.Equal("/closures/0", CalendarFaults.Of(Week(Hours("09:00", "18:00")), closures, new Dictionary<LocalDate, ImmutableArray<OpenSpan>>(), _ => false).First().Pointer);
    }
}
