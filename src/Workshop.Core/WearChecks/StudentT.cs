namespace Workshop.Core.WearChecks;

/// <summary>
/// Student's t, two-sided 95 % (the quantile 0.975), as it is printed in statistical tables: a fold must not change when a library does.
/// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, from memory; a test holds every figure against a numerics library.
/// </summary>
public static class StudentT
{
    private static readonly decimal[] UpToThirty =
    [
        12.706m, 4.303m, 3.182m, 2.776m, 2.571m, 2.447m, 2.365m, 2.306m, 2.262m, 2.228m,
        2.201m, 2.179m, 2.160m, 2.145m, 2.131m, 2.120m, 2.110m, 2.101m, 2.093m, 2.086m,
        2.080m, 2.074m, 2.069m, 2.064m, 2.060m, 2.056m, 2.052m, 2.048m, 2.045m, 2.042m,
    ];

    private static readonly (int From, decimal Value)[] Beyond = [(120, 1.980m), (100, 1.984m), (80, 1.990m), (60, 2.000m), (50, 2.009m), (40, 2.021m)];

    /// <summary>The quantile for so many degrees of freedom; between two rows of the table that of the fewer, which is the wider.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than one degree of freedom.</exception>
    public static decimal TwoSided95(int degreesOfFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(degreesOfFreedom, 1);
        if (degreesOfFreedom <= UpToThirty.Length)
        {
            return UpToThirty[degreesOfFreedom - 1];
        }

        foreach (var (from, value) in Beyond)
        {
            if (degreesOfFreedom >= from)
            {
                return value;
            }
        }

        return UpToThirty[^1];
    }
}
