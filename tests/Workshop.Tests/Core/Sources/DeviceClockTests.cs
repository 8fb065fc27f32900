using NodaTime;
using Workshop.Core.Sources;

namespace Workshop.Tests.Core.Sources;

public class DeviceClockTests
{
    private static readonly Instant Noon = Instant.FromUtc(2026, 3, 2, 12, 0);

    [Fact]
    public void A_device_that_never_said_what_its_clock_shows_has_no_known_error() => Assert.Null(DeviceClock.Unknown.Error);

    [Theory]
    [InlineData(1.9, 0)]
    [InlineData(-1.9, 0)]
    [InlineData(2.0, 2.0)]
    [InlineData(-75, -75)]
    public void Under_two_seconds_counts_as_none(double behind, double error) => Assert.Equal(Duration.FromSeconds(error), Heard(behind).Error);

    [Fact]
    public void The_smallest_of_the_last_ten_counts_since_a_post_never_takes_less_than_nothing()
    {
        var clock = Heard([63, 60, 62, 71]);

        Assert.Equal(Duration.FromSeconds(60), clock.Error);
        Assert.Equal(Duration.FromSeconds(63), Heard([60, .. Enumerable.Repeat(63.0, 10)]).Error);
    }

    [Fact]
    public void It_changes_only_by_more_than_two_seconds()
    {
        Assert.Equal(Duration.FromSeconds(60), Heard([60, 58.5]).Error);
        Assert.Equal(Duration.FromSeconds(60), Heard([60, 58]).Error);
        Assert.Equal(Duration.FromSeconds(57.5), Heard([60, 58.5, 57.5]).Error);
    }

    [Theory]
    [InlineData(301, true)]
    [InlineData(-301, true)]
    [InlineData(299, false)]
    public void A_jump_of_more_than_five_minutes_means_that_it_was_set_anew(double jump, bool stepped)
    {
        var (clock, said) = Heard([10, 12]).Hear(Noon, Noon - Duration.FromSeconds(10 + jump));

        Assert.Equal(stepped, said);
        double[] kept = stepped ? [10 + jump] : [10, 12, 10 + jump];
        Assert.Equal(kept.Select(Duration.FromSeconds), clock.Samples);
        Assert.Equal(Duration.FromSeconds(stepped ? 10 + jump : 10), clock.Error!.Value);
    }

    private static DeviceClock Heard(params double[] secondsBehind) =>
        secondsBehind.Aggregate(DeviceClock.Unknown, (clock, behind) => clock.Hear(Noon, Noon - Duration.FromSeconds(behind)).Clock);
}
