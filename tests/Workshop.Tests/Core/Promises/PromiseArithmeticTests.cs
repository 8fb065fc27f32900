using CsCheck;
using NodaTime;
using Workshop.Core.Promises;
using Workshop.Core.Shop;
using static Workshop.Tests.Core.Shop.Calendars;

namespace Workshop.Tests.Core.Promises;

// Counting in open days from the day after approval is common practice of the trade; the examples were worked by hand on a calendar
// of Monday to Friday, 9 to 18, without public holidays.
public class PromiseArithmeticTests
{
    private static readonly ShopCalendar Shop = MondayToFriday("Europe/Zurich", TurnOfTheYear);

    [Fact]
    public void Twenty_working_days_from_15_December_with_the_shop_shut_at_the_turn_of_the_year_are_22_January()
    {
        var promise = PromiseArithmetic.Given(Shop.At("2025-12-15 11:00"), 20, 4, Shop);

        Assert.Equal(Date("2026-01-22"), promise.On);
        Assert.Equal(Date("2026-01-16"), promise.Target);
        Assert.Equal(Date("2025-12-15"), promise.ApprovedOn);
        Assert.Equal(20, promise.WorkingDays);
    }

    [Fact]
    public void Without_the_closure_they_are_12_January()
    {
        var shop = MondayToFriday();

        Assert.Equal(Date("2026-01-12"), PromiseArithmetic.Given(shop.At("2025-12-15 11:00"), 20, 4, shop).On);
    }

    [Theory]
    [InlineData("2026-06-05 19:00", "2026-06-06", "2026-06-08")]
    [InlineData("2026-06-06 10:00", "2026-06-06", "2026-06-08")]
    [InlineData("2026-06-04 19:00", "2026-06-05", "2026-06-08")]
    [InlineData("2026-06-04 18:00", "2026-06-04", "2026-06-05")]
    public void An_approval_after_closing_counts_as_the_next_day(string approved, string dayZero, string nextWorkingDay)
    {
        var promise = PromiseArithmetic.Given(Shop.At(approved), 1, 0, Shop);

        Assert.Equal(Date(dayZero), promise.ApprovedOn);
        Assert.Equal(Date(nextWorkingDay), promise.On);
    }

    [Fact]
    public void The_target_is_never_before_the_approval() =>
        Assert.Equal(Date("2026-06-04"), PromiseArithmetic.Given(Shop.At("2026-06-04 10:00"), 2, 4, Shop).Target);

    [Theory]
    [InlineData("2026-01-05 10:00", "2026-01-08 10:00", 3, "2026-01-27")]
    [InlineData("2026-01-09 10:00", "2026-01-12 10:00", 1, "2026-01-23")]
    [InlineData("2025-12-23 10:00", "2026-01-05 10:00", 1, "2026-01-23")]
    [InlineData("2026-01-05 19:00", "2026-01-06 10:00", 0, null)]
    [InlineData("2026-01-05 10:00", "2026-01-05 17:00", 0, null)]
    public void A_stop_takes_away_the_open_days_after_it_was_placed_through_the_day_it_was_lifted(
        string placed, string lifted, int days, string? movedTo)
    {
        var promise = PromiseArithmetic.Given(Shop.At("2025-12-15 11:00"), 20, 4, Shop);
        StopInterval[] stops = [new(Shop.At(placed), Shop.At(lifted))];

        var moved = PromiseArithmetic.Moved(From(promise), promise.On, 4, stops, Shop);

        Assert.Equal(days, PromiseArithmetic.StoppedWorkingDays(stops, From(promise), Shop));
        Assert.Equal(movedTo is null ? null : Date(movedTo), moved?.To);
        Assert.Equal(movedTo is null ? null : days, moved?.StoppedWorkingDays);
    }

    [Fact]
    public void The_move_names_the_last_given_date_the_new_one_and_a_new_target()
    {
        var promise = PromiseArithmetic.Given(Shop.At("2025-12-15 11:00"), 20, 4, Shop);
        StopInterval[] stops = [new(Shop.At("2026-01-05 10:00"), Shop.At("2026-01-08 10:00"))];

        var moved = PromiseArithmetic.Moved(From(promise), promise.On, 4, stops, Shop);

        Assert.Equal(
            new PromiseMoved
            {
                From = Date("2026-01-22"),
                To = Date("2026-01-27"),
                Target = Date("2026-01-21"),
                StoppedWorkingDays = 3,
                Reason = PromiseReason.WaitedForYou,
            },
            moved);
    }

    [Fact]
    public void Overlapping_stops_count_once()
    {
        StopInterval[] stops =
        [
            new(Shop.At("2026-01-06 09:00"), Shop.At("2026-01-09 09:00")),
            new(Shop.At("2026-01-05 09:00"), Shop.At("2026-01-08 09:00")),
            new(Shop.At("2026-01-07 09:00"), Shop.At("2026-01-07 15:00")),
        ];

        Assert.Equal(4, PromiseArithmetic.StoppedWorkingDays(stops, new PromiseBase(Date("2026-01-22"), Date("2025-12-15")), Shop));
    }

    [Fact]
    public void A_stop_before_the_approval_does_not_count_and_one_across_it_counts_from_it()
    {
        StopInterval[] stops = [new(Shop.At("2025-12-01 09:00"), Shop.At("2025-12-15 11:00")), new(Shop.At("2025-12-12 09:00"), Shop.At("2025-12-17 09:00"))];

        Assert.Equal(2, PromiseArithmetic.StoppedWorkingDays(stops, new PromiseBase(Date("2026-01-22"), Date("2025-12-15")), Shop));
    }

    [Fact]
    public void Nothing_moves_while_a_stop_still_stands()
    {
        var promise = PromiseArithmetic.Given(Shop.At("2025-12-15 11:00"), 20, 4, Shop);
        StopInterval[] stops = [new(Shop.At("2026-01-05 10:00"), Shop.At("2026-01-08 10:00")), new(Shop.At("2026-01-08 09:00"), null)];

        Assert.Null(PromiseArithmetic.Moved(From(promise), promise.On, 4, stops, Shop));
    }

    [Fact]
    public void A_promise_moves_back_when_a_stop_turns_out_to_have_been_shorter()
    {
        var promise = PromiseArithmetic.Given(Shop.At("2025-12-15 11:00"), 20, 4, Shop);
        StopInterval[] shorter = [new(Shop.At("2026-01-05 10:00"), Shop.At("2026-01-07 10:00"))];

        var moved = PromiseArithmetic.Moved(From(promise), Date("2026-01-27"), 4, shorter, Shop);

        Assert.Equal((Date("2026-01-27"), Date("2026-01-26"), 2), (moved!.From, moved.To, moved.StoppedWorkingDays));
    }

    [Theory]
    [InlineData("2026-01-22 10:00", "2026-01-26 10:00", 0, null)]
    [InlineData("2026-01-23 10:00", "2026-02-10 10:00", 0, null)]
    [InlineData("2026-01-21 10:00", "2026-01-28 10:00", 5, "2026-01-29")]
    public void A_stop_after_the_promised_day_does_not_move_a_date_that_was_missed_by_then(string placed, string lifted, int days, string? movedTo)
    {
        var promise = PromiseArithmetic.Given(Shop.At("2025-12-15 11:00"), 20, 4, Shop);
        StopInterval[] stops = [new(Shop.At(placed), Shop.At(lifted))];

        Assert.Equal(days, PromiseArithmetic.StoppedWorkingDays(stops, From(promise), Shop));
        Assert.Equal(movedTo is null ? null : Date(movedTo), PromiseArithmetic.Moved(From(promise), promise.On, 4, stops, Shop)?.To);
    }

    [Fact]
    public void Days_in_two_stops_are_counted_for_the_first_of_them()
    {
        StopInterval[] stops = [new(Shop.At("2026-01-07 09:00"), Shop.At("2026-01-12 09:00")), new(Shop.At("2026-01-05 09:00"), Shop.At("2026-01-08 09:00")), new(Shop.At("2026-01-13 09:00"), null)];

        var counted = PromiseArithmetic.Count(stops, new PromiseBase(Date("2026-01-22"), Date("2025-12-15")), Shop);

        Assert.Equal([3, 2, 0], counted.Select(one => one.Days));
    }

    // The oracle asks of each day alone whether it lies in any stop, from the first to the last.
    [Fact]
    public void Stopped_days_are_the_open_days_up_to_the_promise_that_lie_in_any_stop_in_whatever_order_they_are_told() =>
        Gen.Select(Any, AnyDate, Gen.Int[1, 60], Gen.Select(AnyMoment, Gen.Int[0, 30 * 24 * 60]).Array[0, 5], Gen.Int).Sample((shop, since, ahead, raw, seed) =>
        {
            var stops = raw.Select(one => new StopInterval(one.Item1, one.Item1 + Duration.FromMinutes(one.Item2))).ToArray();
            var from = new PromiseBase(shop.OpenDayAfter(since, ahead), since);
            var (promised, days) = (from.On, 0);
            for (var day = since.PlusDays(1); day <= promised; day = day.PlusDays(1))
            {
                if (shop.IsOpenDay(day) && stops.Any(stop => shop.DayZero(stop.Placed) < day && day <= shop.DayZero(stop.Lifted!.Value)))
                {
                    days++;
                    promised = shop.OpenDayAfter(promised, 1);
                }
            }

            var shuffled = stops.ToArray();
            new Random(seed).Shuffle(shuffled);
            var moved = PromiseArithmetic.Moved(from, from.On, 4, shuffled, shop);
            return PromiseArithmetic.StoppedWorkingDays(stops, from, shop) == days
                && PromiseArithmetic.StoppedWorkingDays(shuffled, from, shop) == days
                && PromiseArithmetic.StoppedWorkingDays([.. stops, .. stops], from, shop) == days
                && (moved?.To ?? from.On) == promised
                && promised >= from.On;
        });

    private static PromiseBase From(PromiseGiven given) => new(given.On, given.ApprovedOn);
}
