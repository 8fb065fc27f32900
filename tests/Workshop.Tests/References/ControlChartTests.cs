using Workshop.Core.Charts;

namespace Workshop.Tests.References;

/// <summary>Individuals charts and intervals of a mean; sources and how sure they are: SOURCES.md, "Control charts and intervals".</summary>
public class ControlChartTests
{
    [Fact]
    public void The_ten_flow_rates_of_the_e_Handbook_are_in_control()
    {
        var chart = ControlChart.Of([49.6m, 47.6m, 49.9m, 51.3m, 47.8m, 51.2m, 52.6m, 52.4m, 53.6m, 52.1m], ChartRules.Usual);

        var limits = chart.Limits!;
        Assert.Equal((50.81m, 55.8041m, 45.8159m), (limits.Mean, Math.Round(limits.Highest, 4), Math.Round(limits.Lowest, 4)));
        Assert.Equal((1.8778m, 6.1347m), (Math.Round(limits.MeanRange, 4), Math.Round(limits.HighestRange, 4)));
        Assert.Empty(chart.Signals);

        // With 3/d₂ rounded to 2.66 the upper limit would be 55.8049: which constant was used shows in the fourth digit.
        Assert.NotEqual(Math.Round(limits.Mean + (2.66m * limits.MeanRange), 4), Math.Round(limits.Highest, 4));
    }

    [Fact]
    public void The_interval_of_195_heat_flow_meters_is_that_of_the_e_Handbook()
    {
        var interval = StudentInterval.Of(9.261460m, 0.022789m, 195);

        Assert.InRange(interval.Lowest, 9.258242m - 0.000001m, 9.258242m + 0.000001m);
        Assert.InRange(interval.Highest, 9.264679m - 0.000001m, 9.264679m + 0.000001m);
        Assert.Equal(1.9723m, Math.Round(interval.T, 4));
    }

    [Theory]
    [InlineData(1, 12.706)]
    [InlineData(2, 4.303)]
    [InlineData(17, 2.110)]
    [InlineData(100, 1.984)]
    public void A_fortieth_lies_above_the_tabled_t(int degrees, double t) => Assert.Equal((decimal)t, Math.Round(StudentInterval.ValueOf(degrees), 3));
}
