using CsCheck;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using static Workshop.Tests.Core.Timekeeping.Measured;

namespace Workshop.Tests.Core.Timekeeping;

/// <summary>Worked by hand from means and least squares.</summary>
public class RateComparisonTests
{
    [Fact]
    public void From_full_wind_to_a_day_later_each_position_and_the_mean_change()
    {
        var compared = RateComparison.Of(Record(Set(), Set(Shifted(-3, -40), WindState.OneDay, hour: 24)), TimekeepingRules.Usual);
        var change = compared.Isochronism!;

        Assert.Equal((3.5m, 0.5m, -3m, 12m, 12m), (change.MeanBeforePerDaySeconds, change.MeanAfterPerDaySeconds, change.ChangePerDaySeconds, change.SpreadBeforePerDaySeconds, change.SpreadAfterPerDaySeconds));
        Assert.All(change.Positions, one => Assert.Equal(-3m, one.ChangePerDaySeconds));
        Assert.Equal("After a day +0.5 s/d, at full wind +3.5 s/d: a change of -3.0 s/d over 6 positions.", ComparisonWords.Isochronism(change).ToString());
    }

    [Fact]
    public void As_received_is_compared_with_now_over_the_positions_that_both_have()
    {
        var compared = RateComparison.Of(Record(Set(Shifted(-20).Take(4)), Set(adjustment: 1, hour: 5)), TimekeepingRules.Usual);
        var change = compared.BeforeAndAfter!;

        Assert.Equal([Position.DialUp, Position.DialDown, Position.CrownUp, Position.CrownLeft], change.Positions.Select(one => one.Position));
        Assert.Equal((-14.5m, 5.5m, 20m), (change.MeanBeforePerDaySeconds, change.MeanAfterPerDaySeconds, change.ChangePerDaySeconds));
        Assert.Null(RateComparison.Of(Record(Set(wind: WindState.Part), Set(adjustment: 1, hour: 5)), TimekeepingRules.Usual).BeforeAndAfter);
    }

    [Fact]
    public void The_rate_against_the_amplitude_is_one_slope_within_the_positions()
    {
        // Every position loses 3 s/d for 40° less: +0.75 s/d for each ten degrees, whatever the positions are among each other.
        var slope = AmplitudeDependence.Of([Set(), Set(Shifted(-3, -40), WindState.OneDay, hour: 24)], 20)!;

        Assert.Equal((0.75m, 12, 6, 215m, 290m), (slope.PerDaySecondsPerTenDegrees, slope.Readings, slope.Positions, slope.LeastDegrees, slope.MostDegrees));
        Assert.Equal("+0.75 s/d for each 10° more amplitude, between 215° and 290°, from 12 readings.", ComparisonWords.Of(slope).ToString());
    }

    [Fact]
    public void Too_few_amplitudes_or_too_close_together_give_no_slope()
    {
        Assert.Null(AmplitudeDependence.Of([Set()], 20));
        Assert.Null(AmplitudeDependence.Of([Set(), Set(Shifted(-3, -19.9m), hour: 24)], 20));
        Assert.Null(AmplitudeDependence.Of([Set(Six.Take(2)), Set(Shifted(-3, -40).Skip(2), hour: 24)], 20));
        Assert.Contains(ComparisonLimit.AmplitudesAlike, RateComparison.Of(Record(Set(), Set(adjustment: 1, hour: 24)), TimekeepingRules.Usual).CannotSeparate);
    }

    [Fact]
    public void A_slope_is_found_again_whatever_the_positions_are() =>
        Gen.Select(Gen.Int[-30, 30], Gen.Int[-200, 200].Array[6], Gen.Int[21, 90]).Sample((perTen, rates, drop) =>
        {
            RateReading[] full = [.. rates.Select((rate, i) => new RateReading((Position)i, rate / 10m, 270 + i))];
            var later = full.Select(one => one with { RatePerDaySeconds = one.RatePerDaySeconds - (perTen * drop / 100m), AmplitudeDegrees = one.AmplitudeDegrees - drop });

            return Math.Abs(AmplitudeDependence.Of([Set(full), Set(later, hour: 24)], 20)!.PerDaySecondsPerTenDegrees - (perTen / 10m)) < 1e-20m;
        });

    [Fact]
    public void Flat_less_upright_is_shown_of_every_set_that_has_both()
    {
        var flats = RateComparison.Of(Record(Set(), Set(Six.Take(2), hour: 1), Set(Shifted(1, -40), WindState.OneDay, hour: 24)), TimekeepingRules.Usual).FlatToVertical;

        // (4 + 5) / 2 − (9 + 4 − 3 + 2) / 4 = 1.5.
        Assert.Equal([1.5m, 1.5m], flats.Select(one => one.FlatLessVerticalPerDaySeconds));
        Assert.Equal([268.83m, 228.83m], flats.Select(one => Math.Round(one.AmplitudeDegrees!.Value, 2)));
    }

    [Fact]
    public void What_the_sets_cannot_tell_apart_is_said()
    {
        Assert.Equal(
            [ComparisonLimit.OneSet, ComparisonLimit.AmplitudesAlike, ComparisonLimit.NoBeforeAndAfter, ComparisonLimit.ImbalanceFromHairspring, ComparisonLimit.OneInstrument],
            RateComparison.Of(Record(Set()), TimekeepingRules.Usual).CannotSeparate.AsEnumerable());
        Assert.Equal(
            [ComparisonLimit.NoBeforeAndAfter],
            RateComparison.Of(
                Record(Set(), Set(Shifted(-3, -40), WindState.OneDay, hour: 24, told: set => set with { Instrument = "the other one" })), TimekeepingRules.Usual).CannotSeparate.AsEnumerable());
    }

    [Fact]
    public void A_target_moves_every_position_alike_until_the_wrist_keeps_the_aim()
    {
        var profile = new WearProfile { DialUpHours = 8, DialDownHours = 6, CrownUpHours = 2, CrownLeftHours = 4, CrownDownHours = 3, CrownRightHours = 1 };
        var target = RegulationTarget.Of(Set(), profile, Kind("modern-automatic"))!;

        // The aim is +4 and the wrist 89 / 24.
        Assert.Equal((4m, 4 - (89m / 24)), (target.AimPerDaySeconds, target.MoveByPerDaySeconds));
        Assert.Equal(4m, Math.Round(PredictedRate.Of(target.Positions.Select(one => new RateReading(one.Position, one.AfterPerDaySeconds)), profile)!.RatePerDaySeconds, 20));
        Assert.Equal((12m, false), (target.SpreadPerDaySeconds, target.SpreadTooWide));
        Assert.Equal(
            ["Move it 0.3 s/d faster: on the wrist it would then keep +4.0 s/d.", "Regulation moves every position alike: the spread of 12.0 s/d stays."],
            ComparisonWords.Of(target).Select(words => words.In(Language.English)));
    }

    [Fact]
    public void Without_an_aim_the_middle_counts_and_a_spread_that_is_too_wide_is_no_matter_of_the_index()
    {
        var target = RegulationTarget.Of(Set([.. Six.Take(5), new(Position.CrownRight, 25)]), WearProfile.Usual, Kind("hand-wound"))!;

        Assert.Equal((3.5m, 28m, true), (target.AimPerDaySeconds, target.SpreadPerDaySeconds, target.SpreadTooWide));
        Assert.StartsWith("The spread of 28.0 s/d is more than 20.0", ComparisonWords.Of(target).Last().ToString(), StringComparison.Ordinal);
        Assert.Null(RegulationTarget.Of(Set(), new WearProfile(), Kind("hand-wound")));
    }
}
