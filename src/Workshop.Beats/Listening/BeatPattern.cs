namespace Workshop.Beats.Listening;

/// <summary>
/// How the beats of one kind sound, to find each of them by. A beat is compared with the mean of the others alone: in a mean that holds its own noise
/// it lies best where it was put, so that in bad noise no beat ever moved, and a line that was off looked the straighter.
/// </summary>
internal sealed class BeatPattern
{
    private readonly float[] values;
    private readonly double rate;
    private readonly int from;
    private readonly float[] sums;
    private readonly float[] counts;
    private readonly float[] most;
    private readonly float[] others;

    /// <param name="values">Envelope at <paramref name="rate"/> values a second; all finite.</param>
    /// <param name="moments">Expected, seconds; those too near an end, and those that are no number, are left out.</param>
    /// <param name="from">First value against the moment; may be negative.</param>
    public BeatPattern(float[] values, double rate, IReadOnlyList<double> moments, int from, int length)
    {
        (this.values, this.rate, this.from) = (values, rate, from);
        (sums, counts, most) = BeatMatcher.Trimmed(values, rate, moments, from, length);
        others = new float[length];
    }

    /// <summary>Where one of the beats that the pattern was made of resembles the others most.</summary>
    /// <param name="moment">One of the expected moments, seconds.</param>
    /// <param name="reach">Seconds to search to each side.</param>
    /// <returns>Seconds from the expected moment; no number where the recording ends or the best lies at the edge.</returns>
    public double Shift(double moment, double reach)
    {
        var begin = (int)Math.Round(moment * rate) + from;
        if (begin < 0 || begin + others.Length > values.Length)
        {
            return double.NaN;
        }

        float whole = 0;
        for (var k = 0; k < others.Length; k++)
        {
            var own = values[begin + k];
            var (sum, count) = own <= most[k] ? (sums[k] - own, counts[k] - 1) : (sums[k], counts[k]);
            others[k] = sum / Math.Max(1, count);
            whole += others[k];
        }

        var mean = whole / others.Length;
        for (var k = 0; k < others.Length; k++)
        {
            others[k] -= mean;
        }

        return BeatMatcher.Match(values, rate, moment, others, from, (int)Math.Ceiling(reach * rate)).Shift;
    }
}
