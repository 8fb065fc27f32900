namespace Workshop.Beats.Listening;

/// <summary>Where the noises of one kind of beat begin in its mean energy.</summary>
/// <param name="Drop">Seconds of the drop's first hit, against the beat's expected moment.</param>
/// <param name="First">Seconds of the unlocking; null where none stands out.</param>
/// <param name="FirstAtEdge">The unlocking was found where the range of amplitudes ends.</param>
/// <param name="DropEnergy">Mean square over 2 ms from the drop, less the noise.</param>
/// <param name="FirstShare">Energy of the unlocking against that of the drop.</param>
/// <param name="HiddenShare">An unlocking below this share of the drop's energy would not be seen.</param>
/// <param name="Rivals">Other rises before the drop that are nearly as strong.</param>
internal sealed record NoisePicks(double Drop, double? First, bool FirstAtEdge, double DropEnergy, double FirstShare, double HiddenShare, int Rivals);

/// <summary>The mean energy around the beats of one kind, and the picks in it.</summary>
internal sealed class MeanBeat
{
    // Shares of the loudest millisecond, from trials on the tuning seeds.
    private const double StrongShare = 0.3;
    private const double RivalShare = 0.5;
    private const double FirstLeastShare = 0.008;
    private const double ClearRise = 0.45;

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
    }

    public double Noise => noise;

    /// <summary>Finds the drop, the last strong rise, and the unlocking, the earliest rise that the range of amplitudes allows.</summary>
    /// <param name="least">Seconds from unlocking to drop at the greatest amplitude.</param>
    /// <param name="most">At the least amplitude.</param>
    public NoisePicks? Pick(double least, double most)
    {
        var millisecond = (int)(0.001 * rate);
        var rises = StepOperator.Rises(ratios, Math.Max(ClearRise, 5 * chance)).Where(at => at + millisecond < energy.Length).ToArray();
        if (rises.Length == 0)
        {
            return null;
        }

        var loudest = rises.Max(at => After(at, millisecond));
        var strong = rises.Where(at => After(at, millisecond) > StrongShare * loudest).ToArray();
        if (strong.Length == 0 || loudest <= 0)
        {
            return null;
        }

        var drop = strong.First(at => at >= strong[^1] - (int)(ClusterSeconds * rate));
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
            4 * chance * noise / loudest,
            rivals);
    }

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
