using CsCheck;
using Workshop.Core.Timekeeping;
using Workshop.Core.Timekeeping.Quantities;
using static Workshop.Tests.Core.Timekeeping.Measured;

namespace Workshop.Tests.Core.Timekeeping;

public class LiftAngleTests
{
    [Fact]
    public void Two_hundred_and_eighty_degrees_at_fifty_two_are_two_hundred_and_sixty_nine_at_fifty()
    {
        var set = Set([new(Position.DialUp, 4, 280), new(Position.CrownDown, 2)]) with { RightLiftAngleDegrees = 50 };

        Assert.Equal([269m, null], set.Readings.Select(one => one.AmplitudeDegrees is { } amplitude ? Math.Round(amplitude) : (decimal?)null));
        Assert.Equal(280m, set.Told.Readings[0].AmplitudeDegrees);
    }

    [Fact]
    public void An_amplitude_goes_with_the_lift_angle_in_proportion_there_and_back() =>
        Gen.Select(Gen.Int[1000, 3600], Gen.Int[200, 900], Gen.Int[200, 900]).Sample((amplitude, one, other) =>
        {
            var (from, to) = (new LiftAngle(one / 10m), new LiftAngle(other / 10m));
            var read = new Amplitude(amplitude / 10m);
            var corrected = read.AtLiftAngle(from, to);

            return Math.Abs((corrected.Degrees / to.Degrees) - (read.Degrees / from.Degrees)) < 1e-20m && Math.Abs(corrected.AtLiftAngle(to, from).Degrees - read.Degrees) < 1e-20m;
        });

    [Theory]
    [InlineData(0, false)]
    [InlineData(0.1, true)]
    [InlineData(360, true)]
    [InlineData(360.1, false)]
    public void None_is_no_amplitude_and_a_balance_does_not_go_round(double degrees, bool possible) => Assert.Equal(possible, new Amplitude((decimal)degrees).IsPossible);

    [Theory]
    [InlineData(19.9, 3_599, -0.1, 86_401)]
    [InlineData(90.1, 720_001, 100.1, -86_401)]
    public void What_no_watch_has_is_not_possible(double lift, int vibrations, double error, int rate)
    {
        Assert.False(new LiftAngle((decimal)lift).IsPossible);
        Assert.False(new Vibrations(vibrations).IsPossible);
        Assert.False(new BeatError((decimal)error).IsPossible);
        Assert.False(new DailyRate(rate).IsPossible);
    }
}
