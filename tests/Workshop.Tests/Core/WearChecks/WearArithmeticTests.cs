using System.Globalization;
using CsCheck;
using NodaTime;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core.WearChecks;

public class WearArithmeticTests
{
    private static readonly RateWindow Automatic = new(-4, 10);

    [Fact]
    public void A_watch_read_late_is_judged_by_the_true_time_between_the_readings()
    {
        var zurich = DateTimeZoneProviders.Tzdb["Europe/Zurich"];
        var elapsed = zurich.AtStrictly(new LocalDateTime(2025, 3, 13, 9, 15)).ToInstant() - zurich.AtStrictly(new LocalDateTime(2025, 3, 11, 17, 30)).ToInstant();

        var rate = WearArithmetic.Rate(-1, 12, elapsed)!.Value;
        var plusMinus = WearArithmetic.PlusMinus(1, 1, elapsed)!.Value;

        Assert.Equal(Duration.FromHours(39.75), elapsed);
        Assert.Equal(7.8m, WearArithmetic.PrintedRate(rate, plusMinus));
        Assert.Equal(0.9m, WearArithmetic.PrintedPlusMinus(plusMinus));
        Assert.Equal(7.8490566m, Math.Round(rate, 7));
        Assert.False(WearArithmetic.Inconclusive(rate, plusMinus, Automatic));
    }

    [Fact]
    public void A_rate_on_a_limit_is_inside_even_where_the_days_do_not_come_out_even()
    {
        // 22 h 24 min are 0.9333… days: dividing by days would give −6.0000000000000000000000000002.
        var rate = WearArithmetic.Rate(0, -5.6m, Duration.FromMinutes(22 * 60 + 24))!.Value;

        Assert.Equal(-6m, rate);
        Assert.True(new RateWindow(-6, 6).Holds(rate));
    }

    [Fact]
    public void There_is_no_rate_where_no_time_has_passed()
    {
        Assert.Null(WearArithmetic.Rate(0, 5, Duration.Zero));
        Assert.Null(WearArithmetic.PlusMinus(1, 1, Duration.FromSeconds(-1)));
    }

    [Fact]
    public void A_reading_by_eye_is_as_uncertain_as_the_rule_says()
    {
        Assert.Equal(1m, WearArithmetic.ReadingUncertainty(ReadBy.Eye, null, null, 1));
        Assert.Equal(0.5m, WearArithmetic.ReadingUncertainty(null, 1, 200, 0.5m));
    }

    [Fact]
    public void A_display_whose_step_nobody_told_is_no_better_than_the_eye() =>
        Assert.Equal(1m, WearArithmetic.ReadingUncertainty(ReadBy.Display, null, null, 1));

    [Fact]
    public void A_photo_carries_half_the_way_to_the_server_and_back()
    {
        Assert.Equal(0.3m, WearArithmetic.ReadingUncertainty(ReadBy.Photo, null, null, 1));
        Assert.Equal(0.4m, WearArithmetic.ReadingUncertainty(ReadBy.Photo, 1, 200, 1));
    }

    [Theory]
    [InlineData("0.854", "0.9")]
    [InlineData("1.414", "1.4")]
    [InlineData("0.8165", "0.8")]
    [InlineData("0.15", "0.15")]
    [InlineData("0.145", "0.15")]
    [InlineData("0.25", "0.3")]
    [InlineData("0.96", "1.0")]
    [InlineData("4.949", "5")]
    [InlineData("16.97", "17")]
    [InlineData("25", "30")]
    [InlineData("146", "150")]
    [InlineData("0", "0")]
    public void An_uncertainty_shows_one_digit_or_two_when_it_starts_with_1(string value, string shown) =>
        Assert.Equal(shown, WearArithmetic.PrintedPlusMinus(decimal.Parse(value, CultureInfo.InvariantCulture)).ToString(CultureInfo.InvariantCulture));

    [Theory]
    [InlineData("3.27", "1.414", "3.3")]
    [InlineData("-3.25", "0.9", "-3.3")]
    [InlineData("17.14", "4.949", "17")]
    [InlineData("3.27", "2", "3")]
    [InlineData("123", "25", "120")]
    public void A_rate_shows_no_digit_beyond_its_uncertainty(string rate, string plusMinus, string shown) =>
        Assert.Equal(
            shown,
            WearArithmetic.PrintedRate(decimal.Parse(rate, CultureInfo.InvariantCulture), decimal.Parse(plusMinus, CultureInfo.InvariantCulture))
                .ToString(CultureInfo.InvariantCulture));

    [Theory]
    [InlineData("9.0", "0.9", false)]
    [InlineData("9.2", "0.9", true)]
    [InlineData("10.0", "0.9", true)]
    [InlineData("10.9", "0.9", false)]
    [InlineData("-4.5", "0.9", true)]
    [InlineData("-4.9", "0.9", false)]
    [InlineData("3.0", "7.1", true)]
    [InlineData("3.0", "7.0", false)]
    public void A_reading_is_inconclusive_when_its_uncertainty_reaches_across_a_limit(string rate, string plusMinus, bool inconclusive) =>
        Assert.Equal(
            inconclusive,
            WearArithmetic.Inconclusive(
                decimal.Parse(rate, CultureInfo.InvariantCulture), decimal.Parse(plusMinus, CultureInfo.InvariantCulture), Automatic));

    [Fact]
    public void A_verdict_on_half_a_second_a_day_is_not_supported_by_a_step_of_one_second_after_a_day()
    {
        var step = WearArithmetic.ReadingUncertainty(ReadBy.Display, 1, null, 1);
        var afterADay = WearArithmetic.PlusMinus(step, step, Duration.FromHours(24))!.Value;

        Assert.True(WearArithmetic.Inconclusive(0.2m, afterADay, new RateWindow(-0.5m, 0.5m)));
    }

    [Fact]
    public void The_time_that_would_settle_it_is_the_uncertainty_over_the_distance_to_the_limit()
    {
        // √2 s at 0.5 s/d from the limit of 10: 2.83 days.
        var settled = WearArithmetic.SettledAfter(9.5m, 1, 1, Automatic);

        Assert.Equal(67.88, settled!.Value.TotalHours, 2);
    }

    [Fact]
    public void The_time_that_would_settle_it_has_no_digit_that_a_kept_moment_has_not() =>
        Gen.Select(Gen.Int[-2000, 2000], Gen.Int[1, 300]).Sample((hundredths, uncertainty) =>
            WearArithmetic.SettledAfter(hundredths / 100m, uncertainty / 100m, 1, Automatic) is not { } settled || settled.ToInt64Nanoseconds() % 1000 == 0);

    [Fact]
    public void A_rate_on_the_limit_is_never_settled()
    {
        Assert.Null(WearArithmetic.SettledAfter(10, 1, 1, Automatic));
        Assert.Null(WearArithmetic.SettledAfter(10.001m, 1, 1, Automatic));
    }

    [Fact]
    public void A_reading_is_settled_after_that_time_and_not_before() =>
        Gen.Select(Gen.Int[-2000, 2000], Gen.Int[1, 300], Gen.Int[1, 300]).Sample((hundredths, first, second) =>
        {
            var (rate, start, end) = (hundredths / 100m, first / 100m, second / 100m);
            if (WearArithmetic.SettledAfter(rate, start, end, Automatic) is not { } settled)
            {
                return Math.Min(Math.Abs(rate - 10), Math.Abs(rate + 4)) <= (start + end) / 366;
            }

            bool InconclusiveAfter(Duration elapsed) => WearArithmetic.Inconclusive(rate, WearArithmetic.PlusMinus(start, end, elapsed)!.Value, Automatic);
            return !InconclusiveAfter(settled) && InconclusiveAfter(settled - Duration.FromMilliseconds(1));
        });

    [Fact]
    public void What_is_shown_of_an_uncertainty_is_within_half_of_its_last_digit() =>
        Gen.Int[1, 2_000_000].Sample(thousandths =>
        {
            var value = thousandths / 1000m;
            var shown = WearArithmetic.PrintedPlusMinus(value);

            return Math.Abs(shown - value) <= value / 4 && WearArithmetic.PrintedPlusMinus(shown) == shown;
        });
}
