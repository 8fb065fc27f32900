using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Workshop.Beats.Listening;

/// <summary>Averages stretches of an envelope around expected moments, and finds each beat's own moment by comparing it with the average.</summary>
internal static class BeatMatcher
{
    // What stands out at its place by so many standard deviations is a click or a voice and is left out; three rounds, since it widens the first.
    private const float Outstanding = 2.5f;
    private const int Rounds = 3;

    /// <summary>Mean of the envelope around each moment, without what stands out at its place.</summary>
    /// <param name="values">At <paramref name="rate"/> values a second; all finite.</param>
    /// <param name="moments">Seconds; those too near an end, and those that are no number, are left out.</param>
    /// <param name="from">First value against the moment; may be negative.</param>
    public static double[] TrimmedMean(float[] values, double rate, IReadOnlyList<double> moments, int from, int length)
    {
        var (sums, counts, _) = Trimmed(values, rate, moments, from, length);
        return [.. sums.Zip(counts, (sum, count) => (double)sum / Math.Max(1, count))];
    }

    /// <summary>The same as sums, how many values are in each, and above which value one is left out.</summary>
    public static (float[] Sums, float[] Counts, float[] Most) Trimmed(float[] values, double rate, IReadOnlyList<double> moments, int from, int length)
    {
        var begins = moments.Where(double.IsFinite).Select(one => (int)Math.Round(one * rate) + from).Where(begin => begin >= 0 && begin + length <= values.Length).ToArray();
        var most = new float[length];
        Array.Fill(most, float.MaxValue);
        var sums = new float[length];
        var squares = new float[length];
        var counts = new float[length];
        for (var round = 0; ; round++)
        {
            AddUp(values, begins, most, sums, squares, counts);
            if (round == Rounds)
            {
                return (sums, counts, most);
            }

            for (var k = 0; k < length; k++)
            {
                var count = Math.Max(1, counts[k]);
                var mean = sums[k] / count;
                most[k] = mean + Outstanding * MathF.Sqrt(Math.Max(0, squares[k] / count - mean * mean)) + 1e-30f;
            }
        }
    }

    // Row by row, so that many columns are added at once.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void AddUp(float[] values, int[] begins, float[] most, float[] sums, float[] squares, float[] counts)
    {
        Array.Clear(sums);
        Array.Clear(squares);
        Array.Clear(counts);
        var wide = Vector<float>.Count;
        foreach (var begin in begins)
        {
            var k = 0;
            for (; k + wide <= most.Length; k += wide)
            {
                var row = new Vector<float>(values, begin + k);
                var counted = Vector.LessThanOrEqual(row, new Vector<float>(most, k));
                var kept = Vector.ConditionalSelect(counted, row, Vector<float>.Zero);
                (new Vector<float>(sums, k) + kept).CopyTo(sums, k);
                (new Vector<float>(squares, k) + kept * kept).CopyTo(squares, k);
                (new Vector<float>(counts, k) + Vector.ConditionalSelect(counted, Vector<float>.One, Vector<float>.Zero)).CopyTo(counts, k);
            }

            for (; k < most.Length; k++)
            {
                var one = values[begin + k];
                if (one <= most[k])
                {
                    sums[k] += one;
                    squares[k] += one * one;
                    counts[k]++;
                }
            }
        }
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
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
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

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
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
