using Workshop.Beats.Calibration;
using Workshop.Beats.Listening;
using Workshop.Beats.Recordings;
using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Beats.Tests.Calibration;

/// <summary>A recorder's clock from even pulses, and what that does to a watch's rate, both ways.</summary>
public class ReferencePulsesTests
{
    [Theory]
    [InlineData(0, 1, 48_000)]
    [InlineData(35, 1, 44_100)]
    [InlineData(-35, 1, 96_000)]
    [InlineData(400, 0.5, 48_000)]
    [InlineData(-980, 2, 48_000)]
    [InlineData(7.3, 5, 48_000)]
    public void The_clock_is_found_within_its_own_interval_and_better_than_a_part_in_a_million(double ppm, double interval, int sampleRate)
    {
        var measured = Measure(PulseTrain.Record(ppm, interval: interval, sampleRate: sampleRate), interval)!;

        Assert.Equal(ppm, measured.Ppm, Math.Max(0.05, measured.UncertaintyPpm));
        Assert.True(measured.UncertaintyPpm < 1, $"± {measured.UncertaintyPpm} ppm");
    }

    [Fact]
    public void Of_a_hundred_noisy_sources_the_stated_interval_holds_the_truth_of_at_least_ninety()
    {
        var held = 0;
        for (var seed = 1; seed <= 100; seed++)
        {
            var ppm = -50 + seed;
            var measured = Measure(PulseTrain.Record(ppm, seconds: 20, sampleRate: 44_100, decibels: 20 + seed % 20, seed: seed, jitterMicroseconds: seed % 3 * 10, first: 0.1 + 0.007 * seed), 1)!;
            held += Math.Abs(measured.Ppm - ppm) <= measured.UncertaintyPpm ? 1 : 0;
        }

        Assert.InRange(held, 90, 100);
    }

    [Fact]
    public void A_pulse_that_is_missing_now_and_then_does_not_matter() =>
        Assert.Equal(20, Measure(PulseTrain.Record(20, lost: 7), 1)!.Ppm, 0.5);

    [Fact]
    public void What_does_not_pulse_evenly_gives_no_clock()
    {
        Assert.Null(Measure(Recorder.Take(new Scene { Watch = null, Seconds = 20 }).File, 1));
        Assert.Null(Measure(PulseTrain.Record(0, interval: 1.3, seconds: 30), 1));
        Assert.Null(Measure(PulseTrain.Record(0, jitterMicroseconds: 2000, seconds: 30), 1));
        Assert.Null(Measure(PulseTrain.Record(0, lost: 2, seconds: 30), 1));
        Assert.Null(Measure(PulseTrain.Record(0, seconds: 30), 0.1));
    }

    [Theory]
    [InlineData(30)]
    [InlineData(-30)]
    public void A_clock_that_was_measured_takes_off_from_the_rate_what_it_had_put_on(double ppm)
    {
        var clock = Measure(PulseTrain.Record(ppm), 1)!;
        var watch = Recorder.Take(new Scene { Watch = new Watch { RatePerDaySeconds = 2 }, ClockPpm = ppm, SignalToNoiseDecibels = 34 });
        using var stream = new MemoryStream(watch.File);
        var recording = WavReader.Read(stream, RecordingLimits.Usual, default).Recording!;

        var raw = Listener.Listen(recording, new ListeningParameters(52), default).RatePerDaySeconds.Value!.Value;
        var corrected = Listener.Listen(recording, new ListeningParameters(52, clock.Ppm, clock.UncertaintyPpm), default).RatePerDaySeconds.Value!.Value;

        // A converter that runs fast makes a watch look slow.
        Assert.Equal(-ppm * 0.0864, raw - corrected, 0.02);
        Assert.True(watch.Truth!.RateError(corrected) < 0.1, $"{corrected} s/d");
    }

    private static ClockMeasurement? Measure(byte[] file, double interval)
    {
        using var stream = new MemoryStream(file);
        return ReferencePulses.Measure(WavReader.Read(stream, RecordingLimits.Usual, default).Recording!, interval);
    }
}
