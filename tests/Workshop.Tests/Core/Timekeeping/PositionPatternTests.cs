using Workshop.Core.Timekeeping;

namespace Workshop.Tests.Core.Timekeeping;

/// <summary>Worked by hand from the least squares of a mean and a first harmonic over directions a quarter apart.</summary>
public class PositionPatternTests
{
    [Fact]
    public void A_swing_that_is_a_first_harmonic_leaves_no_residual()
    {
        var pattern = Pattern(up: 9, left: 4, down: -3, right: 2);

        Assert.Equal((3, 6.083m, 9.46m, 0), (pattern.VerticalMeanPerDaySeconds, Math.Round(pattern.HalfSwingPerDaySeconds, 3), Math.Round(pattern.FastestCrownDegrees!.Value, 2), pattern.ResidualPerDaySeconds));
        Assert.Equal("Vertical +3.0 ± 6.1 s/d, fastest 9° from crown up towards crown left.", PatternWords.Of(pattern).First().ToString());
    }

    [Fact]
    public void What_no_first_harmonic_explains_is_the_residual_and_flat_stands_against_vertical()
    {
        var pattern = Pattern(up: 9, left: 6, down: -3, right: 2, dialUp: 4, dialDown: 5);

        Assert.Equal(
            (3.5m, 6.325m, 18.43m, -0.5m, 1.0m),
            (pattern.VerticalMeanPerDaySeconds, Math.Round(pattern.HalfSwingPerDaySeconds, 3), Math.Round(pattern.FastestCrownDegrees!.Value, 2), pattern.ResidualPerDaySeconds, pattern.FlatLessVerticalPerDaySeconds));
        Assert.Equal([PatternLimit.ImbalanceFromHairspring, PatternLimit.OneAmplitude], pattern.CannotSeparate().AsEnumerable());
    }

    [Theory]
    [InlineData(9, 4, -3, null)]
    [InlineData(9, 4, null, 2)]
    [InlineData(9, null, -3, 2)]
    [InlineData(null, 4, -3, 2)]
    public void Three_of_four_that_are_a_harmonic_give_the_same_pattern_exactly_and_say_so(int? up, int? left, int? down, int? right)
    {
        var pattern = Pattern(up, left, down, right);

        Assert.Equal(Pattern(9, 4, -3, 2) with { ResidualPerDaySeconds = null }, pattern);
        Assert.True(pattern.Exact);
        Assert.Contains(PatternLimit.ThreeVerticals, pattern.CannotSeparate());
        Assert.Contains(PatternWords.Of(pattern), words => words.Pattern.StartsWith("Three vertical positions are met exactly", StringComparison.Ordinal));
    }

    [Fact]
    public void Two_verticals_are_no_pattern_and_four_alike_have_no_direction()
    {
        Assert.Null(PositionPattern.Of(Readings(up: 9, left: 4, dialUp: 3)));
        Assert.Null(Pattern(5, 5, 5, 5).FastestCrownDegrees);
        Assert.Equal("The vertical positions are alike, +5.0 s/d.", PatternWords.Of(Pattern(5, 5, 5, 5)).First().ToString());
    }

    [Theory]
    [InlineData(10, 0, 0, 0, "crown up", "crown left", 0)]
    [InlineData(0, 10, 0, 0, "crown left", "crown down", 90)]
    [InlineData(0, 0, 10, 0, "crown down", "crown right", 180)]
    [InlineData(0, 0, 0, 10, "crown right", "crown up", 270)]
    public void The_fastest_direction_is_said_by_the_two_positions_it_lies_between(int up, int left, int down, int right, string from, string towards, int degrees)
    {
        var pattern = Pattern(up, left, down, right);

        Assert.Equal(degrees, pattern.FastestCrownDegrees!.Value, 9);
        Assert.Contains($"from {from} towards {towards}", PatternWords.Of(pattern).First().ToString());
    }

    [Fact]
    public void One_day_on_the_wrist_is_the_mean_by_the_hours_of_each_position()
    {
        var profile = new WearProfile { DialUpHours = 8, DialDownHours = 6, CrownUpHours = 2, CrownLeftHours = 4, CrownDownHours = 3, CrownRightHours = 1 };

        // (8 · 4 + 6 · 5 + 2 · 9 + 4 · 4 − 3 · 3 + 1 · 2) / 24 = 89 / 24.
        Assert.Equal(3.708m, Math.Round(PredictedRate.Of(Readings(9, 4, -3, 2, 4, 5), profile)!.RatePerDaySeconds, 3));
    }

    [Fact]
    public void Positions_of_the_profile_that_were_not_measured_are_left_out_and_named()
    {
        var profile = new WearProfile { DialUpHours = 12, CrownDownHours = 6, CrownLeftHours = 6 };
        var predicted = PredictedRate.Of(Readings(down: -3, dialUp: 4), profile)!;

        Assert.Equal((1.67m, 18m), (Math.Round(predicted.RatePerDaySeconds, 2), predicted.HoursCovered));
        Assert.Equal([Position.CrownLeft], predicted.Missing.AsEnumerable());
        Assert.Equal("6 h of it are left out, in positions that were not measured: crown left.", PatternWords.Of(predicted, profile).Last().ToString());
        Assert.Null(PredictedRate.Of(Readings(up: 4), profile));
    }

    [Fact]
    public void A_predicted_rate_lies_between_the_extreme_positions_and_does_not_ask_in_which_order_they_were_read()
    {
        var chance = new Random(3159);
        for (var i = 0; i < 500; i++)
        {
            var readings = Readings(chance.Next(-50, 50), chance.Next(-50, 50), chance.Next(-50, 50), chance.Next(-50, 50), chance.Next(-50, 50), chance.Next(-50, 50));
            var profile = new WearProfile
            {
                DialUpHours = chance.Next(1, 5),
                DialDownHours = chance.Next(5),
                CrownUpHours = chance.Next(5),
                CrownDownHours = chance.Next(5),
                CrownLeftHours = chance.Next(5),
                CrownRightHours = chance.Next(5),
            };
            var predicted = PredictedRate.Of(readings, profile)!;
            var shuffled = readings.ToArray();
            chance.Shuffle(shuffled);

            Assert.InRange(predicted.RatePerDaySeconds, readings.Min(one => one.RatePerDaySeconds), readings.Max(one => one.RatePerDaySeconds));
            Assert.Equal(predicted.RatePerDaySeconds, PredictedRate.Of(shuffled, profile)!.RatePerDaySeconds);
            Assert.Equal(PositionPattern.Of(readings), PositionPattern.Of(shuffled));
        }
    }

    [Fact]
    public void A_profile_without_hours_and_one_of_more_than_a_day_are_refused()
    {
        Assert.Empty(TimekeepingRules.Usual.Faults("/timekeeping"));
        Assert.Equal(["/p"], new WearProfile().Faults("/p").Select(fault => fault.Pointer));
        Assert.Equal(["/p"], new WearProfile { DialUpHours = 20, CrownUpHours = 5 }.Faults("/p").Select(fault => fault.Pointer));
    }

    private static PositionPattern Pattern(int? up = null, int? left = null, int? down = null, int? right = null, int? dialUp = null, int? dialDown = null) =>
        PositionPattern.Of(Readings(up, left, down, right, dialUp, dialDown))!;

    private static RateReading[] Readings(int? up = null, int? left = null, int? down = null, int? right = null, int? dialUp = null, int? dialDown = null) =>
    [
        .. new (Position Position, int? Rate)[]
        {
            (Position.CrownUp, up), (Position.CrownLeft, left), (Position.CrownDown, down), (Position.CrownRight, right), (Position.DialUp, dialUp), (Position.DialDown, dialDown),
        }.Where(one => one.Rate is not null).Select(one => new RateReading(one.Position, one.Rate!.Value)),
    ];
}
