namespace Workshop.Beats.Listening;

/// <summary>Every beat timed as a whole, by its likeness to the mean of all ticks or tocks.</summary>
/// <param name="Line">Through the beats.</param>
/// <param name="Numbers">Of the beats that lie wholly in the recording.</param>
/// <param name="Times">Where each was found; no number where it was not.</param>
/// <param name="Presence">How much of each beat is there: 1 is as loud as the mean, 0 is absent.</param>
/// <param name="PresenceNoise">Standard deviation of the same figure between the beats, where nothing should be.</param>
/// <param name="OddShift">Seconds by which the mean odd beat lies behind the mean even one in the line's places, by their likeness.</param>
internal sealed record BurstLine(RobustLine Line, int[] Numbers, double[] Times, double[] Presence, double PresenceNoise, double OddShift)
{
    // Seconds searched to each side of the expected moment, pass by pass.
    private static readonly double[] CoarseReach = [0.004, 0.0025, 0.0015];
    private const double AcrossReach = 0.02;
    private static readonly double[] FineReach = [0.001, 0.0008];

    /// <param name="coarse">Envelope at some thousand values a second.</param>
    /// <param name="fine">Envelope at the full rate of energies.</param>
    /// <param name="before">Seconds of a burst before its loudest moment.</param>
    /// <param name="after">And behind it.</param>
    /// <returns>Null where no line can be drawn.</returns>
    public static BurstLine? Follow(FoundBeat found, float[] coarse, double coarseRate, float[] fine, double fineRate, double before, double after)
    {
        var numbers = NumbersWithin(found, coarse.Length / coarseRate, before, after);
        if (numbers.Length < 8)
        {
            return null;
        }

        double Expected(int n) => found.Tick + n * found.Period / 2 + (n & 1) * (Half(found) - found.Period / 2);
        var expected = numbers.Select(Expected).ToArray();
        RobustLine? line = null;
        double[] times = expected;
        foreach (var (values, rate, reaches) in new[] { (coarse, coarseRate, CoarseReach), (fine, fineRate, FineReach) })
        {
            foreach (var reach in reaches)
            {
                times = TimesOf(values, rate, numbers, expected, before, after, reach);
                line = RobustLine.Fit(numbers, times);
                if (line is null)
                {
                    return null;
                }

                expected = [.. numbers.Select(line.At)];
            }
        }

        var (presence, noise) = PresenceOf(coarse, coarseRate, numbers, expected, found.Period, before, after);
        return new BurstLine(line!, numbers, times, presence, noise, OddShiftOf(coarse, coarseRate, numbers, expected, before, after));
    }

    // The mean even beat is looked for in the mean odd one, which is taken wider by the reach.
    private static double OddShiftOf(float[] coarse, double rate, int[] numbers, double[] expected, double before, double after)
    {
        var reach = (int)(AcrossReach * rate);
        var from = -(int)(before * rate);
        var length = (int)((before + after) * rate);
        double[] Mean(int parity, int wider) => BeatMatcher.TrimmedMean(coarse, rate, [.. expected.Where((_, i) => (numbers[i] & 1) == parity)], from - wider, length + 2 * wider);
        var odd = Array.ConvertAll(Mean(1, reach + 1), one => (float)one);
        return BeatMatcher.Match(odd, rate, (1 + reach - from) / rate, BeatMatcher.Centred(Mean(0, 0)), from, reach).Shift;
    }

    private static double Half(FoundBeat found) => found.Tock > found.Tick ? found.Tock - found.Tick : found.Tock - found.Tick + found.Period;

    private static int[] NumbersWithin(FoundBeat found, double seconds, double before, double after)
    {
        var margin = CoarseReach[0] + 0.001;
        var last = (int)(2 * (seconds - found.Tick) / found.Period) + 1;
        return [.. Enumerable.Range(-1, last + 2).Where(n =>
        {
            var at = found.Tick + n * found.Period / 2 + (n & 1) * (Half(found) - found.Period / 2);
            return at - before - margin > 0 && at + after + margin < seconds;
        })];
    }

    private static double[] TimesOf(float[] values, double rate, int[] numbers, double[] expected, double before, double after, double reach)
    {
        var times = new double[numbers.Length];
        var from = -(int)(before * rate);
        var length = (int)((before + after) * rate);
        for (var parity = 0; parity < 2; parity++)
        {
            var pattern = new BeatPattern(values, rate, [.. expected.Where((_, i) => (numbers[i] & 1) == parity)], from, length);
            for (var i = 0; i < numbers.Length; i++)
            {
                if ((numbers[i] & 1) == parity)
                {
                    times[i] = expected[i] + pattern.Shift(expected[i], reach);
                }
            }
        }

        return times;
    }

    private static (double[] Presence, double Noise) PresenceOf(float[] values, double rate, int[] numbers, double[] expected, double period, double before, double after)
    {
        var presence = new double[numbers.Length];
        var between = new List<double>();
        var from = -(int)(before * rate);
        var length = (int)((before + after) * rate);
        for (var parity = 0; parity < 2; parity++)
        {
            var template = BeatMatcher.Centred(BeatMatcher.TrimmedMean(values, rate, [.. expected.Where((_, i) => (numbers[i] & 1) == parity)], from, length));
            var whole = template.Sum(one => (double)one * one);
            for (var i = 0; i < numbers.Length; i++)
            {
                if ((numbers[i] & 1) != parity)
                {
                    continue;
                }

                presence[i] = At(values, rate, expected[i], template, from) / whole;
                if (At(values, rate, expected[i] + period / 4, template, from) is var other && double.IsFinite(other))
                {
                    between.Add(other / whole);
                }
            }
        }

        var mean = between.Count > 0 ? between.Average() : 0;
        return (presence, Math.Sqrt(between.Sum(one => (one - mean) * (one - mean)) / Math.Max(1, between.Count - 1)));
    }

    private static double At(float[] values, double rate, double moment, float[] template, int from)
    {
        var begin = (int)Math.Round(moment * rate) + from;
        return begin < 0 || begin + template.Length > values.Length ? double.NaN : BeatMatcher.Dot(values.AsSpan(begin, template.Length), template);
    }
}
