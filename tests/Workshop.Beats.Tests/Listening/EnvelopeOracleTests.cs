using MathNet.Numerics.Statistics;
using Workshop.Beats.Listening;
using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Beats.Tests.Listening;

/// <summary>The steps on envelopes and folds, each against the plainest way to do the same.</summary>
public class EnvelopeOracleTests
{
    [Fact]
    public void An_envelope_is_the_logarithm_of_a_mean_energy_against_three_times_the_floor()
    {
        var chance = new Chance(21);
        var energy = Enumerable.Range(0, 6000).Select(_ => (float)Math.Pow(chance.Normal(), 2)).ToArray();
        const double floor = 0.4;
        var means = Enumerable.Range(0, 1000).Select(i => energy.Skip(6 * i).Take(6).Average(one => (double)one)).ToArray();

        Assert.All(LogEnvelope.Means(energy, 6).Zip(means), pair => Assert.Equal(pair.Second, pair.First, 1e-5));
        Assert.All(LogEnvelope.Stepped(energy, 6, floor).Zip(means), pair => Assert.Equal(Math.Log(1 + pair.Second / (3 * floor)), pair.First, 1e-5));
        var fine = LogEnvelope.Fine(energy, floor);
        Assert.All(Enumerable.Range(1, energy.Length - 2), i => Assert.Equal(Math.Log(1 + ((double)energy[i - 1] + energy[i] + energy[i + 1]) / 3 / (3 * floor)), fine[i], 1e-5));
    }

    [Fact]
    public void The_floor_is_the_energy_that_three_of_ten_milliseconds_do_not_reach()
    {
        var chance = new Chance(22);
        var energy = Enumerable.Range(0, 24_000).Select(i => (float)(Math.Pow(chance.Normal(), 2) + (i % 3000 < 300 ? 50 : 0))).ToArray();
        var milliseconds = Enumerable.Range(0, 1000).Select(i => energy.Skip(24 * i).Take(24).Average(one => (double)one)).Order().ToArray();

        Assert.Equal(milliseconds[300], LogEnvelope.FloorOf(energy, 24_000), 1e-4);
    }

    [Fact]
    public void The_share_that_a_fold_explains_is_one_less_what_scatters_within_its_phases()
    {
        var chance = new Chance(23);
        const double period = 0.1003;
        var values = Enumerable.Range(0, 3000).Select(i => (float)(chance.Normal() + (i % 100 < 10 ? 4 : 0))).ToArray();
        var mean = values.Average(one => (double)one);
        var whole = values.Sum(one => Math.Pow(one - mean, 2));
        var within = values.Index().GroupBy(one => (int)(one.Index / (period * 1000) % 1 * 100), one => (double)one.Item).Sum(phase => phase.Sum(one => Math.Pow(one - phase.Average(), 2)));

        var fold = PeriodFold.Of(values, 1000, period);

        // Chance alone explains as much as its degrees of freedom: one for each phase but the first.
        Assert.Equal(1 - within / whole - 99 * (within / (3000 - 100)) / whole, fold.Explained, 1e-6);
        Assert.Equal(Math.Sqrt(within / (3000 - 100) / 30), fold.NoiseOfMean, 1e-6);
    }

    [Fact]
    public void A_sum_of_products_and_the_top_of_a_parabola_are_what_they_are_by_hand()
    {
        var chance = new Chance(24);
        var (a, b) = (Enumerable.Range(0, 77).Select(_ => (float)chance.Normal()).ToArray(), Enumerable.Range(0, 77).Select(_ => (float)chance.Normal()).ToArray());

        Assert.Equal(a.Zip(b, (one, other) => (double)one * other).Sum(), BeatMatcher.Dot(a, b), 1e-4);
        double Parabola(double x) => 5 - 3 * Math.Pow(x - 0.27, 2);
        Assert.Equal(0.27, BeatMatcher.Vertex(Parabola(-1), Parabola(0), Parabola(1)), 1e-9);
    }

    [Fact]
    public void The_period_is_as_sharp_as_the_best_of_a_thousand_folds()
    {
        const double truth = 0.25 / (1 + 33.0 / 86400);
        var envelope = Beats(truth, 10, 25);
        var slow = Enumerable.Range(-500, 1001).Select(k => truth * (1 + k * 0.1 / 86400)).MaxBy(period => PeriodFold.Of(envelope, 4000, period).Explained);

        var (found, _) = new FrequencyFinder(envelope, 4000, 52).Find(Frequencies.LookedFor(null));

        // In ten seconds 2 s/d move the last beat by a quarter of a millisecond, one value of the envelope.
        Assert.Equal(28800, found!.VibrationsPerHour);
        Assert.Equal(slow, found.Period, 0.25 * 3 / 86400);
        Assert.Equal(truth, found.Period, 0.25 * 3 / 86400);
    }

    [Fact]
    public void What_a_found_watch_leaves_over_is_what_differs_from_the_median_of_its_phase_by_how_much_that_scatters()
    {
        const double period = 0.2503;
        var envelope = Beats(period, 10, 26);
        var slow = Enumerable.Range(0, 10_000).Select(i => envelope.Skip(4 * i).Take(4).Average(one => (double)one)).ToArray();
        int Phase(int i) => (int)(i / (period * 1000) % 1 * 250);
        var phases = slow.Index().GroupBy(one => Phase(one.Index), one => one.Item).ToDictionary(one => one.Key, one => one.Order().ToArray());
        double Below(int b) => phases[(b + 250) % 250] is var sorted ? sorted[sorted.Length / 2] - sorted[sorted.Length / 4] : 0;
        var usual = Enumerable.Range(0, 250).Select(Below).Order().ElementAt(125);

        var rest = new FrequencyFinder(envelope, 4000, 52).WithoutBursts(new FoundBeat(28800, period, 0.01, 0.135));

        for (var i = 0; i < rest.Length; i++)
        {
            var b = Phase(i);
            var scatter = new[] { usual, Below(b - 1), Below(b), Below(b + 1) }.Max();
            Assert.Equal(Math.Clamp((slow[i] - phases[b][phases[b].Length / 2]) * Math.Pow(usual / scatter, 2), -6 * usual, 6 * usual), rest[i], 1e-4);
        }
    }

    [Fact]
    public void A_noise_that_moves_to_and_fro_is_followed()
    {
        // A bump in each beat, which swings by 0.4 ms in twenty seconds.
        const double rate = 24_000;
        var chance = new Chance(27);
        var numbers = Enumerable.Range(0, 238).ToArray();
        var places = numbers.Select(n => 0.1 + 0.125 * n).ToArray();
        var shifts = places.Select(at => 0.4e-3 * Math.Sin(2 * Math.PI * at / 20)).ToArray();
        var fine = Enumerable.Range(0, (int)(30 * rate)).Select(_ => (float)(0.1 * chance.Normal())).ToArray();
        foreach (var n in numbers)
        {
            for (var k = -10; k < 30; k++)
            {
                var at = (int)((places[n] + shifts[n]) * rate) + k;
                var after = at / rate - places[n] - shifts[n];
                fine[at] += after < 0 ? 0 : (float)Math.Exp(-after / 0.4e-3);
            }
        }

        var track = NoiseTrack.Follow(fine, rate, numbers, places, NoiseTrack.Still(numbers.Length));
        track = NoiseTrack.Follow(fine, rate, numbers, places, track);

        // The mean is the place's; blocks of two seconds smooth the swing by some percent.
        var mean = shifts.Average();
        Assert.All(numbers.Skip(8).SkipLast(8), n => Assert.Equal(shifts[n] - mean, track.Shifts[n], 0.07e-3));
        Assert.True(Correlation.Pearson(shifts, track.Shifts) > 0.98);
    }

    // Bursts of three milliseconds at twice the period's rate, every other one softer, at four thousand values a second.
    private static float[] Beats(double period, int seconds, int seed)
    {
        var chance = new Chance(seed);
        return [.. Enumerable.Range(0, seconds * 4000).Select(i =>
        {
            var turn = (i / 4000.0 - 0.01) / (period / 2);
            var after = (turn - Math.Floor(turn)) * period / 2;
            var loud = turn >= 0 && after < 0.003 ? (Math.Floor(turn) % 2 == 0 ? 3 : 2) * (1 + 0.15 * chance.Normal()) : 0;
            return (float)Math.Max(0, 0.15 + 0.1 * chance.Normal() + loud);
        })];
    }
}
