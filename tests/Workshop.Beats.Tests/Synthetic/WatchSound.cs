namespace Workshop.Beats.Tests.Synthetic;

/// <summary>
/// One watch, made audible from mechanics: the balance crosses the lift angle evenly about its rest; unlocking sounds where it enters, the impulse
/// shortly behind, the drop (tooth, then fork on banking) where it leaves. Each noise rings in the watch's own modes.
/// </summary>
public sealed class WatchSound
{
    private const int Modes = 4;
    private const double AttackSeconds = 40e-6;

    private readonly Watch watch;
    private readonly double fileRate;
    private readonly double[] hertz = new double[Modes];
    private readonly double[] decay = new double[Modes];
    private readonly (double[] Weight, double[] Phase)[] noises = new (double[], double[])[10];
    private readonly double impulseAt;
    private readonly double bankingAt;
    private readonly double bankingDecibels;

    /// <param name="fileRate">Samples a second of true time.</param>
    public WatchSound(Watch watch, double fileRate)
    {
        (this.watch, this.fileRate) = (watch, fileRate);
        var chance = new Chance(watch.Seed * 7919 + 13);
        for (var m = 0; m < Modes; m++)
        {
            hertz[m] = chance.Between(2500, 12_000);
            decay[m] = chance.Between(0.15e-3, 0.6e-3) * watch.Ringing;
        }

        for (var n = 0; n < noises.Length; n++)
        {
            noises[n] = ([.. Enumerable.Range(0, Modes).Select(_ => chance.Between(0.3, 1))], [.. Enumerable.Range(0, Modes).Select(_ => chance.Between(0, 2 * Math.PI))]);
        }

        impulseAt = chance.Between(0.22, 0.42);
        bankingAt = chance.Between(0.35e-3, 0.9e-3);
        bankingDecibels = chance.Between(-8, 0);
    }

    /// <summary>Adds the whole watch to a recording.</summary>
    /// <param name="samples">The recording.</param>
    /// <param name="startSeconds">True time of its first passage.</param>
    /// <param name="level">Factor of all its noises.</param>
    /// <param name="chance">Of this recording.</param>
    /// <returns>What was really played.</returns>
    public Truth Play(double[] samples, double startSeconds, double level, Chance chance)
    {
        var half = HalfPeriod();
        var whole = samples.Length / fileRate;
        var passages = new List<(int Number, double Seconds)>();
        double amplitudes = 0;
        double walk = 0;
        for (var n = 0; ; n++, walk += chance.Normal() * watch.WalkMicroseconds * 1e-6)
        {
            // A tock comes later by the beat error: tick to tock lasts T/2 + e, tock to tick T/2 − e.
            var passage = startSeconds + n * half + walk + (n % 2) * watch.BeatErrorMilliseconds * 1e-3;
            if (passage > whole - 0.03)
            {
                break;
            }

            var amplitude = AmplitudeAt(passage, whole);
            if (n % watch.SoundsEvery == 0)
            {
                passages.Add((n, passage));
                amplitudes += amplitude;
                Beat(samples, n % 2, passage, LiftTime(amplitude, 2 * half), level, chance);
            }
        }

        return TruthOf(passages, amplitudes / passages.Count);
    }

    /// <summary>Mean square sample of a drop over its first 2 ms, tick and tock together, and those samples for whoever wants to filter them.</summary>
    public double[][] Drops()
    {
        var length = (int)(0.012 * fileRate);
        var drops = new double[2][];
        for (var parity = 0; parity < 2; parity++)
        {
            drops[parity] = new double[length];
            Drop(drops[parity], parity, 0.005, LevelOf(parity), new Chance(1));
        }

        return drops;
    }

    /// <summary>Where in <see cref="Drops"/> the drop begins.</summary>
    public static double DropBeginsSeconds => 0.005;

    private static double Factor(double decibels) => Math.Pow(10, decibels / 20);

    private double HalfPeriod() => 3600.0 / watch.VibrationsPerHour / (1 + watch.RatePerDaySeconds / 86400);

    private double LevelOf(int parity) => parity == 0 ? 1 : Factor(watch.TockDecibels);

    private double AmplitudeAt(double seconds, double whole) =>
        watch.AmplitudeDegrees + watch.DriftDegrees * (seconds / whole - 0.5) + watch.SwingDegrees * Math.Sin(2 * Math.PI * seconds / watch.SwingSeconds);

    private double LiftTime(double amplitude, double period) => period / Math.PI * Math.Asin(watch.LiftAngleDegrees / (2 * amplitude));

    private void Beat(double[] samples, int parity, double passage, double lift, double level, Chance chance)
    {
        var loud = level * LevelOf(parity);
        var jitter = watch.JitterMicroseconds * 1e-6;
        var entry = passage - lift / 2;
        Strike(samples, parity * 5, entry + jitter * chance.Normal(), loud * Factor(watch.UnlockingDecibels), chance);
        Strike(samples, parity * 5 + 1, entry + impulseAt * lift + jitter * chance.Normal(), loud * Factor(watch.ImpulseDecibels), chance);
        Strike(samples, parity * 5 + 2, entry + impulseAt * lift + 0.0006 + 2 * jitter * chance.Normal(), loud * Factor(watch.ImpulseDecibels - 4), chance);
        Drop(samples, parity, passage + lift / 2 + jitter * chance.Normal(), loud, chance);
    }

    private void Drop(double[] samples, int parity, double at, double loud, Chance chance)
    {
        Strike(samples, parity * 5 + 3, at, loud, chance);
        Strike(samples, parity * 5 + 4, at + bankingAt + 10e-6 * chance.Normal(), loud * Factor(bankingDecibels), chance);
    }

    private void Strike(double[] samples, int noise, double at, double loud, Chance chance)
    {
        var begin = at * fileRate;
        var strength = loud * Factor(chance.Normal());
        for (var m = 0; m < Modes; m++)
        {
            var last = Math.Min(samples.Length - 1, (int)(begin + 9 * decay[m] * fileRate));
            var phase = noises[noise].Phase[m] + 0.3 * chance.Normal();
            var weight = strength * noises[noise].Weight[m];
            var turn = 2 * Math.PI * hertz[m];
            for (var i = Math.Max(0, (int)Math.Ceiling(begin)); i <= last; i++)
            {
                var t = (i - begin) / fileRate;
                samples[i] += weight * (1 - Math.Exp(-t / AttackSeconds)) * Math.Exp(-t / decay[m]) * Math.Sin(turn * t + phase);
            }
        }
    }

    private Truth TruthOf(List<(int Number, double Seconds)> passages, double amplitude)
    {
        var (slope, nominal) = (Slope(passages), 3600.0 / watch.VibrationsPerHour);
        var last = passages.FindLastIndex(one => one.Number % 2 == passages[0].Number % 2);
        var mean = (passages[last].Seconds - passages[0].Seconds) / (passages[last].Number - passages[0].Number);
        return new Truth(
            watch.RatePerDaySeconds,
            86400 * (nominal / slope - 1),
            86400 * (nominal / mean - 1),
            amplitude,
            Math.Abs(watch.BeatErrorMilliseconds),
            passages.Count);
    }

    // Least squares of t = a + n·b + d·(n odd): the means of each parity are taken off first.
    private static double Slope(List<(int Number, double Seconds)> passages)
    {
        double above = 0;
        double below = 0;
        foreach (var parity in passages.GroupBy(one => one.Number % 2))
        {
            var meanNumber = parity.Average(one => (double)one.Number);
            var meanSeconds = parity.Average(one => one.Seconds);
            above += parity.Sum(one => (one.Number - meanNumber) * (one.Seconds - meanSeconds));
            below += parity.Sum(one => (one.Number - meanNumber) * (one.Number - meanNumber));
        }

        return above / below;
    }
}
