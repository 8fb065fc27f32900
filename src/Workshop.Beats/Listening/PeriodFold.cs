using System.Runtime.CompilerServices;

namespace Workshop.Beats.Listening;

/// <summary>An envelope laid over itself, period by period.</summary>
/// <param name="Profile">Mean of each phase.</param>
/// <param name="Explained">Share of the envelope's variance that the profile explains, corrected for chance.</param>
/// <param name="NoiseOfMean">Standard deviation of a mean of the profile by chance.</param>
internal sealed record PeriodFold(double[] Profile, double Explained, double NoiseOfMean)
{
    /// <param name="envelope">At <paramref name="rate"/> values a second.</param>
    /// <param name="period">Seconds.</param>
    /// <param name="even">Takes an even number of phases.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static PeriodFold Of(float[] envelope, double rate, double period, bool even = false)
    {
        var bins = even ? 2 * (int)Math.Round(period * rate / 2) : (int)Math.Round(period * rate);
        var sums = new double[bins];
        var counts = new int[bins];
        double total = 0;
        double squares = 0;
        var step = 1 / (period * rate);
        for (var i = 0; i < envelope.Length; i++)
        {
            var turns = i * step;
            var bin = Math.Min(bins - 1, (int)((turns - Math.Floor(turns)) * bins));
            sums[bin] += envelope[i];
            counts[bin]++;
            total += envelope[i];
            squares += (double)envelope[i] * envelope[i];
        }

        var mean = total / envelope.Length;
        var whole = squares - total * mean;
        double between = 0;
        for (var b = 0; b < bins; b++)
        {
            sums[b] = counts[b] > 0 ? sums[b] / counts[b] : mean;
            between += counts[b] * (sums[b] - mean) * (sums[b] - mean);
        }

        var rest = Math.Max(0, whole - between) / Math.Max(1, envelope.Length - bins);
        var explained = whole > 0 ? (between - (bins - 1) * rest) / whole : 0;
        return new PeriodFold(sums, explained, Math.Sqrt(rest * bins / envelope.Length));
    }

    /// <summary>The profile as it would be without its finest detail: a circular mean over <paramref name="width"/> phases.</summary>
    public double[] Smoothed(int width)
    {
        var bins = Profile.Length;
        var smooth = new double[bins];
        for (var b = 0; b < bins; b++)
        {
            for (var k = 0; k < width; k++)
            {
                smooth[b] += Profile[(b + k - width / 2 + bins) % bins] / width;
            }
        }

        return smooth;
    }
}
