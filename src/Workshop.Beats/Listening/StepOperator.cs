namespace Workshop.Beats.Listening;

/// <summary>Finds where energy sets in: the logarithm of what follows a moment against what precedes it. A ratio does not care how loud a noise is.</summary>
internal static class StepOperator
{
    // From trials with synthetic recordings: 0.15 and 0.25 ms are worse by far, 0.35 to 0.5 ms best.
    public const double WindowSeconds = 0.00035;

    /// <param name="energy">Mean energies.</param>
    /// <param name="width">Values to each side.</param>
    /// <param name="little">Added to both sides, so that nothing is divided by nothing.</param>
    /// <returns>One ratio for each value, for an onset right before it; 0 where a side is missing.</returns>
    public static double[] Ratios(double[] energy, int width, double little)
    {
        var sums = new double[energy.Length + 1];
        for (var i = 0; i < energy.Length; i++)
        {
            sums[i + 1] = sums[i] + energy[i];
        }

        var ratios = new double[energy.Length];
        for (var i = width; i + width <= energy.Length; i++)
        {
            ratios[i] = Math.Log((sums[i + width] - sums[i] + width * little) / (sums[i] - sums[i - width] + width * little));
        }

        return ratios;
    }

    /// <summary>Places where a ratio is higher than its neighbours and at least <paramref name="least"/>, in order.</summary>
    public static IEnumerable<int> Rises(double[] ratios, double least)
    {
        for (var i = 1; i < ratios.Length - 1; i++)
        {
            if (ratios[i] >= least && ratios[i] >= ratios[i - 1] && ratios[i] > ratios[i + 1])
            {
                yield return i;
            }
        }
    }

    /// <summary>The place with a part of a value, by the parabola through the ratio and its neighbours.</summary>
    public static double Exact(double[] ratios, int at) =>
        at > 0 && at < ratios.Length - 1 ? at + BeatMatcher.Vertex(ratios[at - 1], ratios[at], ratios[at + 1]) : at;
}
