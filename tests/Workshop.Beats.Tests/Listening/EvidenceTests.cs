using System.Text.Json;
using Workshop.Beats.Listening;
using Workshop.Beats.Recordings;
using Workshop.Beats.Tests.Sweeps;
using Workshop.Beats.Tests.Synthetic;
using Xunit.Abstractions;

namespace Workshop.Beats.Tests.Listening;

public class EvidenceTests(ITestOutputHelper output)
{
    [Fact]
    public void Blocks_of_about_two_seconds_follow_one_another_from_begin_to_end()
    {
        var (reading, evidence) = Hear(new Scene { Seconds = 31 });

        var blocks = evidence!.Blocks;
        Assert.Equal(16, blocks.Count);
        Assert.Equal(0, blocks[0].FromSeconds);
        Assert.Equal(reading.Seconds, blocks[^1].ToSeconds, 9);
        Assert.All(blocks.Zip(blocks.Skip(1)), two => Assert.Equal(two.First.ToSeconds, two.Second.FromSeconds, 9));
        Assert.InRange(blocks.Sum(one => one.BeatsUsed), reading.BeatsUsed - 3, reading.BeatsUsed + 3);
    }

    // The watch neither wanders nor drifts, so that every block has the truth of the whole.
    [Fact]
    public void The_intervals_of_blocks_hold_the_truth_in_nine_of_ten_of_them()
    {
        var told = new List<(string Figure, bool? Within)>();
        for (var n = 0; n < 8; n++)
        {
            var scene = Scenes.Ordinary(Scenes.Frequencies[n % 6], 25, 30, Seeds.Tuning(70_000 + n));
            scene = scene with { Watch = scene.Watch! with { WalkMicroseconds = 0, DriftDegrees = 0 } };
            var watch = scene.Watch!;
            foreach (var block in Hear(scene).Evidence?.Blocks ?? [])
            {
                told.AddRange([
                    ("rate", Holds(block.RatePerDaySeconds, watch.RatePerDaySeconds)),
                    ("amplitude", Holds(block.AmplitudeDegrees, watch.AmplitudeDegrees)),
                    ("beat error", Holds(block.BeatErrorMilliseconds, Math.Abs(watch.BeatErrorMilliseconds)))]);
            }
        }

        Assert.All(told.Where(one => one.Within is not null).GroupBy(one => one.Figure), one =>
        {
            var (held, all) = (one.Count(block => block.Within == true), one.Count());
            output.WriteLine($"{one.Key}: {held} of {all}");
            Assert.True(all > 80 && held >= 0.9 * all, $"{one.Key}: {held} of {all}");
        });
    }

    [Fact]
    public void Blocks_follow_an_amplitude_that_swings_and_a_mark_against_the_whole_is_the_difference_of_both_rates()
    {
        var (reading, evidence) = Hear(new Scene { Watch = new Watch { SwingDegrees = 12, SwingSeconds = 15 } });

        Assert.All(evidence!.Blocks, block =>
        {
            var middle = 0.5 * (block.FromSeconds + block.ToSeconds);
            Assert.Equal(280 + 12 * Math.Sin(2 * Math.PI * middle / 15), block.AmplitudeDegrees.Value!.Value, 4.5);
            Assert.Equal(block.RatePerDaySeconds.Value!.Value - reading.RatePerDaySeconds.Value!.Value, block.AgainstWholePerDaySeconds.Value!.Value, 9);
        });
    }

    [Fact]
    public void The_folded_noise_shows_the_unlocking_where_the_amplitude_puts_it_and_silence_before_it()
    {
        var (_, evidence) = Hear(new Scene { SignalToNoiseDecibels = 30 });

        // By the definition: 7.40 ms from unlocking to drop at 280 degrees, lift angle 52, 28 800.
        Assert.All(new[] { evidence!.Tick!, evidence.Tock! }, one =>
        {
            Assert.Equal(-7.40, one.Unlocking!.Milliseconds, 0.12);
            Assert.Equal(0, one.Drop.Milliseconds);
            Assert.InRange(one.Drop.UncertaintyMilliseconds, 0.02, 0.2);
            Assert.InRange(one.Decibels.Count, 150, 400);
            Assert.Equal(0, Level(one, -10.5, -8), 3.0);
            Assert.Equal(30, Level(one, 0.2, 2), 4.0);
            Assert.InRange(one.FromMilliseconds + one.StepMilliseconds * one.Decibels.Count, 7, 8.5);
        });
    }

    [Fact]
    public void Where_there_is_nothing_to_act_on_there_is_no_evidence()
    {
        var (reading, evidence) = Hear(new Scene { Watch = null });

        Assert.Equal(ReadingClass.Low, reading.Class);
        Assert.Null(evidence);
    }

    [Fact]
    public void The_evidence_of_a_minute_is_small_and_comes_back_from_JSON_as_it_was()
    {
        var (_, evidence) = Hear(new Scene { Seconds = 60, Watch = new Watch { VibrationsPerHour = 18000, AmplitudeDegrees = 200 } });
        var written = JsonSerializer.Serialize(evidence);

        Assert.InRange(written.Length, 5_000, 60_000);
        Assert.Equal(written, JsonSerializer.Serialize(JsonSerializer.Deserialize<Evidence>(written)));
    }

    private static double Level(FoldedNoise noise, double from, double to)
    {
        var there = noise.Decibels.Where((_, k) => noise.FromMilliseconds + k * noise.StepMilliseconds is var at && at >= from && at <= to).ToArray();
        return 10 * Math.Log10(there.Average(one => Math.Pow(10, one / 10)));
    }

    private static bool? Holds(Figure figure, double truth) => figure.Value is null ? null : truth >= figure.Low && truth <= figure.High;

    private static Heard Hear(Scene scene)
    {
        using var file = new MemoryStream(Recorder.Take(scene).File);
        return Listener.Hear(WavReader.Read(file, RecordingLimits.Usual, default).Recording!, new ListeningParameters(scene.Watch?.LiftAngleDegrees ?? 52, 0), default);
    }
}
