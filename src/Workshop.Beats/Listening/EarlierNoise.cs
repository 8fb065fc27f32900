namespace Workshop.Beats.Listening;

/// <summary>
/// What sounds before that which was taken for the unlocking. Where the unlocking is faint the impulse behind it is the earliest rise, in ticks and
/// tocks alike, and an amplitude from it is half too high; the energy of both together, over a whole millisecond, tells what no single rise does.
/// </summary>
/// <param name="Height">The loudest millisecond before, in standard deviations of what is there by chance.</param>
/// <param name="Share">Its energy against that of the loudest millisecond of a beat.</param>
/// <param name="UnseenShare">An earlier noise below this share would not stand out.</param>
internal sealed record EarlierNoise(double Height, double Share, double UnseenShare)
{
    // Seconds before the begin of a noise in which it may have set in already.
    private const double Gap = 0.0003;

    // When the impulse sounds the balance has gone through less than this of the lift.
    private const double MostOfLift = 0.55;

    // Of some twenty milliseconds looked at none stands so high by chance.
    private const double LeastHeight = 4;

    // What is quieter may be the fold's own imperfection.
    private const double LeastShare = 0.003;

    public bool IsThere => Height > LeastHeight && Share > LeastShare;

    /// <param name="means">Of the even beats and of the odd ones.</param>
    /// <param name="picks">In these.</param>
    /// <param name="firsts">Where each unlocking was found, seconds against the expected moment.</param>
    /// <param name="lift">Seconds from there to the drop.</param>
    /// <param name="most">The same at the least amplitude.</param>
    public static EarlierNoise Before(MeanBeat[] means, NoisePicks[] picks, double[] firsts, double lift, double most)
    {
        var seconds = Math.Min(most, lift / (1 - MostOfLift)) - lift;
        var shares = new double[2][];
        var certainty = new double[2];
        for (var parity = 0; parity < 2; parity++)
        {
            shares[parity] = [.. means[parity].MillisecondsBefore(firsts[parity] - Gap, seconds).Select(one => one / picks[parity].LoudestEnergy)];
            certainty[parity] = Math.Pow(picks[parity].LoudestEnergy / means[parity].ChanceOfMillisecond, 2);
        }

        var loudest = shares[0].Zip(shares[1], (even, odd) => (certainty[0] * even + certainty[1] * odd) / (certainty[0] + certainty[1])).DefaultIfEmpty(0).Max();
        var chance = Math.Sqrt(1 / (certainty[0] + certainty[1]));
        return new EarlierNoise(loudest / chance, loudest, LeastHeight * chance);
    }
}
