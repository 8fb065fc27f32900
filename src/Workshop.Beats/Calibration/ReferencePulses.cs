using Workshop.Beats.Listening;
using Workshop.Beats.Recordings;

namespace Workshop.Beats.Calibration;

/// <summary>By how much a recorder's clock runs fast, from pulses whose spacing is known.</summary>
/// <param name="Ppm">Positive: the recorder takes too many samples a second, pulses lie too far apart in the file, and a watch looks slow.</param>
/// <param name="UncertaintyPpm">Half width of a 95 % interval; what is known of the source's own spacing comes on top.</param>
/// <param name="Pulses">How many it rests on.</param>
/// <param name="ScatterMicroseconds">Standard deviation of a pulse about the line.</param>
public sealed record ClockMeasurement(double Ppm, double UncertaintyPpm, int Pulses, double ScatterMicroseconds);

/// <summary>
/// Listens to a recording of a reference, such as the pulse each second of a source that is disciplined by radio or satellite. Each pulse is timed
/// by its likeness to the mean of all, and a straight line is laid through their moments: its slope against the known spacing is the clock.
/// </summary>
public static class ReferencePulses
{
    /// <summary>Seconds between pulses that are followed.</summary>
    public const double ShortestInterval = 0.2;

    public const double LongestInterval = 6;

    /// <summary>No recorder is further off; the same bound as for a clock that is stated.</summary>
    public const double PpmAtMost = 1000;

    private const int LeastPulses = 8;
    private const double LeastShare = 0.75;

    // A pulse stands out of what lies between by so many times in energy: 10 dB.
    private const double StandsOut = 10;

    // Of a pulse that is timed to better than a sample; more, and it was no pulse of an even source.
    private const double MostScatter = 0.5e-3;
    private const double BeforeSeconds = 0.002;
    private const double LengthSeconds = 0.008;
    private const double ReachSeconds = 0.0015;
    private const int Passes = 3;

    // What sounds between two pulses is quieter by 7 dB, apart from the pulses' own ringing.
    private const double QuietAroundSeconds = 0.03;
    private const double MostBesides = 0.2;

    // Between two values a moment is read by a parabola, which is off by so much of their distance at most. Where the clock is off by just the
    // distance of some values in an interval, that drifts through the recording like a rate: in the interval as if it did so always. From trials.
    private const double BetweenValues = 0.05;
    private const int Smoothings = 16;

    /// <param name="intervalSeconds">Between two pulses, in true time.</param>
    /// <returns>null where no even pulses of this spacing are heard.</returns>
    public static ClockMeasurement? Measure(Recording recording, double intervalSeconds)
    {
        if (!(intervalSeconds is >= ShortestInterval and <= LongestInterval))
        {
            return null;
        }

        var (energy, rate) = (recording.Energy, recording.EnergyRate);
        var floor = FloorOf(energy);
        var moments = Follow(energy, rate, floor, intervalSeconds);
        var expected = (int)(recording.Seconds / intervalSeconds);
        if (moments is null || moments.Count(double.IsFinite) < Math.Max(LeastPulses, LeastShare * expected))
        {
            return null;
        }

        if (SomethingElseBeats(energy, rate, moments))
        {
            return null;
        }

        if (Fit(Smoothed(energy), rate, moments) is not { } line || line.Used < Math.Max(LeastPulses, LeastShare * expected) || !(line.Scatter < MostScatter))
        {
            return null;
        }

        var ppm = (line.Slope / intervalSeconds - 1) * 1e6;
        var uncertainty = 1e6 * Math.Sqrt(
            Math.Pow(Listener.Coverage(line.Used) * line.SlopeError / intervalSeconds, 2) + Math.Pow(2 * BetweenValues / rate / ((moments.Length - 1) * intervalSeconds), 2));
        return double.IsFinite(ppm) && double.IsFinite(uncertainty) && Math.Abs(ppm) <= PpmAtMost ? new ClockMeasurement(ppm, uncertainty, line.Used, line.Scatter * 1e6) : null;
    }

    // The quiet between pulses; a recording that is digitally silent there still has one.
    private static double FloorOf(float[] energy)
    {
        var sorted = (float[])energy.Clone();
        Array.Sort(sorted);
        return Math.Max(sorted[sorted.Length / 2], sorted[^1] * 1e-6);
    }

    // Of all that stands out within the first two intervals, the one behind which most pulses follow at the right distance.
    private static double[]? Follow(float[] energy, double rate, double floor, double interval)
    {
        double[]? best = null;
        var most = 0.0;
        foreach (var start in Outstanding(energy, rate, floor, (int)(2 * interval * rate)))
        {
            var moments = FollowFrom(start, energy, rate, floor, interval);
            var loud = moments.Where(double.IsFinite).Sum(one => Math.Log(1 + energy[(int)(one * rate)] / floor));
            (best, most) = loud > most ? (moments, loud) : (best, most);
        }

        return best;
    }

    private static IEnumerable<double> Outstanding(float[] energy, double rate, double floor, int until)
    {
        // One for each 5 ms: a pulse rings.
        var step = Math.Max(1, (int)(0.005 * rate));
        for (var from = 0; from < Math.Min(until, energy.Length); from += step)
        {
            if (Loudest(energy, from, Math.Min(from + step, energy.Length)) is var at && energy[at] > StandsOut * floor)
            {
                yield return at / rate;
            }
        }
    }

    private static double[] FollowFrom(double start, float[] energy, double rate, double floor, double interval)
    {
        var moments = new double[1 + (int)((energy.Length / rate - start) / interval)];
        var (last, at) = (0, start);
        for (var n = 0; n < moments.Length; n++)
        {
            var gap = n - last;
            var middle = at + gap * interval;
            var reach = ReachSeconds + gap * interval * PpmAtMost * 1e-6;
            var (from, to) = ((int)((middle - reach) * rate), (int)((middle + reach) * rate) + 1);
            moments[n] = double.NaN;
            if (from >= 0 && to <= energy.Length && Loudest(energy, from, to) is var loudest && energy[loudest] > StandsOut * floor)
            {
                (last, at) = (n, loudest / rate);
                moments[n] = at;
            }
        }

        return moments;
    }

    private static int Loudest(float[] energy, int from, int to)
    {
        var loudest = from;
        for (var i = from + 1; i < to; i++)
        {
            loudest = energy[i] > energy[loudest] ? i : loudest;
        }

        return loudest;
    }

    // A watch too sounds once in each second, and seven times besides: its rate is no recorder's clock.
    private static bool SomethingElseBeats(float[] energy, double rate, double[] moments)
    {
        var shares = new List<double>();
        for (var n = 0; n + 1 < moments.Length; n++)
        {
            if (double.IsFinite(moments[n]) && double.IsFinite(moments[n + 1]))
            {
                var besides = Loudest(energy, (int)((moments[n] + QuietAroundSeconds) * rate), (int)((moments[n + 1] - QuietAroundSeconds) * rate));
                shares.Add(energy[besides] / energy[(int)Math.Round(moments[n] * rate)]);
            }
        }

        shares.Sort();
        return shares.Count == 0 || shares[shares.Count / 2] > MostBesides;
    }

    // A ring swings in a few values; smoothed by some, its shape is the same wherever between two of them it begins.
    private static float[] Smoothed(float[] energy)
    {
        var smooth = (float[])energy.Clone();
        for (var round = 0; round < Smoothings; round++)
        {
            var before = smooth[0];
            for (var i = 1; i + 1 < smooth.Length; i++)
            {
                (before, smooth[i]) = (smooth[i], 0.25f * before + 0.5f * smooth[i] + 0.25f * smooth[i + 1]);
            }
        }

        return smooth;
    }

    private static RobustLine? Fit(float[] loud, double rate, double[] moments)
    {
        var numbers = Enumerable.Range(0, moments.Length).ToArray();
        var (from, length) = (-(int)(BeforeSeconds * rate), (int)(LengthSeconds * rate));
        RobustLine? line = null;
        for (var pass = 0; pass < Passes; pass++)
        {
            var pattern = new BeatPattern(loud, rate, moments, from, length);
            moments = [.. moments.Select(one => double.IsFinite(one) ? one + pattern.Shift(one, ReachSeconds) : one)];
            line = RobustLine.Fit(numbers, moments);
            if (line is null)
            {
                return null;
            }
        }

        return line;
    }
}
