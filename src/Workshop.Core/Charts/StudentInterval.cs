using MathNet.Numerics.Distributions;

namespace Workshop.Core.Charts;

/// <summary>The mean of a few figures with its two-sided 95 % interval by Student's t: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.2.</summary>
/// <param name="T">The value of t it was computed with.</param>
/// <param name="PlusMinus">Half the width of the interval.</param>
public sealed record StudentInterval(decimal Mean, decimal StandardDeviation, int Count, decimal T, decimal PlusMinus)
{
    private const double UpperTail = 0.975;

    public decimal Lowest => Mean - PlusMinus;

    public decimal Highest => Mean + PlusMinus;

    /// <summary>The value of t that a fortieth lies above.</summary>
    /// <param name="degrees">Degrees of freedom, 1 or more.</param>
    public static decimal ValueOf(int degrees) => (decimal)StudentT.InvCDF(0, 1, degrees, UpperTail);

    /// <param name="standardDeviation">Of the figures, with n − 1.</param>
    /// <param name="count">2 or more.</param>
    public static StudentInterval Of(decimal mean, decimal standardDeviation, int count)
    {
        var t = ValueOf(count - 1);
        return new StudentInterval(mean, standardDeviation, count, t, t * standardDeviation / (decimal)Math.Sqrt(count));
    }

    /// <returns>null with fewer than two figures.</returns>
    public static StudentInterval? Of(IReadOnlyCollection<decimal> figures)
    {
        if (figures.Count < 2)
        {
            return null;
        }

        var mean = figures.Average();
        var squares = figures.Sum(figure => (figure - mean) * (figure - mean));
        return Of(mean, (decimal)Math.Sqrt((double)(squares / (figures.Count - 1))), figures.Count);
    }
}
