namespace Workshop.Beats.Listening;

/// <summary>Where the noises of one kind of beat begin in its mean energy.</summary>
/// <param name="Drop">Seconds of the drop's first hit, against the beat's expected moment.</param>
/// <param name="First">Seconds of the unlocking; null where none stands out.</param>
/// <param name="FirstAtEdge">The unlocking was found where the range of amplitudes ends.</param>
/// <param name="DropEnergy">Mean square over 2 ms from the drop, less the noise.</param>
/// <param name="FirstShare">Energy of the unlocking against that of the drop.</param>
/// <param name="HiddenShare">An unlocking below this share of the drop's energy would not be seen.</param>
/// <param name="Rivals">Other rises before the drop that are nearly as strong.</param>
/// <param name="Drops">Where the drop may begin: <paramref name="Drop"/> and the other rises of its cluster.</param>
internal sealed record NoisePicks(
    double Drop, double? First, bool FirstAtEdge, double DropEnergy, double FirstShare, double HiddenShare, int Rivals, double[] Drops)
{
    // Other picks of the cluster are believed where ticks and tocks then agree by so much better, seconds each.
    private const double Agreement = 60e-6;

    // From the tuning seeds, whose noises set in within 40 µs.
    private const double LateSeconds = 60e-6;
    private const double MostLate = 1.2;

    /// <summary>The loudest millisecond against the noise, a ratio of energies.</summary>
    public double LoudestToNoise { get; init; }

    /// <summary>Mean square over the loudest millisecond, less the noise.</summary>
    public double LoudestEnergy { get; init; }

    /// <summary>
    /// Seconds by which the unlocking is picked too late: a noise that sets in like t has let through energy like t³ before it stands out, so that
    /// the delay goes with the cube root of its noise.
    /// </summary>
    public double FirstLate => Late(FirstShare * LoudestToNoise);

    /// <summary>The same of the drop.</summary>
    public double DropLate => Late(LoudestToNoise);

    /// <summary>Seconds by which the earliest rise of the drop's cluster lies before the one that was taken, once ticks and tocks have agreed on it.</summary>
    public double EarlierInCluster { get; init; }

    private static double Late(double ratio) => LateSeconds * Math.Min(MostLate, 1 / Math.Cbrt(Math.Max(1e-6, ratio)));

    /// <summary>
    /// Ticks and tocks last equally long from unlocking to drop, since they belong to one swing. Where the best picks of both disagree, others of
    /// the same clusters are taken if they agree.
    /// </summary>
    public static (NoisePicks Even, NoisePicks Odd) Agreeing(NoisePicks even, NoisePicks odd)
    {
        if (even.First is not { } evenFirst || odd.First is not { } oddFirst)
        {
            return (even, odd);
        }

        var best = (Cost: double.PositiveInfinity, Even: even, Odd: odd);
        for (var a = 0; a < even.Drops.Length; a++)
        {
            for (var b = 0; b < odd.Drops.Length; b++)
            {
                var apart = Math.Abs(even.Drops[a] - evenFirst - odd.Drops[b] + oddFirst);
                var cost = Math.Max(apart, Agreement) + ((a > 0 ? 1 : 0) + (b > 0 ? 1 : 0)) * Agreement;
                if (cost < best.Cost)
                {
                    best = (cost, even with { Drop = even.Drops[a] }, odd with { Drop = odd.Drops[b] });
                }
            }
        }

        return (best.Even with { EarlierInCluster = best.Even.Drop - best.Even.Drops.Min() }, best.Odd with { EarlierInCluster = best.Odd.Drop - best.Odd.Drops.Min() });
    }
}

/// <summary>The mean energy around the beats of one kind, and the picks in it.</summary>
internal sealed class MeanBeat
{
    // Shares of the loudest millisecond, from trials on the tuning seeds.
    private const double StrongShare = 0.3;
    private const double ClusterShare = 0.1;
    private const double RivalShare = 0.5;
    private const double FirstLeastShare = 0.003;
    private const double ClearRise = 0.45;
    // A mode that beats with another rises too, but what follows is no louder than what was before.
    private const double Louder = 1.2;
    private const double FaintRise = 0.25;
    private const double SteepShare = 0.12;

    // The drop is a cluster: tooth on pallet, then the fork on its banking up to 0.9 ms later.
    private const double ClusterSeconds = 0.0011;

    private readonly double[] energy;
    private readonly double[] ratios;
    private readonly double rate;
    private readonly int from;
    private readonly int width;
    private readonly double noise;
    private readonly double chance;

    /// <param name="energy">Mean energy, one value each 1/<paramref name="rate"/> s.</param>
    /// <param name="from">First value against the expected moment.</param>
    /// <param name="quiet">Mean energy between the beats.</param>
    public MeanBeat(double[] energy, double rate, int from, double[] quiet)
    {
        (this.energy, this.rate, this.from) = (energy, rate, from);
        width = (int)Math.Round(StepOperator.WindowSeconds * rate);
        noise = quiet.Average();
        ratios = StepOperator.Ratios(energy, width, 0.05 * noise);
        var still = StepOperator.Ratios(quiet, width, 0.05 * noise)[width..^width];
        chance = Math.Sqrt(still.Sum(one => one * one) / still.Length);
        ChanceOfMillisecond = ChanceOf(quiet, Millisecond);
    }

    public double Noise => noise;

    /// <summary>Standard deviation of the mean energy of a millisecond in which there is nothing but the noise.</summary>
    public double ChanceOfMillisecond { get; }

    public double[] Energy => energy;

    public double Rate => rate;

    /// <summary>Which value lies at a moment against the expected one; may lie outside.</summary>
    public int IndexOf(double seconds) => (int)Math.Round(seconds * rate) - from;

    public double SecondsOf(double at) => (from + at) / rate;

    /// <summary>Finds the drop, the last strong rise, and the unlocking, the earliest rise that the range of amplitudes allows.</summary>
    /// <param name="least">Seconds from unlocking to drop at the greatest amplitude.</param>
    /// <param name="most">At the least amplitude.</param>
    public NoisePicks? Pick(double least, double most)
    {
        var millisecond = Millisecond;
        var seen = Math.Max(FaintRise, 5 * chance);
        var rises = StepOperator.Rises(ratios, seen).Where(at => at >= millisecond && at + millisecond < energy.Length).ToArray();
        if (rises.Length == 0)
        {
            return null;
        }

        var loudest = rises.Max(at => After(at, millisecond));
        var loud = rises.Where(at => ratios[at] > ClearRise && After(at, millisecond) > StrongShare * loudest
            && After(at, millisecond) > Louder * After(at - millisecond, millisecond)).ToArray();
        var strong = loud.Where(at => ratios[at] > SteepShare * loud.Max(one => ratios[one])).ToArray();
        if (strong.Length == 0 || loudest <= 0)
        {
            return null;
        }

        var cluster = (int)(ClusterSeconds * rate);
        var drop = rises.First(at => at >= strong[^1] - cluster && ratios[at] > SteepShare * ratios[strong[^1]] + ClearRise && After(at, millisecond) > ClusterShare * loudest || at == strong[^1]);
        var drops = rises.Where(at => at != drop && Math.Abs(at - strong[^1]) <= cluster && After(at, millisecond) > ClusterShare * loudest).ToArray();
        var dropEnergy = After(drop, Math.Min(2 * millisecond, energy.Length - drop));
        var earliest = drop - (int)(most * rate);
        var latest = drop - (int)(least * rate);
        var significant = Math.Max(FirstLeastShare * loudest, 4 * chance * noise);
        var first = rises.Where(at => at >= earliest && at <= latest && After(at, width) > significant).Cast<int?>().FirstOrDefault();
        var rivals = strong.Count(at => at < drop - (int)(ClusterSeconds * rate) && After(at, millisecond) > RivalShare * loudest);
        return new NoisePicks(
            Seconds(drop),
            first is { } found ? Seconds(found) : null,
            first is { } edge && (edge - earliest < 2 || latest - edge < 2),
            dropEnergy,
            first is { } one ? After(one, millisecond) / loudest : 0,
            (Math.Exp(seen) - 1) * noise / loudest,
            rivals,
            [Seconds(drop), .. drops.Select(Seconds)])
        {
            LoudestToNoise = loudest / noise,
            LoudestEnergy = loudest,
        };
    }

    /// <summary>A rise that is too faint to be believed alone, where the other kind of beat says that one must be.</summary>
    public double? Faint(double near, double reach) =>
        StepOperator.Rises(ratios, 3 * chance).Select(Seconds).Where(at => Math.Abs(at - near) < reach).Cast<double?>().MinBy(at => Math.Abs(at!.Value - near));

    /// <summary>The highest rise near a moment that is known already.</summary>
    /// <param name="near">Seconds against the expected moment.</param>
    public double? Repick(double near, double reach)
    {
        var centre = (int)Math.Round(near * rate) - from;
        var steps = (int)Math.Ceiling(reach * rate);
        int? best = null;
        for (var at = Math.Max(1, centre - steps); at <= Math.Min(ratios.Length - 2, centre + steps); at++)
        {
            if (ratios[at] >= ratios[at - 1] && ratios[at] > ratios[at + 1] && (best is null || ratios[at] > ratios[best.Value]))
            {
                best = at;
            }
        }

        return best is { } found ? Seconds(found) : null;
    }

    /// <summary>Mean energy above the noise of each millisecond that lies before a moment, the nearest first, a quarter of a millisecond apart.</summary>
    /// <param name="moment">Seconds against the expected one.</param>
    /// <param name="seconds">Over which the milliseconds end.</param>
    public IEnumerable<double> MillisecondsBefore(double moment, double seconds)
    {
        var step = Millisecond / 4;
        var last = IndexOf(moment) - Millisecond;
        var count = 1 + (int)Math.Max(0, seconds * rate / step);
        return Enumerable.Range(0, count).Select(k => last - k * step).TakeWhile(at => at >= 0).Select(at => After(at, Millisecond));
    }

    private static double ChanceOf(double[] quiet, int width)
    {
        var means = Enumerable.Range(0, quiet.Length - width).Select(at => quiet.Skip(at).Take(width).Average()).ToArray();
        var mean = means.Average();
        return Math.Sqrt(means.Sum(one => (one - mean) * (one - mean)) / (means.Length - 1));
    }

    private int Millisecond => (int)(0.001 * rate);

    private double Seconds(int at) => (from + StepOperator.Exact(ratios, at)) / rate;

    private double After(int at, int length)
    {
        double sum = 0;
        for (var i = at; i < Math.Min(energy.Length, at + length); i++)
        {
            sum += energy[i];
        }

        return sum / length - noise;
    }
}
