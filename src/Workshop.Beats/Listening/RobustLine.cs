using MathNet.Numerics.Distributions;

namespace Workshop.Beats.Listening;

/// <summary>A straight line through beats, with one offset between ticks and tocks: t = a + n·slope + offset·(n odd).</summary>
/// <param name="Start">Seconds of beat 0.</param>
/// <param name="Slope">Seconds a beat.</param>
/// <param name="OddOffset">Seconds by which the odd beats come later.</param>
/// <param name="Scatter">Standard deviation of a beat about the line, by those that count.</param>
/// <param name="SlopeError">Standard error of the slope.</param>
/// <param name="OffsetError">Standard error of the offset.</param>
/// <param name="Used">Beats that count for more than a half.</param>
/// <param name="Residuals">Of every beat given, seconds.</param>
/// <param name="Weights">Of every beat given, 0 to 1.</param>
internal sealed record RobustLine(double Start, double Slope, double OddOffset, double Scatter, double SlopeError, double OffsetError, int Used, double[] Residuals, double[] Weights)
{
    // Tukey's constant: 95 % efficiency on normal scatter (Mosteller and Tukey, Data Analysis and Regression, 1977).
    private const double Tukey = 4.685;
    private const int Rounds = 12;

    // Of the median absolute deviation, for normal scatter.
    private static readonly double MadToSigma = 1 / Normal.InvCDF(0, 1, 0.75);

    public double At(int number) => Start + number * Slope + (number & 1) * OddOffset;

    /// <summary>Tukey-weighted least squares, begun from the median slope of pairs of the same parity.</summary>
    /// <param name="numbers">Beat numbers, rising.</param>
    /// <param name="times">Seconds; what is no number counts for nothing.</param>
    /// <returns>Null where fewer than eight beats are left.</returns>
    public static RobustLine? Fit(int[] numbers, double[] times)
    {
        if (numbers.Length < 8 || MedianSlope(numbers, times) is not { } slope)
        {
            return null;
        }

        var weights = new double[times.Length];
        var residuals = new double[times.Length];
        var odd = MedianWhere(numbers, times, slope, 1);
        var even = MedianWhere(numbers, times, slope, 0);
        if (double.IsNaN(odd) || double.IsNaN(even))
        {
            return null;
        }

        var line = (Start: even, Slope: slope, Odd: odd - even);
        for (var round = 0; round < Rounds; round++)
        {
            Weigh(numbers, times, line, residuals, weights);
            if (Solve(numbers, times, weights) is not { } next)
            {
                return null;
            }

            line = next;
        }

        return Finish(numbers, times, line, residuals, weights);
    }

    private static RobustLine? Finish(int[] numbers, double[] times, (double Start, double Slope, double Odd) line, double[] residuals, double[] weights)
    {
        Weigh(numbers, times, line, residuals, weights);
        double sum = 0;
        double squares = 0;
        double meanEven = 0, meanOdd = 0, sumEven = 0, sumOdd = 0;
        var used = 0;
        for (var i = 0; i < times.Length; i++)
        {
            if (weights[i] == 0)
            {
                continue;
            }

            used += weights[i] > 0.5 ? 1 : 0;
            sum += weights[i];
            squares += weights[i] * residuals[i] * residuals[i];
            (sumEven, sumOdd) = (numbers[i] & 1) == 0 ? (sumEven + weights[i], sumOdd) : (sumEven, sumOdd + weights[i]);
            (meanEven, meanOdd) = (numbers[i] & 1) == 0 ? (meanEven + weights[i] * numbers[i], meanOdd) : (meanEven, meanOdd + weights[i] * numbers[i]);
        }

        if (used < 8 || sumEven == 0 || sumOdd == 0)
        {
            return null;
        }

        (meanEven, meanOdd) = (meanEven / sumEven, meanOdd / sumOdd);
        double spread = 0;
        for (var i = 0; i < times.Length; i++)
        {
            var from = numbers[i] - ((numbers[i] & 1) == 0 ? meanEven : meanOdd);
            spread += weights[i] * from * from;
        }

        // The weights take 8 % off the variance of normal scatter (their mean square against their mean, by simulation).
        var scatter = Math.Sqrt(1.08 * squares / Math.Max(1, sum - 3));
        return new RobustLine(line.Start, line.Slope, line.Odd, scatter, scatter / Math.Sqrt(spread), scatter * Math.Sqrt(1 / sumEven + 1 / sumOdd), used, residuals, weights);
    }

    private static void Weigh(int[] numbers, double[] times, (double Start, double Slope, double Odd) line, double[] residuals, double[] weights)
    {
        for (var i = 0; i < times.Length; i++)
        {
            residuals[i] = times[i] - line.Start - numbers[i] * line.Slope - (numbers[i] & 1) * line.Odd;
        }

        var sizes = residuals.Where(double.IsFinite).Select(Math.Abs).ToArray();
        var sigma = Math.Max(1e-9, MadToSigma * Median(sizes));
        for (var i = 0; i < times.Length; i++)
        {
            var u = residuals[i] / (Tukey * sigma);
            weights[i] = double.IsFinite(u) && Math.Abs(u) < 1 ? (1 - u * u) * (1 - u * u) : 0;
        }
    }

    // The offset is taken off by the weighted means of each parity; what is left is a line through the origin.
    private static (double Start, double Slope, double Odd)? Solve(int[] numbers, double[] times, double[] weights)
    {
        Span<double> sum = stackalloc double[2];
        Span<double> n = stackalloc double[2];
        Span<double> t = stackalloc double[2];
        for (var i = 0; i < times.Length; i++)
        {
            if (weights[i] > 0)
            {
                var p = numbers[i] & 1;
                sum[p] += weights[i];
                n[p] += weights[i] * numbers[i];
                t[p] += weights[i] * times[i];
            }
        }

        if (sum[0] <= 0 || sum[1] <= 0)
        {
            return null;
        }

        double above = 0;
        double below = 0;
        for (var i = 0; i < times.Length; i++)
        {
            if (weights[i] > 0)
            {
                var p = numbers[i] & 1;
                var from = numbers[i] - n[p] / sum[p];
                above += weights[i] * from * (times[i] - t[p] / sum[p]);
                below += weights[i] * from * from;
            }
        }

        if (below <= 0)
        {
            return null;
        }

        var slope = above / below;
        var even = t[0] / sum[0] - slope * n[0] / sum[0];
        return (even, slope, t[1] / sum[1] - slope * n[1] / sum[1] - even);
    }

    // Theil and Sen over pairs a third of the recording apart and more; all pairs would be a hundred thousand.
    private static double? MedianSlope(int[] numbers, double[] times)
    {
        var slopes = new List<double>();
        for (var apart = times.Length / 3 & ~1; apart < times.Length; apart += Math.Max(2, times.Length / 12 & ~1))
        {
            for (var i = 0; i + apart < times.Length; i++)
            {
                var beats = numbers[i + apart] - numbers[i];
                if (beats > 0 && beats % 2 == 0 && double.IsFinite(times[i]) && double.IsFinite(times[i + apart]))
                {
                    slopes.Add((times[i + apart] - times[i]) / beats);
                }
            }
        }

        return slopes.Count == 0 ? null : Median([.. slopes]);
    }

    private static double MedianWhere(int[] numbers, double[] times, double slope, int parity)
    {
        var starts = new List<double>();
        for (var i = 0; i < times.Length; i++)
        {
            if ((numbers[i] & 1) == parity && double.IsFinite(times[i]))
            {
                starts.Add(times[i] - numbers[i] * slope);
            }
        }

        return starts.Count == 0 ? double.NaN : Median([.. starts]);
    }

    internal static double Median(double[] values)
    {
        if (values.Length == 0)
        {
            return 0;
        }

        Array.Sort(values);
        return values.Length % 2 == 1 ? values[values.Length / 2] : 0.5 * (values[values.Length / 2 - 1] + values[values.Length / 2]);
    }
}
