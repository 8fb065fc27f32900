namespace Workshop.Beats.Listening;

/// <summary>What beats in a recording.</summary>
/// <param name="Period">Seconds of a whole oscillation, by the file's own time.</param>
/// <param name="Tick">Seconds at which the first kind of beat is loudest, within the first period.</param>
/// <param name="Tock">The same of the other kind; about half a period later.</param>
internal sealed record FoundBeat(int VibrationsPerHour, double Period, double Tick, double Tock);

/// <summary>
/// Decides on the frequency: the best period near each that is looked for, then what the fold shows. A watch has two bursts half a period apart, not
/// four, and its fold explains more than any other.
/// </summary>
internal sealed class FrequencyFinder
{
    // A tick may be loudest at its drop and a tock at its unlocking; with the beat error that is as far from half a period.
    private const double MostUneven = 0.055;

    // Milliseconds, which are also the bins of the fold.
    private const int MostBeatError = 4;
    private const int Smooth = 5;
    private const int AfterBurst = 12;

    // From trials on the tuning seeds.
    private const double LeastHeight = 6;
    private const double LeastSecondShare = 0.2;
    private const double CrowdedShare = 0.35;
    private const double StrangerHeight = 8;
    private const float MostOfUsual = 6;
    private const double LeastDrift = 0.0015;
    private const double WorthSharpening = 0.6;

    // Of a step of the spectrum's search.
    private static readonly double[] Parts = [0.7, 0.35, 0.18];
    private const int Denser = 4;
    private const int HalvesSmooth = 3 * Denser;
    private const double HalvesShare = 0.008;
    private const double HalvesChance = 0.25;
    private const double LeastStranger = 0.02;
    private const double HummingShare = 0.7;
    private const double ExplainsMost = 0.85;
    private const double ExplainsAll = 0.97;
    private const double TockHeight = 5;
    private const double LeastTockShare = 0.04;
    private const double UnseenTockShare = 0.12;

    private readonly float[] denser;
    private readonly float[] envelope;
    private readonly double rate;
    private readonly double liftAngle;

    /// <param name="denser">Envelope at some thousand values a second.</param>
    /// <param name="denserRate">Values of it a second; what is looked through most has a quarter of them.</param>
    public FrequencyFinder(float[] denser, double denserRate, double liftAngle)
    {
        (this.denser, this.liftAngle) = (denser, liftAngle);
        (envelope, rate) = (LogEnvelope.Means(denser, Denser), denserRate / Denser);
    }

    /// <summary>One beat, or the code of why there is none.</summary>
    public (FoundBeat? Beat, string? Code) Find(IReadOnlyList<int> lookedFor)
    {
        var search = new HarmonicSearch(envelope, rate);
        var looks = lookedFor.Select(one => Look(envelope, one, search.BestPeriod(Frequencies.Period(one)))).ToArray();
        var most = looks.Max(one => one.Fold.Explained);
        looks = [.. looks.Select(one => one.Fold.Explained > WorthSharpening * most ? Look(envelope, one.VibrationsPerHour, Sharpest(one.Period, search.Step)) : one)];
        var best = looks.MaxBy(one => one.Fold.Explained)!;
        if (best.Height < LeastHeight)
        {
            return (null, "no-beat");
        }

        var clear = looks.Where(one => one.Clear && one.Fold.Explained > 0.9 * best.Fold.Explained).MaxBy(one => one.VibrationsPerHour);
        if (clear is null)
        {
            return (null, best.Crowded ? "more-than-one-watch" : "frequency-unusual");
        }

        if (looks.FirstOrDefault(one => one.VibrationsPerHour == 2 * clear.VibrationsPerHour) is { } faster && MayBeTwiceAsFast(clear, faster))
        {
            return (null, "frequency-in-doubt");
        }

        // Two like watches a quarter of a period apart look like one of twice the frequency; then the longer fold explains more, since they are two.
        return HalvesDiffer(clear.Period)
            ? (null, "more-than-one-watch")
            : (new FoundBeat(clear.VibrationsPerHour, clear.Period, clear.Tick / rate, clear.Tock / rate), null);
    }

    // A watch whose tocks are quiet has two ticks in a fold of twice its period, and no third burst that stands out. In the shorter fold the tocks do,
    // where there are some; where noise would hide them, the longer fold has to explain more than the shorter one, as a slower watch does whose ticks
    // and tocks differ.
    private static bool MayBeTwiceAsFast(FoldLook found, FoldLook faster)
    {
        var explains = faster.Fold.Explained / found.Fold.Explained;
        return (explains > ExplainsMost && faster.Second > Math.Max(LeastTockShare * faster.First, TockHeight * faster.Noise))
            || (explains > ExplainsAll && TockHeight * faster.Noise > UnseenTockShare * faster.First);
    }

    // The period near one whose fold explains most. In ten seconds the spectrum alone leaves beats a millisecond apart.
    private double Sharpest(double period, double step)
    {
        double Explained(double tried) => PeriodFold.Of(denser, Denser * rate, tried).Explained;
        var best = (Period: period, Explained: Explained(period));
        foreach (var part in Parts)
        {
            var around = best.Period;
            foreach (var other in new[] { around * (1 - part * step), around * (1 + part * step) })
            {
                var explained = Explained(other);
                best = explained > best.Explained ? (other, explained) : best;
            }
        }

        return best.Period;
    }

    // The fold over two periods, its first half against its second. Where a period is a whole number of values and a half, the halves are taken at
    // other places of a beat, always the same: with a thousand values a second that alone made them differ.
    private bool HalvesDiffer(double period)
    {
        var fold = PeriodFold.Of(denser, Denser * rate, 2 * period, even: true);
        var smooth = fold.Smoothed(HalvesSmooth);
        var half = smooth.Length / 2;
        var mean = smooth.Average();
        var noise = fold.NoiseOfMean * fold.NoiseOfMean / HalvesSmooth;
        double apart = 0;
        double whole = 0;
        for (var b = 0; b < half; b++)
        {
            apart += (smooth[b] - smooth[b + half]) * (smooth[b] - smooth[b + half]) / 2 - noise;
            whole += (smooth[b] - mean) * (smooth[b] - mean) + (smooth[b + half] - mean) * (smooth[b + half] - mean) - 2 * noise;
        }

        return apart > (HalvesShare + HalvesChance * 2 * period * rate / envelope.Length) * whole + 4 * noise * Math.Sqrt(2.0 * half);
    }

    /// <summary>Whether something else beats in what the found watch leaves over.</summary>
    public bool AnotherBeats(FoundBeat found, IReadOnlyList<int> lookedFor)
    {
        var rest = WithoutBursts(found);
        var search = new HarmonicSearch(rest, rate);
        foreach (var one in lookedFor)
        {
            var period = search.BestPeriod(Frequencies.Period(one));
            var look = Look(rest, one, period);
            if (!KeepsStep(found.Period, period) && look.Height > StrangerHeight && look.First > LeastStranger && look.Third < HummingShare * look.First)
            {
                return true;
            }
        }

        return false;
    }

    // What hardly moves against the found watch from begin to end may be its own rest.
    private bool KeepsStep(double found, double other)
    {
        var ratio = found > 1.5 * other ? 0.5 : other > 1.5 * found ? 2 : 1;
        return Math.Abs(ratio * found / other - 1) * envelope.Length / rate < LeastDrift;
    }

    private static double NoiseOfSmoothed(PeriodFold fold) => Math.Max(1e-12, fold.NoiseOfMean / Math.Sqrt(Smooth));

    // The median of each phase is taken off: another watch that moves against the found one stands there for less than half of the time and is not
    // in it. What scatters at its phase counts the less, so that the found watch's own bursts are all but gone. A click weighs no more than a tick.
    internal float[] WithoutBursts(FoundBeat found)
    {
        var bins = (int)Math.Round(found.Period * rate);
        var phases = new int[envelope.Length];
        var values = Enumerable.Range(0, bins).Select(_ => new List<float>(1 + envelope.Length / bins)).ToArray();
        for (var i = 0; i < phases.Length; i++)
        {
            var turns = i / (found.Period * rate);
            phases[i] = Math.Min(bins - 1, (int)((turns - Math.Floor(turns)) * bins));
            values[phases[i]].Add(envelope[i]);
        }

        var middle = new float[bins];
        var below = new float[bins];
        for (var b = 0; b < bins; b++)
        {
            values[b].Sort();
            middle[b] = values[b].Count > 0 ? values[b][values[b].Count / 2] : 0;
            below[b] = values[b].Count > 0 ? middle[b] - values[b][values[b].Count / 4] : 0;
        }

        var usual = Math.Max(1e-6f, below.Order().ElementAt(bins / 2));
        var rest = new float[envelope.Length];
        for (var i = 0; i < rest.Length; i++)
        {
            var b = phases[i];
            var around = Math.Max(Math.Max(usual, below[b]), Math.Max(below[(b + 1) % bins], below[(b + bins - 1) % bins]));
            rest[i] = Math.Clamp((envelope[i] - middle[b]) * usual * usual / (around * around), -MostOfUsual * usual, MostOfUsual * usual);
        }

        return rest;
    }

    private int BeforeBurst(double period) => (int)(rate * Frequencies.LiftSeconds(Frequencies.LeastAmplitude, liftAngle, period)) + 4;

    private FoldLook Look(float[] values, int vibrationsPerHour, double period)
    {
        var fold = PeriodFold.Of(values, rate, period);
        var smooth = fold.Smoothed(Smooth);
        var bins = smooth.Length;
        var sorted = smooth.ToArray();
        Array.Sort(sorted);
        var floor = sorted[(int)(0.4 * bins)];
        var tick = Array.IndexOf(smooth, sorted[^1]);
        var uneven = MostBeatError + (int)(MostUneven * bins);
        var tock = Loudest(smooth, (tick + bins / 2 - uneven + bins) % bins, 2 * uneven);
        var before = BeforeBurst(period);
        double third = 0;
        for (var b = 0; b < bins; b++)
        {
            if (!Near(b, tick, before, bins) && !Near(b, tock, before, bins))
            {
                third = Math.Max(third, smooth[b] - floor);
            }
        }

        return new FoldLook(vibrationsPerHour, period, fold, tick, tock, smooth[tick] - floor, smooth[tock] - floor, third, NoiseOfSmoothed(fold));
    }

    private static bool Near(int bin, int burst, int before, int bins)
    {
        var behind = (bin - burst + bins) % bins;
        return behind < before + AfterBurst || behind > bins - before;
    }

    private static int Loudest(double[] smooth, int from, int count)
    {
        var best = from;
        for (var k = 0; k <= count; k++)
        {
            var bin = (from + k) % smooth.Length;
            best = smooth[bin] > smooth[best] ? bin : best;
        }

        return best;
    }

    private sealed record FoldLook(int VibrationsPerHour, double Period, PeriodFold Fold, int Tick, int Tock, double First, double Second, double Third, double Noise)
    {
        public double Height => First / Noise;

        public bool Crowded => Third > StrangerHeight * Noise && Third > CrowdedShare * Math.Max(Second, 0.3 * First);

        public bool Clear => Height >= LeastHeight && Second / Noise >= LeastHeight - 1 && Second >= LeastSecondShare * First && !Crowded;
    }
}
