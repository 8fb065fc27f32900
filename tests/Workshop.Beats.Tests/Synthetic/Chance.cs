namespace Workshop.Beats.Tests.Synthetic;

/// <summary>All chance of a recording, from one seed.</summary>
public sealed class Chance(int seed)
{
    private readonly Random random = new(seed);
    private double spare;
    private bool hasSpare;

    public double Between(double low, double high) => low + (high - low) * random.NextDouble();

    public int Index(int count) => random.Next(count);

    /// <summary>A normal deviate with mean 0 and standard deviation 1 (polar method of Marsaglia).</summary>
    public double Normal()
    {
        if (hasSpare)
        {
            hasSpare = false;
            return spare;
        }

        while (true)
        {
            var u = 2 * random.NextDouble() - 1;
            var v = 2 * random.NextDouble() - 1;
            var s = u * u + v * v;
            if (s is > 0 and < 1)
            {
                var scale = Math.Sqrt(-2 * Math.Log(s) / s);
                (spare, hasSpare) = (v * scale, true);
                return u * scale;
            }
        }
    }
}
