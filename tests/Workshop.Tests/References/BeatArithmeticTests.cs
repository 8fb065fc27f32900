using Workshop.Core.Timekeeping;
using Workshop.Core.Timekeeping.Quantities;

namespace Workshop.Tests.References;

/// <summary>Beats, amplitudes and positions; sources and how sure they are: SOURCES.md, "Beats and positions".</summary>
public class BeatArithmeticTests
{
    [Theory]
    [InlineData(18_000, 2.5, 200, 400, 432_000)]
    [InlineData(19_800, 2.75, 181.8181818, 363.6363636, 475_200)]
    [InlineData(21_600, 3, 166.6666667, 333.3333333, 518_400)]
    [InlineData(25_200, 3.5, 142.8571429, 285.7142857, 604_800)]
    [InlineData(28_800, 4, 125, 250, 691_200)]
    [InlineData(36_000, 5, 100, 200, 864_000)]
    public void Vibrations_an_hour_are_a_frequency_a_beat_and_a_period(int vibrations, double hertz, double beat, double period, int beatsPerDay)
    {
        Assert.Equal(hertz, BeatArithmetic.Hertz(vibrations), 12);
        Assert.Equal(beat, BeatArithmetic.BeatMilliseconds(vibrations), 7);
        Assert.Equal(period, BeatArithmetic.PeriodMilliseconds(vibrations), 7);
        Assert.Equal(beatsPerDay, BeatArithmetic.BeatsPerDay(vibrations));
    }

    [Theory]
    [InlineData(124.990, 6.912553)]
    [InlineData(125.010, -6.911447)]
    public void A_shorter_beat_gains_by_true_time(double measured, double rate) => Assert.Equal(rate, BeatArithmetic.RatePerDaySeconds(125, measured), 6);

    /// <summary>The first order (t0 − tb) / t0 is ±6.912 s/d for both; true time differs from it by r² / 86 400.</summary>
    [Theory]
    [InlineData(124.990)]
    [InlineData(125.010)]
    [InlineData(124.7)]
    public void A_rate_differs_from_its_first_order_by_its_square(double measured)
    {
        var exact = (double)DailyRate.OfBeat(new Vibrations(28_800), measured).PerDaySeconds;
        var first = 86_400 * (125 - measured) / 125;

        Assert.Equal(exact * first / 86_400, exact - first, 9);
        Assert.True(exact > first);
    }

    [Fact]
    public void Quantities_go_by_the_same_arithmetic()
    {
        var (vibrations, lift) = (new Vibrations(28_800), new LiftAngle(52));

        Assert.Equal((4d, 125d, 250d, 691_200), (vibrations.Hertz, vibrations.BeatMilliseconds, vibrations.PeriodMilliseconds, vibrations.BeatsPerDay));
        Assert.Equal(269.9968m, Math.Round(Amplitude.OfUnlockingToDrop(vibrations, lift, 7.675).Degrees, 4));
        Assert.Equal(7.67491, new Amplitude(270).UnlockingToDropMilliseconds(vibrations, lift), 5);
        Assert.Equal(2.0357, new Amplitude(270).RestOffsetDegrees(vibrations, BeatError.OfBeats(125.6m, 124.4m)), 4);
        Assert.Equal(1.2m, Math.Round(BeatError.OfBeats(124.4m, 125.6m).WholeDifferenceMilliseconds, 9));
        Assert.Equal(11.57407, new DailyRate(1).PartsPerMillion, 5);
        Assert.Equal(269m, Math.Round(new Amplitude(280).AtLiftAngle(lift, new LiftAngle(50)).Degrees));
    }

    [Fact]
    public void A_second_a_day_is_under_twelve_parts_in_a_million() => Assert.Equal(11.57407, BeatArithmetic.PartsPerMillion(1), 5);

    [Theory]
    [InlineData(28_800, 52, 7.675, 269.9968)]
    [InlineData(28_800, 52, 8.0, 259.0629)]
    [InlineData(28_800, 52, 10.0, 207.4470)]
    [InlineData(28_800, 50, 8.2, 243.0441)]
    [InlineData(21_600, 52, 10.5, 263.1613)]
    [InlineData(18_000, 50, 12.5, 255.0574)]
    [InlineData(36_000, 50, 6.0, 265.6513)]
    public void An_amplitude_follows_from_unlocking_to_drop(int vibrations, double lift, double milliseconds, double amplitude)
    {
        var computed = BeatArithmetic.AmplitudeDegrees(vibrations, lift, milliseconds);

        Assert.Equal(amplitude, computed, 4);
        Assert.Equal(milliseconds, BeatArithmetic.UnlockingToDropMilliseconds(vibrations, lift, computed), 9);
    }

    [Theory]
    [InlineData(28_800, 52, 270, 7.67491)]
    [InlineData(28_800, 52, 315, 6.57578)]
    [InlineData(28_800, 52, 200, 10.37443)]
    [InlineData(21_600, 52, 270, 10.23321)]
    [InlineData(18_000, 50, 250, 12.75371)]
    public void From_unlocking_to_drop_follows_from_the_amplitude(int vibrations, double lift, double amplitude, double milliseconds) =>
        Assert.Equal(milliseconds, BeatArithmetic.UnlockingToDropMilliseconds(vibrations, lift, amplitude), 5);

    [Fact]
    public void The_beat_error_is_half_the_difference_and_has_an_angle()
    {
        Assert.Equal(0.6, BeatArithmetic.BeatError(125.6, 124.4), 9);
        Assert.Equal(2.0357, BeatArithmetic.RestOffsetDegrees(28_800, 270, 0.6), 4);
    }

    [Fact]
    public void An_amplitude_read_at_a_wrong_lift_angle_is_corrected_in_proportion() => Assert.Equal(269, Math.Round(BeatArithmetic.AtLiftAngle(280, 52, 50)));

    [Theory]
    [InlineData(3, 3, 0)]
    [InlineData(3, 12, 90)]
    [InlineData(3, 9, 180)]
    [InlineData(3, 6, 270)]
    [InlineData(4, 3, 30)]
    public void The_crown_points_where_its_hour_and_the_mark_on_top_turn_it(int crown, int mark, int degrees) => Assert.Equal(degrees, ControlPosition.CrownDegrees(crown, mark));

    [Theory]
    [InlineData("CH", Position.DialUp, Position.DialUp)]
    [InlineData("FH", Position.DialDown, Position.DialDown)]
    [InlineData("3H", Position.CrownUp, Position.CrownDown)]
    [InlineData("6H", Position.CrownLeft, Position.CrownRight)]
    [InlineData("9H", Position.CrownDown, Position.CrownUp)]
    [InlineData("12H", Position.CrownRight, Position.CrownLeft)]
    public void A_symbol_names_the_mark_on_top_so_that_a_left_hand_crown_points_the_other_way(string symbol, Position usual, Position leftHand)
    {
        Assert.Equal(usual, ControlPosition.Of(symbol));
        Assert.Equal(leftHand, ControlPosition.Of(symbol, 9));
        Assert.Equal(symbol, ControlPosition.SymbolOf(usual));
        Assert.Equal(symbol, ControlPosition.SymbolOf(leftHand, 9));
    }

    [Fact]
    public void Every_position_has_a_symbol_wherever_the_crown_sits()
    {
        for (var crown = 1; crown <= 12; crown++)
        {
            Assert.Equal(Enum.GetValues<Position>(), Enum.GetValues<Position>().Select(position => ControlPosition.Of(ControlPosition.SymbolOf(position, crown), crown)!.Value));
        }

        Assert.Equal(Position.DialDown, ControlPosition.Of("cb"));
        Assert.Null(ControlPosition.Of("4H"));
    }
}
