namespace Workshop.Beats.Listening;

/// <summary>
/// How much the balance itself wanders: each period adds a little of its own, and no listening removes it. Told apart from the scatter of single
/// beats by the slow cosines of the residuals, in which it grows.
/// </summary>
internal static class Wandering
{
    private const int Tries = 40;

    /// <summary>Standard deviation of one beat's own length, seconds; rather high than low.</summary>
    /// <param name="residuals">About the line, in order; what is no number is taken as 0.</param>
    public static double OfBeat(IReadOnlyList<double> residuals, double scatter)
    {
        var count = residuals.Count;
        var powers = Powers(residuals, Math.Min(count / 2, 80));
        var best = double.PositiveInfinity;
        var walk = 0.0;
        for (var w = 0; w <= Tries; w++)
        {
            // From a hundredth of the scatter to all of it.
            var q = w == 0 ? 0 : scatter * Math.Pow(10, -2 + 2.0 * w / Tries);
            for (var s = 0; s <= 12; s++)
            {
                var white = scatter * (0.4 + 0.06 * s);
                double misfit = 0;
                for (var k = 0; k < powers.Length; k++)
                {
                    var expected = white * white + q * q * Growth(k + 2, count);
                    misfit += Math.Log(expected) + powers[k] / expected;
                }

                // A likelihood two below the best is still likely (chi-square with one degree, 95 %); the largest such walk is taken.
                if (misfit < best)
                {
                    best = misfit;
                }
            }
        }

        for (var w = 0; w <= Tries; w++)
        {
            var q = w == 0 ? 0 : scatter * Math.Pow(10, -2 + 2.0 * w / Tries);
            var misfit = Enumerable.Range(0, 13).Min(s => powers.Select((power, k) =>
            {
                var expected = Math.Pow(scatter * (0.4 + 0.06 * s), 2) + q * q * Growth(k + 2, count);
                return Math.Log(expected) + power / expected;
            }).Sum());
            if (misfit < best + 1)
            {
                walk = q;
            }
        }

        return walk;
    }

    // A walk's power in the k-th cosine against that of a single step.
    private static double Growth(int k, int count)
    {
        var half = Math.Sin(Math.PI * k / (2.0 * count));
        return 1 / (4 * half * half);
    }

    // The first cosine is left out: the line has taken most of it.
    private static double[] Powers(IReadOnlyList<double> residuals, int most)
    {
        var count = residuals.Count;
        var powers = new double[Math.Max(0, most - 2)];
        for (var k = 0; k < powers.Length; k++)
        {
            double sum = 0;
            for (var i = 0; i < count; i++)
            {
                sum += (double.IsFinite(residuals[i]) ? residuals[i] : 0) * Math.Cos(Math.PI * (k + 2) * (i + 0.5) / count);
            }

            powers[k] = 2 * sum * sum / count;
        }

        return powers;
    }
}
