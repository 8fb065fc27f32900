using NodaTime;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.References;

/// <summary>Worked rates and uncertainties of readings; sources and how sure they are: SOURCES.md, "Rates from readings".</summary>
public class WornRateTests
{
    [Fact]
    public void Two_readings_25_and_a_half_hours_apart_give_a_rate_a_day()
    {
        var elapsed = Instant.FromUtc(2026, 3, 3, 10, 30) - Instant.FromUtc(2026, 3, 2, 9, 0);

        Assert.Equal(-3.2941m, Math.Round(WearArithmetic.Rate(2.0m, -1.5m, elapsed)!.Value, 4));
    }

    [Fact]
    public void A_second_gained_over_the_spring_clock_change_is_more_than_a_second_a_day()
    {
        var zurich = DateTimeZoneProviders.Tzdb["Europe/Zurich"];
        var elapsed = zurich.AtStrictly(new LocalDateTime(2026, 3, 29, 12, 0)).ToInstant() - zurich.AtStrictly(new LocalDateTime(2026, 3, 28, 12, 0)).ToInstant();

        Assert.Equal(1.0435m, Math.Round(WearArithmetic.Rate(0, 1.0m, elapsed)!.Value, 4));
    }

    // u(rate) = a/(√6 · days) for a display of step a read twice, rectangular (JCGM 100); shown here expanded, k = 2.
    [Theory]
    [InlineData(1.0, 1, 0.40825)]
    [InlineData(0.1, 1, 0.04082)]
    [InlineData(1.0, 4, 0.10206)]
    public void A_display_read_twice_is_uncertain_by_its_step(double stepSeconds, int days, double standardUncertainty)
    {
        var reading = WearArithmetic.ReadingUncertainty(ReadBy.Display, (decimal)stepSeconds, null, 1);
        var expanded = WearArithmetic.PlusMinus(reading, reading, Duration.FromDays(days))!.Value;

        Assert.Equal((decimal)standardUncertainty, Math.Round(expanded / 2, 5));
    }

    [Theory]
    [InlineData(ReadBy.Display, 24, 0.8165, 0.8)]
    [InlineData(ReadBy.Eye, 24, 1.4142, 1.4)]
    [InlineData(ReadBy.Eye, 39.75, 0.8539, 0.9)]
    public void The_uncertainty_of_a_rate_is_shown_with_the_digits_it_has(ReadBy readBy, double hours, double expanded, double shown)
    {
        var reading = WearArithmetic.ReadingUncertainty(readBy, 1, null, 1);
        var plusMinus = WearArithmetic.PlusMinus(reading, reading, Duration.FromHours(hours))!.Value;

        Assert.Equal((decimal)expanded, Math.Round(plusMinus, 4));
        Assert.Equal((decimal)shown, WearArithmetic.PrintedPlusMinus(plusMinus));
    }
}
