using MathNet.Numerics.Distributions;

namespace Workshop.Beats.Listening;

/// <summary>Cuts what was timed into stretches and asks each for its own figures.</summary>
internal sealed class EvidenceOfBlocks(Reading reading, int vibrations, RobustLine line, int[] numbers, TimedNoises? noises, double clock)
{
    private const double BlockSeconds = 2;
    private const int MostBlocks = 120;
    private const int LeastBeats = 6;

    private readonly double period = Frequencies.Period(vibrations);

    public IReadOnlyList<EvidenceBlock> Blocks()
    {
        var count = Math.Clamp((int)Math.Round(reading.Seconds / BlockSeconds), 1, MostBlocks);
        var seconds = reading.Seconds / count;
        var times = numbers.Select(line.At).ToArray();
        return [.. Enumerable.Range(0, count).Select(block =>
        {
            var beats = Enumerable.Range(0, numbers.Length).Where(i => (int)Math.Clamp(times[i] / seconds, 0, count - 1) == block).ToArray();
            return Block(block * seconds, (block + 1) * seconds, beats);
        })];
    }

    private EvidenceBlock Block(double from, double to, int[] beats)
    {
        var used = beats.Where(i => line.Weights[i] > 0.5).ToArray();
        var rate = RateOf(beats, used, whole: 0);
        return new EvidenceBlock(from, to, used.Length, rate, RateOf(beats, used, reading.RatePerDaySeconds.Value!.Value), AmplitudeOf(beats), BeatErrorOf(beats, used));
    }

    // A line through the residuals of the stretch, with the offset of the whole recording: ten beats are too few for one of their own.
    private Figure RateOf(int[] beats, int[] used, double whole)
    {
        if (TooFew(beats, used))
        {
            return Figure.Unavailable("too-few-beats");
        }

        var (slope, spread, scatter) = LineThrough([.. used.Select(i => (double)numbers[i])], [.. used.Select(i => line.Residuals[i])]);
        var error = Math.Max(scatter, line.Scatter) / Math.Sqrt(spread);
        var value = Listener.RateOf(period / 2, (line.Slope + slope) * clock) - whole;
        return Stated(value, Student(used.Length - 2) * Listener.SecondsPerDay * error / line.Slope, reading.RatePerDaySeconds, bias: reading.RatePerDaySeconds.Parts!.Bias, fairAbove: 5);
    }

    private Figure AmplitudeOf(int[] beats)
    {
        if (reading.AmplitudeDegrees.Value is not { } mean || noises?.FirstTimes is not { } firsts)
        {
            return Figure.Unavailable("not-in-the-whole");
        }

        double value = 0;
        double variance = 0;
        var least = int.MaxValue;
        for (var parity = 0; parity < 2; parity++)
        {
            var lifts = beats.Where(i => (numbers[i] & 1) == parity).Select(i => noises.DropTimes[i] - firsts[i]).Where(double.IsFinite).ToArray();
            least = Math.Min(least, lifts.Length);
            if (lifts.Length < LeastBeats / 2)
            {
                return Figure.Unavailable("too-few-beats");
            }

            var (middle, error) = Middle(lifts);
            var degrees = Frequencies.Amplitude(middle * clock, reading.Parameters.LiftAngleDegrees, period);
            value += 0.5 * degrees;
            variance += Math.Pow(0.5 * degrees / middle * error, 2);
        }

        return double.IsFinite(value) && Math.Abs(value - mean) < 0.5 * mean
            ? Stated(value, Student(2 * least - 2) * Math.Sqrt(variance), reading.AmplitudeDegrees, reading.AmplitudeDegrees.Parts!.Bias, fairAbove: 8)
            : Figure.Unavailable("beats-scatter-too-much");
    }

    private Figure BeatErrorOf(int[] beats, int[] used)
    {
        if (reading.BeatErrorMilliseconds.Value is not { } whole)
        {
            return Figure.Unavailable("not-in-the-whole");
        }

        var each = Enumerable.Range(0, 2).Select(parity => used.Where(i => (numbers[i] & 1) == parity).Select(i => line.Residuals[i]).ToArray()).ToArray();
        if (TooFew(beats, used) || each.Any(one => one.Length < 2))
        {
            return Figure.Unavailable("too-few-beats");
        }

        // What the stretch has more than the whole recording has; the sign of an absolute value is that of the whole.
        var sign = line.OddOffset + (noises is null ? 0 : OffsetOfDrops()) < 0 ? -1 : 1;
        var more = 1e3 * clock * sign * (each[1].Average() - each[0].Average());
        var error = 1e3 * line.Scatter * Math.Sqrt(1.0 / each[0].Length + 1.0 / each[1].Length);
        var figure = Stated(Math.Abs(whole + more), Student(used.Length - 2) * error, reading.BeatErrorMilliseconds, reading.BeatErrorMilliseconds.Parts!.Bias, fairAbove: 0.3);
        return figure with { Low = Math.Max(0, figure.Low!.Value) };
    }

    private double OffsetOfDrops() => reading.RatePerDaySeconds.Reasons.Contains("rate-from-whole-beats") ? noises!.Odd.Drop - noises.Even.Drop : 0;

    private bool TooFew(int[] beats, int[] used) => used.Length < LeastBeats || used.Length < 0.5 * beats.Length;

    private static Figure Stated(double value, double statistical, Figure whole, double bias, double fairAbove)
    {
        var parts = new Parts(statistical, bias, null);
        return Figure.Of(value, parts, whole.Confidence == Confidence.Fair || parts.Whole > fairAbove ? Confidence.Fair : Confidence.Good);
    }

    private static double Student(int degrees) => StudentT.InvCDF(0, 1, Math.Max(1, degrees), 0.975);

    private static (double Slope, double Spread, double Scatter) LineThrough(double[] across, double[] up)
    {
        var (meanAcross, meanUp) = (across.Average(), up.Average());
        var spread = across.Sum(one => (one - meanAcross) * (one - meanAcross));
        var slope = across.Zip(up, (one, other) => (one - meanAcross) * (other - meanUp)).Sum() / spread;
        var squares = across.Zip(up, (one, other) => Math.Pow(other - meanUp - slope * (one - meanAcross), 2)).Sum();
        return (slope, spread, Math.Sqrt(squares / Math.Max(1, across.Length - 2)));
    }

    // The median, and its standard error by the median of distances from it: 1.25 of that of a mean, for normal scatter.
    private static (double Middle, double Error) Middle(double[] values)
    {
        var middle = RobustLine.Median([.. values]);
        var scatter = 1.4826 * RobustLine.Median([.. values.Select(one => Math.Abs(one - middle))]);
        return (middle, 1.253 * scatter / Math.Sqrt(values.Length));
    }
}
