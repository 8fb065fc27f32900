using System.Collections.Immutable;
using NodaTime;

namespace Workshop.Core.WearChecks;

/// <summary>One reading of a running watch.</summary>
/// <param name="Since">True time since the start of the check.</param>
/// <param name="OffsetSeconds">Watch minus reference; ahead is plus.</param>
/// <param name="UncertaintySeconds">Expanded uncertainty (k = 2) of the reading.</param>
public readonly record struct WearPoint(Duration Since, decimal OffsetSeconds, decimal UncertaintySeconds);

/// <summary>
/// A straight line through three or more readings by least squares, each with the same weight. Sums in decimal: a fold must not change
/// when a library does. Unrounded.
/// </summary>
/// <param name="Readings">How many, the start among them.</param>
/// <param name="RatePerDaySeconds">The slope: seconds gained per day of true time.</param>
/// <param name="InterceptSeconds">Where the line stands at the start.</param>
/// <param name="ResidualSeconds">√(sum of squares / (n − 2)): how far readings lie from the line.</param>
/// <param name="StandardError">Of the slope, seconds per day.</param>
/// <param name="StudentT">Quantile 0.975 for n − 2 degrees of freedom.</param>
/// <param name="FromReadings">Expanded uncertainty (k = 2) that the readings' own uncertainties give the slope, seconds per day.</param>
/// <param name="Explained">The line passes every reading within that reading's own uncertainty.</param>
public sealed record WearFit(
    int Readings, decimal RatePerDaySeconds, decimal InterceptSeconds, decimal ResidualSeconds, decimal StandardError, decimal StudentT, decimal FromReadings, bool Explained)
{
    private const decimal NanosecondsPerDay = 86_400_000_000_000m;

    /// <summary>
    /// What the readings' own uncertainties give; where one lies further off the line than it may by itself, the watch did not go evenly,
    /// and the larger of that and of what the scatter says. With three readings Student's t is 12.7: an interim look by eye, right to
    /// its second, would otherwise make every rate inconclusive.
    /// </summary>
    public decimal PlusMinusSeconds => Explained ? FromReadings : Math.Max(StudentT * StandardError, FromReadings);

    /// <returns>null for fewer than three readings, or where all are of one moment.</returns>
    public static WearFit? Of(IReadOnlyCollection<WearPoint> points)
    {
        if (Line.Through([.. points.Select(point => (point.Since.ToInt64Nanoseconds() / NanosecondsPerDay, point.OffsetSeconds))]) is not { } line)
        {
            return null;
        }

        // u²(slope) is the sum of (weight of each reading in the slope · its uncertainty)².
        var own = points.Sum(point => Squared((point.Since.ToInt64Nanoseconds() / NanosecondsPerDay - line.MeanX) / line.SquaresX * point.UncertaintySeconds));
        return new WearFit(
            points.Count, line.Slope, line.Intercept, line.Residual, line.StandardError, WearChecks.StudentT.TwoSided95(points.Count - 2), Line.Root(own),
            points.All(point => Math.Abs(point.OffsetSeconds - line.At(point.Since.ToInt64Nanoseconds() / NanosecondsPerDay)) <= point.UncertaintySeconds));
    }

    private static decimal Squared(decimal value) => value * value;
}

/// <summary>Ordinary least squares in decimal, about the means, so that no large sums cancel.</summary>
/// <param name="SquaresX">Sum of squares of x about its mean.</param>
public sealed record Line(decimal Slope, decimal Intercept, decimal Residual, decimal StandardError, decimal InterceptStandardError, decimal MeanX, decimal SquaresX)
{
    public decimal At(decimal x) => Intercept + (Slope * x);

    /// <returns>null for fewer than three points, or where all have the same x.</returns>
    public static Line? Through(ImmutableArray<(decimal X, decimal Y)> points)
    {
        if (points.Length < 3)
        {
            return null;
        }

        decimal meanX = points.Average(point => point.X), meanY = points.Average(point => point.Y);
        var squaresX = points.Sum(point => (point.X - meanX) * (point.X - meanX));
        if (squaresX == 0)
        {
            return null;
        }

        var slope = points.Sum(point => (point.X - meanX) * (point.Y - meanY)) / squaresX;
        var intercept = meanY - slope * meanX;
        var rest = points.Sum(point => Square(point.Y - meanY - slope * (point.X - meanX)));
        var variance = rest / (points.Length - 2);
        return new Line(
            slope, intercept, Root(variance), Root(variance / squaresX), Root(variance * (1m / points.Length + meanX * meanX / squaresX)), meanX, squaresX);
    }

    /// <summary>A square root in decimal: the double's, and two steps of Newton's on it.</summary>
    internal static decimal Root(decimal square)
    {
        var root = (decimal)Math.Sqrt((double)square);
        for (var step = 0; step < 2 && root > 0; step++)
        {
            root = (root + square / root) / 2;
        }

        return root;
    }

    private static decimal Square(decimal value) => value * value;
}
