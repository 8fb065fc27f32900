using System.Runtime.CompilerServices;
using MathNet.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace Workshop.Beats.Listening;

/// <summary>Looks for the period of an oscillation in the spectrum of the envelope: all harmonics of the right one stand out together.</summary>
internal sealed class HarmonicSearch
{
    // A burst of some milliseconds fills the spectrum of its envelope up to about this.
    private const double HighestHertz = 120;

    // ± 900 s/d; neighbouring frequencies are 9 % apart.
    private const double Reach = 900 / Listener.SecondsPerDay;

    private readonly double[] whitened;
    private readonly double binsPerHertz;
    private readonly double seconds;

    /// <param name="envelope">At <paramref name="rate"/> values a second, at least twice <see cref="HighestHertz"/>.</param>
    public HarmonicSearch(float[] envelope, double rate)
    {
        seconds = envelope.Length / rate;
        var length = Euclid.CeilingToPowerOfTwo(2 * envelope.Length);
        var padded = new double[length + 2];
        var mean = envelope.Average();
        for (var i = 0; i < envelope.Length; i++)
        {
            padded[i] = envelope[i] - mean;
        }

        Fourier.ForwardReal(padded, length, FourierOptions.NoScaling);
        binsPerHertz = length / rate;
        whitened = Whitened(padded, (int)((HighestHertz + 2) * binsPerHertz));
    }

    /// <summary>From one try to the next, in parts of the period: the highest harmonic moves by a quarter of the resolution.</summary>
    public double Step => 0.25 / (HighestHertz * seconds);

    /// <summary>The best period near a nominal one.</summary>
    /// <param name="nominalSeconds">A whole oscillation.</param>
    public double BestPeriod(double nominalSeconds)
    {
        var harmonics = (int)(HighestHertz * nominalSeconds * (1 - Reach));

        var step = Step;
        var scores = new double[1 + (int)(2 * Reach / step)];
        var best = 0;
        for (var k = 0; k < scores.Length; k++)
        {
            scores[k] = Score((1 - Reach + k * step) / nominalSeconds, harmonics);
            best = scores[k] > scores[best] ? k : best;
        }

        // In ten seconds a step moves the last beat by two milliseconds: the top is between the tries.
        var part = best > 0 && best < scores.Length - 1 ? BeatMatcher.Vertex(scores[best - 1], scores[best], scores[best + 1]) : 0;
        return nominalSeconds / (1 - Reach + (best + part) * step);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private double Score(double hertz, int harmonics)
    {
        double sum = 0;
        for (var k = 1; k <= harmonics; k++)
        {
            var at = k * hertz * binsPerHertz;
            var bin = (int)at;
            var part = at - bin;
            sum += whitened[bin] * (1 - part) + whitened[bin + 1] * part;
        }

        return sum;
    }

    // Power against the median of its surroundings, as a logarithm: a voice below 10 Hz or one loud line decides nothing alone.
    private double[] Whitened(double[] packed, int bins)
    {
        var powers = new double[bins];
        for (var i = 0; i < bins; i++)
        {
            powers[i] = packed[2 * i] * packed[2 * i] + packed[2 * i + 1] * packed[2 * i + 1];
        }

        var width = (int)(10 * binsPerHertz);
        for (var from = 0; from < bins; from += width)
        {
            var stretch = powers.AsSpan(from, Math.Min(width, bins - from));
            var sorted = stretch.ToArray();
            Array.Sort(sorted);
            var median = Math.Max(sorted[sorted.Length / 2], 1e-300);
            foreach (ref var power in stretch)
            {
                power = Math.Log(1 + power / median);
            }
        }

        return powers;
    }
}
