using System.Collections.Immutable;
using CsCheck;
using NodaTime;
using Workshop.Core.Charts;
using Workshop.Core.Journal;

namespace Workshop.Tests.Core.Charts;

/// <summary>Limits, when there are any, when they are frozen, and what lies outside them.</summary>
public class ControlChartTests
{
    private static readonly ImmutableArray<decimal> Steady = [.. Enumerable.Range(0, 20).Select(i => i % 2 == 0 ? 3m : 4m)];

    [Fact]
    public void Seven_worn_checks_have_no_limits_and_eight_have_some_that_still_move()
    {
        Assert.Null(ControlChart.Of([.. Steady.Take(7)], ChartRules.Usual).Limits);

        var eight = ControlChart.Of([.. Steady.Take(8)], ChartRules.Usual).Limits!;

        Assert.Equal((8, false, 3.5m, 1m), (eight.Points, eight.Frozen, eight.Mean, eight.MeanRange));
    }

    [Fact]
    public void With_twenty_the_limits_are_frozen_whatever_comes_after()
    {
        var twenty = ControlChart.Of(Steady, ChartRules.Usual).Limits!;
        var more = ControlChart.Of([.. Steady, 9m, 11m, -8m], ChartRules.Usual);

        Assert.True(twenty.Frozen);
        Assert.Equal(twenty, more.Limits);
        Assert.Equal(21, ControlChart.Of([.. Steady, 9m, 11m], ChartRules.Usual with { BaselinePoints = 21 }).Limits!.Points);
    }

    [Fact]
    public void Points_outside_and_steps_that_are_too_large_are_named()
    {
        var chart = ControlChart.Of([.. Steady, 9m, 11m, -8m], ChartRules.Usual);

        Assert.Equal(
            [(20, SignalKind.Above), (20, SignalKind.Step), (21, SignalKind.Above), (22, SignalKind.Below), (22, SignalKind.Step)],
            chart.Signals.Select(signal => (signal.Point, signal.Kind)));
        Assert.Equal((9m, 5m), (chart.Signals[0].Figure, chart.Signals[1].Figure));
    }

    [Fact]
    public void A_point_on_its_limit_is_inside()
    {
        var width = 3 * 1m / ControlChart.D2;
        var chart = ControlChart.Of([.. Steady, 3.5m + width], ChartRules.Usual);

        Assert.DoesNotContain(chart.Signals, signal => signal.Kind == SignalKind.Above);
    }

    [Fact]
    public void Limits_lie_about_the_mean_and_move_with_the_figures() =>
        Gen.Select(Gen.Int[-300, 300].Array[8, 30], Gen.Int[-50, 50]).Sample((tenths, shift) =>
        {
            ImmutableArray<decimal> rates = [.. tenths.Select(tenth => tenth / 10m)];
            var limits = ControlChart.Of(rates, ChartRules.Usual).Limits!;
            var shifted = ControlChart.Of([.. rates.Select(rate => rate + shift)], ChartRules.Usual).Limits!;

            Assert.True(limits.Lowest <= limits.Mean && limits.Mean <= limits.Highest);
            Assert.Equal(limits.Mean + shift, shifted.Mean, 9);
            Assert.Equal(limits.Highest - limits.Lowest, shifted.Highest - shifted.Lowest, 9);
        });

    [Fact]
    public void A_restart_concerns_the_charts_that_are_of_what_it_names()
    {
        var (bench, instrument, both) = (new ChartSeries("bench-2", null), new ChartSeries(null, "acoustic-1"), new ChartSeries("bench-2", "acoustic-1"));

        Assert.All([bench, instrument, both], series => Assert.True(Restart(null, null).Concerns(series)));
        Assert.Equal([true, false, true], new[] { bench, instrument, both }.Select(Restart("bench-2", null).Concerns));
        Assert.Equal([false, true, true], new[] { bench, instrument, both }.Select(Restart(null, "acoustic-1").Concerns));
        Assert.Equal([false, false, true], new[] { bench, instrument, both }.Select(Restart("bench-2", "acoustic-1").Concerns));
        Assert.Equal("b", ChartRestart.LastOf([Restart(null, null, "a", 1), Restart("bench-2", null, "b", 3), Restart("bench-3", null, "c", 4)], both)!.Reason);
    }

    private static ChartRestart Restart(string? bench, string? instrument, string reason = "new instrument", int day = 1) =>
        new(new EventId("/desk/1", "r"), Instant.FromUtc(2026, 3, day, 9, 0), "vera", bench, instrument, reason);
}
