using System.Runtime.CompilerServices;

namespace Workshop.Beats.Listening;

/// <summary>Loudness over time: the logarithm of energy against the noise floor, in which a click weighs little more than a tick.</summary>
internal static class LogEnvelope
{
    // From trials: below three times the floor nothing is worth a difference.
    private const float FloorFactor = 3;

    /// <summary>The energy of the noise between the beats.</summary>
    /// <param name="energy">Mean squares at <paramref name="rate"/> values a second.</param>
    public static double FloorOf(float[] energy, double rate)
    {
        // Means over a millisecond; 30 % of them are quieter than this in the noise alone, and no watch sounds for 70 % of the time.
        var means = Means(energy, (int)Math.Round(rate / 1000));
        Array.Sort(means);
        var quiet = means[(int)(0.3 * means.Length)];
        var loud = means[(int)(0.999 * means.Length)];
        return Math.Max(Math.Max(quiet, 3e-5 * loud), 1e-16);
    }

    /// <summary>One value for each <paramref name="step"/> energies.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float[] Stepped(float[] energy, int step, double floor)
    {
        var means = Means(energy, step);
        var scale = (float)(1 / (FloorFactor * floor));
        for (var i = 0; i < means.Length; i++)
        {
            means[i] = MathF.Log(1 + means[i] * scale);
        }

        return means;
    }

    /// <summary>One value for each energy, over three of them.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float[] Fine(float[] energy, double floor)
    {
        var fine = new float[energy.Length];
        var scale = (float)(1 / (3 * FloorFactor * floor));
        for (var i = 1; i < energy.Length - 1; i++)
        {
            fine[i] = MathF.Log(1 + (energy[i - 1] + energy[i] + energy[i + 1]) * scale);
        }

        return fine;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static float[] Means(float[] values, int step)
    {
        var means = new float[values.Length / step];
        for (var i = 0; i < means.Length; i++)
        {
            float sum = 0;
            for (var k = i * step; k < (i + 1) * step; k++)
            {
                sum += values[k];
            }

            means[i] = sum / step;
        }

        return means;
    }
}
