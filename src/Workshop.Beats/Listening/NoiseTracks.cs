namespace Workshop.Beats.Listening;

/// <summary>How one noise, the unlocking or the drop, moves along the recording.</summary>
/// <param name="Shifts">For each beat, by how much its noise lies behind the mean place, seconds; smooth over blocks of time.</param>
internal sealed record NoiseTrack(double[] Shifts)
{
    // A swing of the amplitude has a period of seconds; a block of two holds enough beats to be seen in noise.
    private const double BlockSeconds = 2;
    private const double Before = 0.0009;
    private const double After = 0.0017;
    private const double Reach = 0.0011;

    public static NoiseTrack Still(int beats) => new(new double[beats]);

    /// <summary>Follows a noise block by block: ticks and tocks move together, since the amplitude is theirs both.</summary>
    /// <param name="fine">Envelope.</param>
    /// <param name="places">Expected moment of the noise in each beat, by the line.</param>
    /// <param name="known">What is known of its shifts so far.</param>
    public static NoiseTrack Follow(float[] fine, double rate, int[] numbers, double[] places, NoiseTrack known)
    {
        var from = -(int)((Before + Reach) * rate);
        var reach = (int)(Reach * rate);
        var length = (int)((Before + After) * rate);
        var blocks = Math.Max(1, (int)((places[^1] - places[0]) / BlockSeconds));
        var centres = new List<double>();
        var shifts = new List<double>();
        for (var block = 0; block < blocks; block++)
        {
            var (begin, end) = (block * numbers.Length / blocks, (block + 1) * numbers.Length / blocks);
            var likeness = new double[2 * reach + 1];
            for (var parity = 0; parity < 2; parity++)
            {
                // A block lies best on its own noise; it is laid upon the others.
                var others = BeatMatcher.Centred(BeatMatcher.TrimmedMean(fine, rate, [.. Where(places, known, numbers, parity, 0, begin), .. Where(places, known, numbers, parity, end, numbers.Length)], -(int)(Before * rate), length));
                var mean = BeatMatcher.TrimmedMean(fine, rate, Where(places, NoiseTrack.Still(numbers.Length), numbers, parity, begin, end), from, length + 2 * reach);
                for (var lag = 0; lag < likeness.Length; lag++)
                {
                    for (var k = 0; k < length; k++)
                    {
                        likeness[lag] += mean[lag + k] * others[k];
                    }
                }
            }

            var best = Array.IndexOf(likeness, likeness.Max());
            if (best > 0 && best < likeness.Length - 1)
            {
                centres.Add(0.5 * (begin + end - 1));
                shifts.Add((best - reach + BeatMatcher.Vertex(likeness[best - 1], likeness[best], likeness[best + 1])) / rate);
            }
        }

        return shifts.Count < 2 ? known : Between(centres, shifts, numbers.Length);
    }

    private static IReadOnlyList<double> Where(double[] places, NoiseTrack known, int[] numbers, int parity, int begin, int end) =>
        [.. Enumerable.Range(begin, end - begin).Where(i => (numbers[i] & 1) == parity).Select(i => places[i] + known.Shifts[i])];

    // Straight from the middle of one block to that of the next; the mean of all is taken off, it belongs to the place.
    private static NoiseTrack Between(List<double> centres, List<double> shifts, int beats)
    {
        var all = new double[beats];
        var at = 0;
        for (var i = 0; i < beats; i++)
        {
            while (at < centres.Count - 2 && centres[at + 1] < i)
            {
                at++;
            }

            var part = Math.Clamp((i - centres[at]) / (centres[at + 1] - centres[at]), -0.5, 1.5);
            all[i] = shifts[at] + part * (shifts[at + 1] - shifts[at]);
        }

        var mean = all.Average();
        return new NoiseTrack([.. all.Select(one => one - mean)]);
    }
}
