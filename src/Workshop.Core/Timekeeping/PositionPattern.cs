using System.Collections.Immutable;

namespace Workshop.Core.Timekeeping;

/// <summary>
/// How the rate goes round with the crown: least squares of mean and first harmonic over the vertical positions, which is what an
/// imbalance of the balance looks like, and the flat positions against it. The sign of such an imbalance turns with the amplitude
/// (from memory: near 220°), so that direction alone is no weight to take off.
/// </summary>
/// <param name="VerticalMeanPerDaySeconds">Mean of the fitted rates, seconds gained per day; the rate with no imbalance.</param>
/// <param name="HalfSwingPerDaySeconds">Half the difference between the fastest and the slowest direction, seconds per day.</param>
/// <param name="FastestCrownDegrees">Where the crown points when it is fastest: 0 up, 90 left, 180 down, 270 right; absent where there is no swing.</param>
/// <param name="ResidualPerDaySeconds">
/// (up + down − left − right) / 4, seconds per day: what no first harmonic explains; each of the four lies this far off the fit.
/// Absent with three vertical positions, which a mean and a harmonic always meet exactly.
/// </param>
/// <param name="FlatLessVerticalPerDaySeconds">Mean of the flat positions measured less the fitted mean; absent without a flat one.</param>
/// <param name="FlatPositions">How many of dial up and dial down were measured.</param>
public sealed record PositionPattern(
    decimal VerticalMeanPerDaySeconds, decimal HalfSwingPerDaySeconds, decimal? FastestCrownDegrees, decimal? ResidualPerDaySeconds, decimal? FlatLessVerticalPerDaySeconds, int FlatPositions)
{
    /// <summary>Three vertical positions determine mean and harmonic; with fewer there is no pattern.</summary>
    public const int LeastVerticals = 3;

    /// <summary>True: three verticals, met exactly, so that nothing is left over to say how good the pattern is.</summary>
    public bool Exact => ResidualPerDaySeconds is null;

    /// <summary>The pattern of a set; a position measured again counts with its last reading.</summary>
    /// <returns>null with fewer than three vertical positions.</returns>
    public static PositionPattern? Of(IEnumerable<RateReading> readings)
    {
        var rates = LastRates(readings);
        decimal? up = At(Position.CrownUp), down = At(Position.CrownDown), left = At(Position.CrownLeft), right = At(Position.CrownRight);
        var verticals = new[] { up, down, left, right }.Count(rate => rate is not null);
        if (verticals < LeastVerticals)
        {
            return null;
        }

        // At four directions a quarter apart the columns of the fit are orthogonal, so that least squares is a mean and two half
        // differences. With one direction missing the fit is exact, and its mean is that of the two that face each other.
        decimal mean, alongUp, alongLeft;
        decimal? residual = null;
        if (up is { } u && down is { } d && left is { } l && right is { } r)
        {
            mean = (u + d + l + r) / 4;
            (alongUp, alongLeft, residual) = ((u - d) / 2, (l - r) / 2, (u + d - l - r) / 4);
        }
        else if (up is { } top && down is { } bottom)
        {
            mean = (top + bottom) / 2;
            (alongUp, alongLeft) = (top - mean, left is { } leftwards ? leftwards - mean : mean - right!.Value);
        }
        else
        {
            mean = (left!.Value + right!.Value) / 2;
            (alongUp, alongLeft) = (up is { } upwards ? upwards - mean : mean - down!.Value, left.Value - mean);
        }

        var flats = new[] { At(Position.DialUp), At(Position.DialDown) }.OfType<decimal>().ToArray();
        var swing = (decimal)Math.Sqrt((double)((alongUp * alongUp) + (alongLeft * alongLeft)));
        return new PositionPattern(
            mean, swing, swing == 0 ? null : Turned(alongUp, alongLeft), residual, flats.Length == 0 ? null : flats.Average() - mean, flats.Length);

        decimal? At(Position position) => rates.TryGetValue(position, out var rate) ? rate : null;
    }

    /// <summary>What one set cannot tell apart, whatever its figures; shown beside every pattern.</summary>
    public ImmutableArray<PatternLimit> CannotSeparate() =>
    [
        PatternLimit.ImbalanceFromHairspring,
        PatternLimit.OneAmplitude,
        .. Exact ? [PatternLimit.ThreeVerticals] : ImmutableArray<PatternLimit>.Empty,
        .. FlatPositions == 1 ? [PatternLimit.OneFlat] : ImmutableArray<PatternLimit>.Empty,
        .. FlatPositions == 0 ? [PatternLimit.NoFlat] : ImmutableArray<PatternLimit>.Empty,
    ];

    internal static SortedDictionary<Position, decimal> LastRates(IEnumerable<RateReading> readings)
    {
        var last = new SortedDictionary<Position, decimal>();
        foreach (var reading in readings)
        {
            last[reading.Position] = reading.RatePerDaySeconds;
        }

        return last;
    }

    private static decimal Turned(decimal alongUp, decimal alongLeft)
    {
        var degrees = (decimal)(Math.Atan2((double)alongLeft, (double)alongUp) * 180 / Math.PI);
        return degrees < 0 ? degrees + 360 : degrees;
    }
}

/// <summary>Causes that look alike in one set of rates.</summary>
public enum PatternLimit
{
    /// <summary>An imbalance of the balance and a hairspring that breathes out of its centre turn with the watch in the same way.</summary>
    ImbalanceFromHairspring,

    /// <summary>The effect of an imbalance changes with the amplitude and turns over; a second set at another wind would show it.</summary>
    OneAmplitude,

    /// <summary>Three vertical positions are always met exactly.</summary>
    ThreeVerticals,

    /// <summary>With one flat position, pivot and endstone of that side cannot be told from the flat rate itself.</summary>
    OneFlat,

    /// <summary>Nothing flat was measured.</summary>
    NoFlat,
}
