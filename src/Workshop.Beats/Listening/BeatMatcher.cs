using System.Numerics;
using System.Runtime.InteropServices;

namespace Workshop.Beats.Listening;

/// <summary>Averages stretches of an envelope around expected moments, and finds each beat's own moment by comparing it with the average.</summary>
internal static class BeatMatcher
{
    /// <summary>Mean of the envelope around each moment, without the tenth that is loudest at its place and without what is no number.</summary>
    /// <param name="values">At <paramref name="rate"/> values a second.</param>
    /// <param name="moments">Seconds; those too near an end are left out.</param>
    /// <param name="from">First value against the moment; may be negative.</param>
    public static double[] TrimmedMean(float[] values, double rate, IReadOnlyList<double> moments, int from, int length, double trimmed = 0.1)
    {
        var begins = moments.Where(double.IsFinite).Select(one => (int)Math.Round(one * rate) + from).Where(begin => begin >= 0 && begin + length <= values.Length).ToArray();
        var mean = new double[length];
        if (begins.Length == 0)
        {
            return mean;
        }

        var column = new float[begins.Length];
        var kept = Math.Max(1, begins.Length - (int)(trimmed * begins.Length));
        for (var k = 0; k < length; k++)
        {
            for (var i = 0; i < begins.Length; i++)
            {
                column[i] = values[begins[i] + k];
            }

            Array.Sort(column);
            double sum = 0;
            for (var i = 0; i < kept; i++)
            {
                sum += column[i];
            }

            mean[k] = sum / kept;
        }

        return mean;
    }

    /// <summary>The template less its mean, so that a louder surrounding does not pull.</summary>
    public static float[] Centred(double[] template)
    {
        var mean = template.Average();
        return [.. template.Select(one => (float)(one - mean))];
    }

    /// <summary>Where a stretch resembles the template most.</summary>
    /// <param name="moment">Expected, seconds.</param>
    /// <param name="reach">Values to search to each side.</param>
    /// <returns>Seconds from the expected moment, and the size of the likeness there; no number where the recording ends or the best lies at the edge.</returns>
    public static (double Shift, double Likeness) Match(float[] values, double rate, double moment, float[] template, int from, int reach)
    {
        var centre = (int)Math.Round(moment * rate);
        var begin = centre + from - reach;
        if (begin < 0 || begin + template.Length + 2 * reach > values.Length)
        {
            return (double.NaN, double.NaN);
        }

        Span<float> likeness = stackalloc float[2 * reach + 1];
        var best = 0;
        for (var lag = 0; lag < likeness.Length; lag++)
        {
            likeness[lag] = Dot(values.AsSpan(begin + lag, template.Length), template);
            best = likeness[lag] > likeness[best] ? lag : best;
        }

        if (best == 0 || best == likeness.Length - 1)
        {
            return (double.NaN, likeness[best]);
        }

        var part = Vertex(likeness[best - 1], likeness[best], likeness[best + 1]);
        return ((centre + best - reach + part) / rate - moment, likeness[best]);
    }

    /// <summary>Where a parabola through three neighbours is highest, against the middle one.</summary>
    public static double Vertex(double before, double middle, double after)
    {
        var bend = before - 2 * middle + after;
        return bend < 0 ? Math.Clamp(0.5 * (before - after) / bend, -0.5, 0.5) : 0;
    }

    public static float Dot(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        var left = MemoryMarshal.Cast<float, Vector<float>>(a);
        var right = MemoryMarshal.Cast<float, Vector<float>>(b);
        var sums = Vector<float>.Zero;
        for (var i = 0; i < right.Length; i++)
        {
            sums += left[i] * right[i];
        }

        var sum = Vector.Sum(sums);
        for (var i = right.Length * Vector<float>.Count; i < b.Length; i++)
        {
            sum += a[i] * b[i];
        }

        return sum;
    }
}
