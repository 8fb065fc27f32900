using Workshop.Core.Timekeeping;

namespace Workshop.Tests.References;

/// <summary>Rates by position; sources and how sure they are: SOURCES.md, "Patterns over the positions".</summary>
public class PositionPatternReferenceTests
{
    [Theory]
    [InlineData(9, 4, -3, 2, 3.0, 37, 9.46, 0)]
    [InlineData(9, 6, -3, 2, 3.5, 40, 18.43, -0.5)]
    public void The_first_harmonic_over_four_upright_positions(int up, int left, int down, int right, double mean, int swingSquared, double degrees, double residual)
    {
        var pattern = PositionPattern.Of([new(Position.CrownUp, up), new(Position.CrownLeft, left), new(Position.CrownDown, down), new(Position.CrownRight, right)])!;

        Assert.Equal((decimal)mean, pattern.VerticalMeanPerDaySeconds);
        Assert.Equal(Math.Sqrt(swingSquared), (double)pattern.HalfSwingPerDaySeconds, 12);
        Assert.Equal(degrees, (double)pattern.FastestCrownDegrees!.Value, 2);
        Assert.Equal((decimal)residual, pattern.ResidualPerDaySeconds);
    }

    [Fact]
    public void A_day_on_the_wrist_by_the_hours_of_each_position()
    {
        var profile = new WearProfile { DialUpHours = 8, DialDownHours = 6, CrownUpHours = 2, CrownLeftHours = 4, CrownDownHours = 3, CrownRightHours = 1 };

        Assert.Equal(89m / 24, PredictedRate.Of(Six, profile)!.RatePerDaySeconds);
    }

    [Fact]
    public void A_bench_that_leaves_out_its_worst_position_looks_better()
    {
        var (all, five) = (RateSetFigures.Of(Six)!, RateSetFigures.Of(Six.Where(one => one.Position != Position.CrownDown))!);

        Assert.Equal((3.5m, 12m), (all.MeanPerDaySeconds, all.SpreadPerDaySeconds));
        Assert.Equal((4.8m, 7m), (five.MeanPerDaySeconds, five.SpreadPerDaySeconds));
    }

    private static RateReading[] Six { get; } =
        [new(Position.DialUp, 4), new(Position.DialDown, 5), new(Position.CrownUp, 9), new(Position.CrownLeft, 4), new(Position.CrownDown, -3), new(Position.CrownRight, 2)];
}
