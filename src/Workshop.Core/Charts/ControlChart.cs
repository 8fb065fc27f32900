using System.Collections.Immutable;

namespace Workshop.Core.Charts;

/// <summary>How a point lies outside the limits of its chart.</summary>
public enum SignalKind
{
    /// <summary>The rate lies above the upper limit.</summary>
    Above,

    /// <summary>The rate lies below the lower limit.</summary>
    Below,

    /// <summary>The step from the point before is larger than the limit of the moving range.</summary>
    Step,
}

/// <summary>Limits of an individuals chart and of its moving range; seconds per day, unrounded.</summary>
/// <param name="MeanRange">Mean of the moving ranges.</param>
/// <param name="HighestRange">Upper limit of the moving range; its lower one is zero.</param>
/// <param name="Points">The points they were computed from: the first of the chart.</param>
/// <param name="Frozen">There are as many points as the shop asks for: the limits stay until somebody restarts the chart.</param>
public sealed record ControlLimits(decimal Mean, decimal Lowest, decimal Highest, decimal MeanRange, decimal HighestRange, int Points, bool Frozen);

/// <summary>A point outside the limits.</summary>
/// <param name="Point">Counted from 0.</param>
/// <param name="Figure">The rate, or the moving range.</param>
public sealed record ChartSignal(int Point, SignalKind Kind, decimal Figure, decimal Limit);

/// <summary>
/// Individuals and moving range of single figures in the order in which they came: NIST/SEMATECH e-Handbook of Statistical Methods,
/// 6.3.2.2. Which constants are used is stated with every chart: 3/d₂ rounded to 2.66 would differ in the fourth digit.
/// </summary>
/// <param name="Ranges">Moving ranges: the second belongs to the second figure; one fewer than figures.</param>
/// <param name="Limits">null where there are too few points.</param>
public sealed record ControlChart(ImmutableArray<decimal> Figures, ImmutableArray<decimal> Ranges, ControlLimits? Limits, ImmutableArray<ChartSignal> Signals)
{
    /// <summary>d₂ for two figures: the mean range of two normal figures in standard deviations, as the e-Handbook gives it.</summary>
    public const decimal D2 = 1.128m;

    /// <summary>D₄ for two figures: the upper limit of a range in mean ranges, as the e-Handbook gives it.</summary>
    public const decimal D4 = 3.267m;

    private const decimal StandardDeviations = 3;

    /// <param name="figures">In the order of time, from the last restart on.</param>
    public static ControlChart Of(ImmutableArray<decimal> figures, ChartRules rules)
    {
        ImmutableArray<decimal> ranges = [.. figures.Zip(figures.Skip(1), (one, next) => Math.Abs(next - one))];
        var limits = figures.Length >= rules.LeastPoints ? LimitsOf(figures, ranges, rules.BaselinePoints) : null;
        return new ControlChart(figures, ranges, limits, limits is null ? [] : [.. SignalsOf(figures, ranges, limits)]);
    }

    private static ControlLimits LimitsOf(ImmutableArray<decimal> figures, ImmutableArray<decimal> ranges, int baseline)
    {
        var points = Math.Min(figures.Length, baseline);
        var mean = figures.Take(points).Average();
        var range = ranges.Take(points - 1).Average();
        var width = StandardDeviations * range / D2;
        return new ControlLimits(mean, mean - width, mean + width, range, D4 * range, points, figures.Length >= baseline);
    }

    private static IEnumerable<ChartSignal> SignalsOf(ImmutableArray<decimal> figures, ImmutableArray<decimal> ranges, ControlLimits limits)
    {
        for (var i = 0; i < figures.Length; i++)
        {
            if (figures[i] > limits.Highest)
            {
                yield return new ChartSignal(i, SignalKind.Above, figures[i], limits.Highest);
            }
            else if (figures[i] < limits.Lowest)
            {
                yield return new ChartSignal(i, SignalKind.Below, figures[i], limits.Lowest);
            }

            if (i > 0 && ranges[i - 1] > limits.HighestRange)
            {
                yield return new ChartSignal(i, SignalKind.Step, ranges[i - 1], limits.HighestRange);
            }
        }
    }
}
