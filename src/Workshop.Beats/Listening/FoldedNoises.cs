namespace Workshop.Beats.Listening;

/// <summary>The mean beats as pictures that are small enough to be kept.</summary>
internal static class FoldedNoises
{
    private const int MostValues = 400;
    private const double BeforeMilliseconds = 4;
    private const double AfterMilliseconds = 8;
    private const double LeastDecibels = -10;

    /// <param name="mean">Of the beats of one kind.</param>
    /// <param name="picks">In that mean.</param>
    /// <param name="pickSeconds">How well a begin is found, half width.</param>
    public static FoldedNoise Of(MeanBeat mean, NoisePicks picks, double earliestSeconds, double pickSeconds)
    {
        var first = picks.First ?? picks.Drop - earliestSeconds;
        var begin = Math.Max(0, mean.IndexOf(first - 1e-3 * BeforeMilliseconds));
        var end = Math.Min(mean.Energy.Length, mean.IndexOf(picks.Drop + 1e-3 * AfterMilliseconds));
        var step = Math.Max(1, (end - begin + MostValues - 1) / MostValues);
        var values = Enumerable.Range(0, (end - begin) / step)
            .Select(k => Decibels(mean.Energy.AsSpan(begin + k * step, step), mean.Noise)).ToArray();
        double Milliseconds(double seconds) => 1e3 * (seconds - picks.Drop);
        return new FoldedNoise(
            Milliseconds(mean.SecondsOf(begin + 0.5 * (step - 1))),
            1e3 * step / mean.Rate,
            values,
            picks.First is { } found ? new PickedMoment(Milliseconds(found), 1e3 * pickSeconds) : null,
            new PickedMoment(0, 1e3 * pickSeconds));
    }

    private static double Decibels(ReadOnlySpan<double> energies, double noise)
    {
        double sum = 0;
        foreach (var one in energies)
        {
            sum += one;
        }

        return Math.Max(LeastDecibels, Math.Round(10 * Math.Log10(Math.Max(1e-30, sum / energies.Length) / Math.Max(1e-30, noise)), 2));
    }
}
