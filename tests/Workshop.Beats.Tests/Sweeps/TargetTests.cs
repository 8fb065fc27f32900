using Workshop.Beats.Listening;
using Xunit.Abstractions;

namespace Workshop.Beats.Tests.Sweeps;

/// <summary>What the analyser must reach, on recordings that nobody tuned on.</summary>
public sealed class TargetTests(TargetScores scores, ITestOutputHelper output) : IClassFixture<TargetScores>
{
    [Fact]
    public void More_than_two_hundred_ordinary_recordings_are_judged() => Assert.True(scores.Ordinary.Count() >= 200);

    [Fact]
    public void Every_clean_recording_is_answered_well()
    {
        Holds(scores.Clean, answered: 1, rate: 0.10, amplitude: 3, beatError: 0.06);
        Assert.True(Quantile(scores.Clean.Select(one => one.AmplitudeError).OfType<double>(), 0.9) <= 2);
    }

    [Fact]
    public void Nine_of_ten_clean_rates_lie_within_twice_the_theoretical_limit()
    {
        // se(rate) = 86400·σ·√(12/N)/D with σ the scatter that the reading itself states.
        var ratios = scores.Clean.Where(one => one.RateError is not null)
            .Select(one => one.RateError!.Value / (86400 * one.Reading!.ScatterMicroseconds!.Value * 1e-6 * Math.Sqrt(12.0 / one.Reading.BeatsUsed) / one.Scene.Seconds))
            .ToArray();
        output.WriteLine($"error against the limit: median {Quantile(ratios, 0.5):F2}, nine of ten {Quantile(ratios, 0.9):F2}");
        Assert.True(Quantile(ratios, 0.9) <= 2, $"{Quantile(ratios, 0.9):F2}");
    }

    [Fact]
    public void Every_fair_recording_is_answered() => Holds(scores.Fair, answered: 1, rate: 0.15, amplitude: 4, beatError: 0.10);

    [Fact]
    public void Three_of_four_poor_recordings_are_answered() => Holds(scores.Poor, answered: 0.75, rate: 0.3, amplitude: 6, beatError: 0.15);

    [Fact]
    public void A_bad_recording_gives_its_frequency_or_nothing()
    {
        Holds(scores.Bad, answered: 0, rate: 0.8, amplitude: double.PositiveInfinity, beatError: double.PositiveInfinity);
        var named = scores.Bad.Where(one => one.Reading?.VibrationsPerHour is not null).ToArray();
        var right = named.Count(one => one.FrequencyRight);
        output.WriteLine($"frequency named in {named.Length} of {scores.Bad.Length}, right in {right}");

        Assert.Equal(named.Length, right);
        Assert.True(right >= 0.95 * scores.Bad.Length, $"{right} of {scores.Bad.Length}");
    }

    [Fact]
    public void Every_clean_recording_of_ten_seconds_is_answered() => Holds(scores.Short, answered: 1, rate: 0.2, amplitude: 3, beatError: 0.06);

    [Fact]
    public void A_clean_recording_of_a_minute_is_answered_well() => Holds(scores.Long, answered: 1, rate: 0.02, amplitude: 3, beatError: 0.06);

    [Fact]
    public void Nothing_is_confidently_wrong()
    {
        var wrong = scores.Ordinary.Concat(scores.Nasty.Values.SelectMany(one => one)).Where(one => one.Wrong() is not null)
            .Select(one => $"{one.Scene.Watch?.VibrationsPerHour} at {one.Scene.SignalToNoiseDecibels:F0} dB: {one.Wrong()}").ToArray();
        Assert.True(wrong.Length == 0, string.Join("; ", wrong));
    }

    [Theory]
    [InlineData("quartz")]
    [InlineData("silence")]
    [InlineData("voice alone")]
    [InlineData("14 400")]
    [InlineData("second watch as loud")]
    [InlineData("second watch as loud, nearly the same rate")]
    public void Where_no_single_watch_is_to_be_read_nothing_is_to_be_acted_on(string name) =>
        Assert.All(scores.Nasty[name], one => Assert.Equal(ReadingClass.Low, one.Reading!.Class));

    // One that keeps step with the other and sounds within its beats cannot be told from it; then the louder one's figures are right.
    [Fact]
    public void A_quieter_second_watch_of_the_same_frequency_is_found_in_five_of_six_recordings_and_else_does_no_harm()
    {
        var all = scores.Nasty["second watch 6 to 20 dB quieter"];

        Assert.True(all.Count(one => one.Reading!.Class == ReadingClass.Low) >= 5);
        Holds([.. all, .. scores.Nasty["second watch 6 to 20 dB quieter, nearly the same rate"]], answered: 0, rate: 0.10, amplitude: 5, beatError: 0.1);
    }

    [Theory]
    [InlineData("8 bit")]
    [InlineData("32 bit float")]
    [InlineData("antiphase")]
    [InlineData("watch on the right channel alone")]
    [InlineData("clipped by 14 dB")]
    [InlineData("hum 30 dB above the drops")]
    [InlineData("offset")]
    [InlineData("clicks")]
    [InlineData("swinging amplitude")]
    [InlineData("large beat error")]
    public void What_only_looks_bad_is_answered_like_a_clean_recording(string name) => Holds(scores.Nasty[name], answered: 1, rate: 0.10, amplitude: 5, beatError: 0.08);

    [Fact]
    public void The_stated_intervals_hold_the_truth_in_nine_of_ten_recordings_for_each_figure()
    {
        var all = scores.Ordinary.ToArray();
        foreach (var (name, within) in new[] { ("rate", all.Select(one => one.RateWithin)), ("amplitude", all.Select(one => one.AmplitudeWithin)), ("beat error", all.Select(one => one.BeatErrorWithin)) })
        {
            var told = within.OfType<bool>().ToArray();
            var share = (double)told.Count(one => one) / told.Length;
            output.WriteLine($"{name}: {share:P1} of {told.Length}");
            Assert.True(told.Length > 100 && share >= 0.9, $"{name}: {share:P1} of {told.Length}");
        }
    }

    private void Holds(IReadOnlyCollection<Score> all, double answered, double rate, double amplitude, double beatError)
    {
        var ok = all.Where(one => one.Ok).ToArray();
        var worst = (Rate: Worst(ok.Select(one => one.RateError)), Amplitude: Worst(ok.Select(one => one.AmplitudeError)), BeatError: Worst(ok.Select(one => one.BeatErrorError)));
        var said = $"answered {ok.Length} of {all.Count}, worst rate {worst.Rate:F3} s/d, amplitude {worst.Amplitude:F1}°, beat error {worst.BeatError:F3} ms";
        output.WriteLine(said);
        Assert.True(ok.All(one => one.FrequencyRight), said);
        Assert.True(ok.Length >= answered * all.Count && worst.Rate <= rate && worst.Amplitude <= amplitude && worst.BeatError <= beatError, said);
    }

    private static double Worst(IEnumerable<double?> errors) => errors.OfType<double>().DefaultIfEmpty(0).Max();

    private static double Quantile(IEnumerable<double> values, double share)
    {
        var sorted = values.Order().ToArray();
        return sorted[(int)(share * (sorted.Length - 1))];
    }
}
