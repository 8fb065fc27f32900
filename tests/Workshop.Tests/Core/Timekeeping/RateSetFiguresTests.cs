using CsCheck;
using Workshop.Core.Timekeeping;

namespace Workshop.Tests.Core.Timekeeping;

public class RateSetFiguresTests
{
    [Fact]
    public void Mean_and_spread_are_those_of_the_positions_measured()
    {
        RateReading[] set = [new(Position.CrownLeft, 2), new(Position.DialUp, 4), new(Position.CrownDown, -3.5m)];

        var figures = RateSetFigures.Of(set)!;

        Assert.Equal(0.8333m, Math.Round(figures.MeanPerDaySeconds, 4));
        Assert.Equal(7.5m, figures.SpreadPerDaySeconds);
        Assert.Equal([Position.DialUp, Position.CrownDown, Position.CrownLeft], figures.Positions.ToArray());
        Assert.Equal([Position.DialDown], figures.Missing([Position.DialUp, Position.DialDown, Position.CrownDown]).ToArray());
    }

    [Fact]
    public void A_position_measured_again_counts_with_its_last_reading()
    {
        var figures = RateSetFigures.Of([new(Position.DialUp, 40), new(Position.DialDown, 2), new(Position.DialUp, 4)])!;

        Assert.Equal((3m, 2m), (figures.MeanPerDaySeconds, figures.SpreadPerDaySeconds));
    }

    [Fact]
    public void A_set_without_readings_has_no_figures() => Assert.Null(RateSetFigures.Of([]));

    [Fact]
    public void A_set_moved_by_one_rate_everywhere_moves_its_mean_and_keeps_its_spread() =>
        Gen.Select(Gen.Int[-3000, 3000].Array[1, 6], Gen.Int[-3000, 3000]).Sample((tenths, shift) =>
        {
            RateSetFigures Figures(int by) => RateSetFigures.Of(tenths.Select((rate, i) => new RateReading((Position)i, (rate + by) / 10m)))!;

            return Math.Abs(Figures(shift).MeanPerDaySeconds - Figures(0).MeanPerDaySeconds - shift / 10m) < 1e-20m
                && Figures(shift).SpreadPerDaySeconds == Figures(0).SpreadPerDaySeconds;
        });
}
