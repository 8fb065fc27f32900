using System.Runtime.Intrinsics;
using MathNet.Numerics.LinearRegression;
using Workshop.Beats.Listening;
using Workshop.Beats.Recordings;
using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Beats.Tests.Listening;

/// <summary>Each numeric step against the plainest way to do the same.</summary>
public class OracleTests
{
    [Fact]
    public void The_band_is_what_the_difference_equations_give_one_channel_at_a_time()
    {
        const int rate = 96000;
        var chance = new Chance(1);
        var left = Enumerable.Range(0, 9600).Select(_ => chance.Normal()).ToArray();
        var right = Enumerable.Range(0, 9600).Select(_ => 0.3 * chance.Normal()).ToArray();
        var band = new BandEnergy(rate, 2);
        band.Add([.. left.Zip(right, (l, r) => Vector128.Create(l, r))]);

        var expected = MeanSquares(Filtered(Filtered(Filtered(left, true, 1800, 1.3066, rate), true, 1800, 0.5412, rate), false, 14000, Math.Sqrt(0.5), rate), 4);

        var (channel, energy) = band.Better();
        Assert.Equal(0, channel);
        Assert.Equal(24000, band.Rate);
        Assert.Equal(expected.Length, energy.Length);
        Assert.All(energy.Zip(expected), pair => Assert.Equal(pair.Second, pair.First, 1e-5));
    }

    [Fact]
    public void The_fold_is_the_mean_of_all_values_of_a_phase()
    {
        var chance = new Chance(2);
        var values = Enumerable.Range(0, 5000).Select(_ => (float)chance.Normal()).ToArray();
        const double period = 0.0831;
        var fold = PeriodFold.Of(values, 1000, period);

        var phases = values.Select((value, i) => (value, bin: (int)(i / (period * 1000) % 1 * 83))).GroupBy(one => one.bin).ToDictionary(one => one.Key, one => one.Average(two => (double)two.value));

        Assert.Equal(83, fold.Profile.Length);
        Assert.All(phases, one => Assert.Equal(one.Value, fold.Profile[one.Key], 1e-9));
        Assert.InRange(fold.Explained, -0.02, 0.02);
    }

    [Fact]
    public void The_best_period_is_the_one_that_a_slow_transform_finds()
    {
        // One burst in each 0.25 s less 20 s/d, in noise, for ten seconds.
        var chance = new Chance(5);
        const double truth = 0.25 / (1 + 20.0 / 86400);
        var values = Enumerable.Range(0, 10_000).Select(i => (float)(0.5 * chance.Normal() + (i * 0.001 / truth % 1 < 0.03 ? 2 : 0))).ToArray();
        var mean = values.Average();
        double Power(double hertz)
        {
            var (re, im) = (0.0, 0.0);
            for (var i = 0; i < values.Length; i++)
            {
                re += (values[i] - mean) * Math.Cos(2 * Math.PI * hertz * i / 1000);
                im += (values[i] - mean) * Math.Sin(2 * Math.PI * hertz * i / 1000);
            }

            return re * re + im * im;
        }

        var slow = Enumerable.Range(-50, 101).Select(k => 0.25 / (1 + k * 8.0 / 86400)).MaxBy(period => Enumerable.Range(1, 20).Sum(h => Power(h / period)));

        var found = new HarmonicSearch(values, 1000).BestPeriod(0.25);

        Assert.Equal(slow, found, 0.25 * 60 / 86400);
        Assert.Equal(truth, found, 0.25 * 60 / 86400);
    }

    [Fact]
    public void The_step_operator_is_the_logarithm_of_two_means()
    {
        var chance = new Chance(3);
        var energy = Enumerable.Range(0, 200).Select(_ => chance.Between(0, 4)).ToArray();
        var ratios = StepOperator.Ratios(energy, 8, 0.1);

        for (var i = 8; i <= 192; i++)
        {
            Assert.Equal(Math.Log((energy[i..(i + 8)].Average() + 0.1) / (energy[(i - 8)..i].Average() + 0.1)), ratios[i], 1e-9);
        }
    }

    [Fact]
    public void A_mean_leaves_out_what_stands_out_and_is_else_the_mean()
    {
        var chance = new Chance(4);
        var values = Enumerable.Range(0, 4000).Select(_ => (float)chance.Between(0, 1)).ToArray();
        var moments = Enumerable.Range(1, 30).Select(n => n * 0.1).ToArray();
        values[500] = 1e6f;

        var mean = BeatMatcher.TrimmedMean(values, 1000, [.. moments, double.NaN, -1, 99], -20, 50);

        for (var k = 0; k < 50; k++)
        {
            var there = moments.Select(one => values[(int)Math.Round(one * 1000) - 20 + k]).Where(one => one < 2).Average();
            Assert.Equal(there, mean[k], 1e-5);
        }
    }

    [Fact]
    public void A_beat_is_found_where_a_slow_comparison_finds_it()
    {
        var chance = new Chance(6);
        var values = Enumerable.Range(0, 2000).Select(_ => (float)(0.1 * chance.Normal())).ToArray();
        var template = BeatMatcher.Centred([.. Enumerable.Range(0, 61).Select(k => Math.Exp(-Math.Pow((k - 30) / 6.0, 2)))]);
        for (var k = 0; k < 61; k++)
        {
            values[1007 - 30 + k] += (float)Math.Exp(-Math.Pow((k - 30 - 0.3) / 6.0, 2));
        }

        var slow = Enumerable.Range(-15, 31).MaxBy(lag => template.Select((one, k) => (double)one * values[1000 - 30 + lag + k]).Sum());

        var (shift, _) = BeatMatcher.Match(values, 1000, 1.0, template, -30, 15);

        Assert.Equal(7, slow);
        Assert.Equal(0.0073, shift, 0.0003);
        Assert.True(double.IsNaN(BeatMatcher.Match(values, 1000, 0.01, template, -30, 15).Shift));
    }

    [Fact]
    public void A_beat_is_compared_with_the_mean_of_the_others_alone()
    {
        var chance = new Chance(8);
        var values = Enumerable.Range(0, 4000).Select(_ => (float)chance.Between(0, 1)).ToArray();
        var moments = Enumerable.Range(1, 30).Select(n => n * 0.1).ToArray();
        int Best(double moment, IEnumerable<double> others)
        {
            var mean = Enumerable.Range(0, 40).Select(k => others.Average(one => (double)values[(int)Math.Round(one * 1000) - 20 + k])).ToArray();
            return Enumerable.Range(-12, 25).MaxBy(lag => mean.Select((one, k) => (one - mean.Average()) * values[(int)Math.Round(moment * 1000) - 20 + lag + k]).Sum());
        }

        var pattern = new BeatPattern(values, 1000, moments, -20, 40);

        // With its own noise in the mean it makes a difference already in a single pass.
        Assert.Contains(moments, one => Best(one, moments) != Best(one, moments.Except([one])));
        foreach (var moment in moments)
        {
            var slow = Best(moment, moments.Except([moment]));
            var shift = pattern.Shift(moment, 0.012);
            Assert.True(Math.Abs(slow) == 12 ? double.IsNaN(shift) : Math.Abs(shift - slow * 1e-3) <= 0.5e-3, $"{moment}: {shift} where the slow way finds {slow}");
        }
    }

    [Fact]
    public void What_sounds_before_the_unlocking_is_measured_against_what_is_there_by_chance()
    {
        const double rate = 16_000;
        var chance = new Chance(9);
        double[] Noise(int count) => [.. Enumerable.Range(0, count).Select(_ => 1 + 0.1 * chance.Normal())];
        MeanBeat Mean(double earlier)
        {
            // From 20 ms before the expected moment: something for 1 ms at -12 ms, the unlocking at -8 ms, the drop at 0.
            var energy = Noise(480);
            foreach (var (milliseconds, loudness) in new[] { (-12, earlier), (-8, 2.0), (0, 10.0) })
            {
                for (var k = 0; k < 16; k++)
                {
                    energy[(20 + milliseconds) * 16 + k] += loudness;
                }
            }

            return new MeanBeat(energy, rate, -320, Noise(384));
        }

        EarlierNoise Before(double earlier)
        {
            MeanBeat[] means = [Mean(earlier), Mean(earlier)];
            NoisePicks[] picks = [.. means.Select(one => one.Pick(0.004, 0.018)!)];
            Assert.All(picks, one => Assert.Equal(0, one.Drop, 1e-4));
            return EarlierNoise.Before(means, picks, [-0.008, -0.008], 0.008, 0.018);
        }

        // Sixteen values of 0.1 and two kinds of beat: a deviation of 0.1/4/√2 of what is 10.
        var nothing = Before(0);
        Assert.False(nothing.IsThere);
        Assert.Equal(4 * 0.1 / 4 / Math.Sqrt(2) / 10, nothing.UnseenShare, 0.3 * 4 * 0.1 / 4 / Math.Sqrt(2) / 10);
        var something = Before(0.25);
        Assert.True(something.IsThere);
        Assert.Equal(0.025, something.Share, 0.006);
        Assert.Equal(4 * something.Share / something.UnseenShare, something.Height, 1e-9);
    }

    [Fact]
    public void Without_outliers_the_line_is_that_of_least_squares_with_three_unknowns()
    {
        var (numbers, times) = Beats(240, 15e-6, seed: 7);
        var line = RobustLine.Fit(numbers, times)!;
        var slow = MultipleRegression.QR([.. numbers.Select(n => new double[] { 1, n, n & 1 })], times);

        // The weights move it by a part of its own error.
        Assert.Equal(slow[1], line.Slope, 0.5 * line.SlopeError);
        Assert.Equal(slow[2], line.OddOffset, 0.5 * line.OffsetError);
        Assert.Equal(15e-6, line.Scatter, 2e-6);
    }

    [Fact]
    public void The_error_of_a_rate_is_what_theory_says_and_what_two_hundred_lines_show()
    {
        // se(rate) = 86400·σ·√(12/N)/D for white scatter: 0.0097 s/d at 15 µs, 240 beats of 125 ms.
        var rates = Enumerable.Range(0, 200).Select(seed => RobustLine.Fit(Beats(240, 15e-6, seed + 100).Numbers, Beats(240, 15e-6, seed + 100).Times)!).ToArray();
        var shown = 86400 / 0.125 * Math.Sqrt(rates.Average(one => Math.Pow(one.Slope - 0.125, 2)));
        var stated = 86400 / 0.125 * rates.Average(one => one.SlopeError);

        Assert.Equal(0.0097, 86400 * 15e-6 * Math.Sqrt(12.0 / 240) / 30, 4);
        Assert.Equal(0.0097, shown, 0.0012);
        Assert.Equal(0.0097, stated, 0.0008);
    }

    [Fact]
    public void A_third_of_wild_beats_and_some_that_were_not_found_do_not_move_the_line()
    {
        var (numbers, times) = Beats(240, 15e-6, seed: 8);
        var chance = new Chance(9);
        for (var i = 0; i < times.Length; i += 3)
        {
            times[i] = i % 9 == 0 ? double.NaN : times[i] + chance.Between(-1, 4) * 1e-3;
        }

        var line = RobustLine.Fit(numbers, times)!;

        Assert.Equal(0.125, line.Slope, 4 * line.SlopeError);
        Assert.InRange(line.Used, 120, 170);
    }

    [Fact]
    public void How_much_a_balance_wanders_is_told_apart_from_the_scatter_of_its_beats()
    {
        double[] Found(double walk) => [.. Enumerable.Range(0, 40).Select(seed =>
        {
            var (numbers, times) = Beats(240, 15e-6, seed + 500, walk);
            var line = RobustLine.Fit(numbers, times)!;
            return Wandering.OfBeat(line.Residuals, line.Scatter);
        }).Order()];

        // Rather high than low: of forty recordings with 3 µs, nine in ten are not taken for steadier ones.
        Assert.True(Found(3e-6)[4] > 2.2e-6);
        Assert.InRange(Found(3e-6)[20], 3e-6, 6e-6);
        Assert.True(Found(0)[20] < 1e-6);
    }

    private static (int[] Numbers, double[] Times) Beats(int count, double scatter, int seed, double walk = 0)
    {
        var chance = new Chance(seed);
        var wandered = 0.0;
        return ([.. Enumerable.Range(0, count)], [.. Enumerable.Range(0, count).Select(n => 0.3 + n * 0.125 + (n & 1) * 0.0004 + scatter * chance.Normal() + (wandered += walk * chance.Normal()))]);
    }

    // y[n] = b0·x[n] + b1·x[n−1] + b2·x[n−2] − a1·y[n−1] − a2·y[n−2], from the bilinear transform of the analogue section.
    private static double[] Filtered(double[] x, bool high, double hertz, double quality, double rate)
    {
        var w = 2 * Math.PI * hertz / rate;
        var alpha = Math.Sin(w) / (2 * quality);
        var edge = high ? (1 + Math.Cos(w)) / 2 : (1 - Math.Cos(w)) / 2;
        var middle = high ? -(1 + Math.Cos(w)) : 1 - Math.Cos(w);
        var y = new double[x.Length];
        for (var n = 0; n < x.Length; n++)
        {
            var (x1, x2, y1, y2) = (n > 0 ? x[n - 1] : 0, n > 1 ? x[n - 2] : 0, n > 0 ? y[n - 1] : 0, n > 1 ? y[n - 2] : 0);
            y[n] = (edge * x[n] + middle * x1 + edge * x2 + 2 * Math.Cos(w) * y1 - (1 - alpha) * y2) / (1 + alpha);
        }

        return y;
    }

    private static double[] MeanSquares(double[] y, int step) => [.. Enumerable.Range(0, y.Length / step).Select(i => y.Skip(i * step).Take(step).Average(one => one * one))];
}
