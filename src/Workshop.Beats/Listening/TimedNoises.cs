namespace Workshop.Beats.Listening;

/// <summary>Unlocking and drop of every beat.</summary>
/// <param name="Even">Picks in the mean of the even beats.</param>
/// <param name="Odd">Picks in the mean of the odd beats.</param>
/// <param name="FirstTimes">Moment of each beat's unlocking; null where it cannot be told.</param>
/// <param name="DropTimes">Moment of each beat's drop.</param>
/// <param name="LiftSeconds">Time from unlocking to drop along the recording: for each parity one value a beat of that parity; null without unlocking.</param>
/// <param name="SignalToNoise">Ratio of energies.</param>
/// <param name="Means">Mean energy of the even beats and of the odd ones, in which was picked.</param>
internal sealed record TimedNoises(
    NoisePicks Even, NoisePicks Odd, double[]? FirstTimes, double[] DropTimes, double[][]? LiftSeconds, double SignalToNoise, MeanBeat[] Means)
{
    private const double BehindBurst = 0.006;
    private const int Rounds = 2;
    private const double FaintReach = 0.00015;
    private const double RepickReach = 0.0004;
    private const double Before = 0.0008;
    private const double After = 0.0014;
    private const double Reach = 0.0005;

    /// <summary>What sounds before the unlocking; null without one.</summary>
    public EarlierNoise? Earlier { get; init; }

    /// <summary>Finds both noises in the means, follows them through the recording, sharpens the means by what was learned, and times each beat.</summary>
    /// <param name="line">Expected moments.</param>
    public static TimedNoises? Find(float[] energy, float[] fine, double rate, BurstLine line, double period, double liftAngle, double before, double after)
    {
        var least = Frequencies.LiftSeconds(Frequencies.GreatestAmplitude, liftAngle, period);
        var most = Frequencies.LiftSeconds(Frequencies.LeastAmplitude, liftAngle, period);
        var expected = line.Numbers.Select(line.Line.At).ToArray();
        var still = NoiseTrack.Still(expected.Length);
        var from = -(int)((most + before) * rate);
        var length = (int)((most + before + after + BehindBurst) * rate);
        var means = new MeanBeat[2];
        var picks = new NoisePicks?[2];
        for (var parity = 0; parity < 2; parity++)
        {
            var moments = Of(line.Numbers, parity, expected, still.Shifts);
            var quiet = BeatMatcher.TrimmedMean(energy, rate, [.. moments.Select(one => one + period / 4)], -(int)(0.012 * rate), (int)(0.024 * rate));
            means[parity] = new MeanBeat(BeatMatcher.TrimmedMean(energy, rate, moments, from, length), rate, from, quiet);
            picks[parity] = means[parity].Pick(least, most);
        }

        if (picks[0] is not { } evenPicks || picks[1] is not { } oddPicks)
        {
            return null;
        }

        var (even, odd) = NoisePicks.Agreeing(evenPicks, oddPicks);
        (even, odd) = (Completed(even, odd, means[0]), Completed(odd, even, means[1]));

        var ratio = 0.5 * (even.DropEnergy / means[0].Noise + odd.DropEnergy / means[1].Noise);
        var (drops, dropTrack) = Sharpen(energy, fine, rate, line.Numbers, expected, even.Drop, odd.Drop);
        drops = [drops[0] - even.DropLate, drops[1] - odd.DropLate];
        var dropTimes = Time(fine, rate, line.Numbers, expected, drops, dropTrack);
        if (even.First is not { } evenFirst || odd.First is not { } oddFirst)
        {
            return new TimedNoises(even with { Drop = drops[0] }, odd with { Drop = drops[1] }, null, dropTimes, null, ratio, means);
        }

        var (firsts, firstTrack) = Sharpen(energy, fine, rate, line.Numbers, expected, evenFirst, oddFirst);
        firsts = [firsts[0] - even.FirstLate, firsts[1] - odd.FirstLate];
        var firstTimes = Time(fine, rate, line.Numbers, expected, firsts, firstTrack);
        var lift = 0.5 * (drops[0] - firsts[0] + drops[1] - firsts[1]);
        var earlier = EarlierNoise.Before(means, [even, odd], firsts, lift, most);
        var lifts = new double[2][];
        for (var parity = 0; parity < 2; parity++)
        {
            lifts[parity] = [.. Enumerable.Range(0, expected.Length).Where(i => (line.Numbers[i] & 1) == parity)
                .Select(i => drops[parity] - firsts[parity] + dropTrack.Shifts[i] - firstTrack.Shifts[i])];
        }

        return new TimedNoises(even with { Drop = drops[0], First = firsts[0] }, odd with { Drop = drops[1], First = firsts[1] }, firstTimes, dropTimes, lifts, ratio, means) { Earlier = earlier };
    }

    // What came later than in the other kind of beat may be the impulse; the unlocking is looked for again where the other one has it.
    private static NoisePicks Completed(NoisePicks one, NoisePicks other, MeanBeat mean) =>
        other.First is { } theirs && (one.First is not { } own || (one.Drop - own) < (other.Drop - theirs) - FaintReach)
            && mean.Faint(one.Drop - (other.Drop - theirs), FaintReach) is { } found
            ? one with { First = found }
            : one;

    private static double[] Of(int[] numbers, int parity, double[] expected, double[] shifts) =>
        [.. Enumerable.Range(0, numbers.Length).Where(i => (numbers[i] & 1) == parity).Select(i => expected[i] + shifts[i])];

    // A swinging amplitude smears the mean; laid one upon the other block by block, the noises are sharp again and are picked anew.
    private static (double[] Places, NoiseTrack Track) Sharpen(float[] energy, float[] fine, double rate, int[] numbers, double[] expected, double even, double odd)
    {
        double[] places = [even, odd];
        var track = NoiseTrack.Still(numbers.Length);
        for (var round = 0; round < Rounds; round++)
        {
            var moments = expected.Select((one, i) => one + places[numbers[i] & 1]).ToArray();
            track = NoiseTrack.Follow(fine, rate, numbers, moments, track);
            for (var parity = 0; parity < 2; parity++)
            {
                var from = (int)((places[parity] - 0.004) * rate);
                var mean = BeatMatcher.TrimmedMean(energy, rate, Of(numbers, parity, expected, track.Shifts), from, (int)(0.008 * rate));
                places[parity] = new MeanBeat(mean, rate, from, mean[..(int)(0.002 * rate)]).Repick(places[parity], RepickReach) ?? places[parity];
            }
        }

        return (places, track);
    }

    private static double[] Time(float[] fine, double rate, int[] numbers, double[] expected, double[] places, NoiseTrack track)
    {
        var from = -(int)(Before * rate);
        var length = (int)((Before + After) * rate);
        var times = new double[numbers.Length];
        for (var parity = 0; parity < 2; parity++)
        {
            var moments = expected.Select((one, i) => one + places[parity] + track.Shifts[i]).ToArray();
            var pattern = new BeatPattern(fine, rate, [.. moments.Where((_, i) => (numbers[i] & 1) == parity)], from, length);
            for (var i = 0; i < numbers.Length; i++)
            {
                if ((numbers[i] & 1) == parity)
                {
                    times[i] = moments[i] + pattern.Shift(moments[i], Reach);
                }
            }
        }

        return times;
    }
}
