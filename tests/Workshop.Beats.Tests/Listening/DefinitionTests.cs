using Workshop.Beats.Listening;

namespace Workshop.Beats.Tests.Listening;

public class DefinitionTests
{
    // Computed by the definitions, not published: t is the time in the lift angle, A = λ/(2 sin(π·t/T)) with the whole period T = 7200/n s.
    [Theory]
    [InlineData(28800, 52, 7.675, 269.9968)]
    [InlineData(28800, 52, 8.0, 259.0629)]
    [InlineData(28800, 52, 10.0, 207.4470)]
    [InlineData(28800, 50, 8.2, 243.0441)]
    [InlineData(21600, 52, 10.5, 263.1613)]
    [InlineData(18000, 50, 12.5, 255.0574)]
    [InlineData(36000, 50, 6.0, 265.6513)]
    public void An_amplitude_follows_from_the_time_in_the_lift_angle_and_the_whole_period(int vibrations, double lift, double milliseconds, double degrees) =>
        Assert.Equal(degrees, Frequencies.Amplitude(milliseconds * 1e-3, lift, Frequencies.Period(vibrations)), 4);

    [Theory]
    [InlineData(28800, 52, 270, 7.67491)]
    [InlineData(28800, 52, 315, 6.57578)]
    [InlineData(28800, 52, 200, 10.37443)]
    [InlineData(21600, 52, 270, 10.23321)]
    [InlineData(18000, 50, 250, 12.75371)]
    public void The_time_in_the_lift_angle_follows_from_the_amplitude(int vibrations, double lift, double degrees, double milliseconds) =>
        Assert.Equal(milliseconds, 1e3 * Frequencies.LiftSeconds(degrees, lift, Frequencies.Period(vibrations)), 5);

    // Computed by the definition 86400·(T nominal/T − 1); the first-order form would give 6.912000 and −6.912000.
    [Theory]
    [InlineData(0.124990, 6.912553)]
    [InlineData(0.125010, -6.911447)]
    public void A_shorter_beat_gains_and_the_rate_is_in_seconds_of_true_time(double beat, double perDay) =>
        Assert.Equal(perDay, Listener.RateOf(0.125, beat), 6);

    [Fact]
    public void What_the_calibre_says_is_looked_for_besides_the_usual_frequencies()
    {
        Assert.Equal([18000, 19800, 21600, 25200, 28800, 36000], Frequencies.LookedFor(null));
        Assert.Equal([18000, 19800, 21600, 25200, 28800, 36000], Frequencies.LookedFor(28800));
        Assert.Equal([18000, 19800, 21600, 25200, 28800, 36000, 14400], Frequencies.LookedFor(14400));
    }
}
