using Workshop.Beats.Listening;
using Workshop.Beats.Recordings;
using Workshop.Beats.Tests.Sweeps;
using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Beats.Tests.Listening;

public class ListenerTests
{
    [Theory]
    [InlineData(100)]
    [InlineData(-100)]
    public void A_fast_recorder_makes_a_watch_look_slow_until_its_clock_is_known(double ppm)
    {
        var scene = new Scene { Watch = new Watch { RatePerDaySeconds = 5, WalkMicroseconds = 0 }, ClockPpm = ppm };
        var recording = Read(scene);

        var known = Listener.Listen(recording, new ListeningParameters(52, ppm, 1), default);
        var unknown = Listener.Listen(recording, new ListeningParameters(52), default);

        // 1 ppm is 0.0864 s a day.
        Assert.Equal(5, known.RatePerDaySeconds.Value!.Value, 0.03);
        Assert.Equal(5 - 0.0864 * ppm, unknown.RatePerDaySeconds.Value!.Value, 0.03);
        Assert.Equal(0.0864, known.RatePerDaySeconds.Parts!.Clock!.Value, 6);
        Assert.Null(unknown.RatePerDaySeconds.Parts!.Clock);
        Assert.Contains("clock-uncalibrated", unknown.Reasons);
        Assert.DoesNotContain("clock-uncalibrated", known.Reasons);
    }

    [Fact]
    public void A_frequency_that_the_calibre_names_is_heard()
    {
        var recording = Read(new Scene { Watch = new Watch { VibrationsPerHour = 14400 } });

        Assert.Equal(ReadingClass.Low, Listener.Listen(recording, new ListeningParameters(52, 0), default).Class);
        var reading = Listener.Listen(recording, new ListeningParameters(52, 0, CalibreVibrationsPerHour: 14400), default);
        Assert.Equal(ReadingClass.Ok, reading.Class);
        Assert.Equal(14400, reading.VibrationsPerHour);
        Assert.Equal(2, reading.FrequencyHertz.Value!.Value, 3);
    }

    [Fact]
    public void A_reading_keeps_what_it_was_made_with_and_states_its_parts()
    {
        var parameters = new ListeningParameters(52, 3);
        var reading = Listener.Listen(Read(new Scene()), parameters, default);

        Assert.Equal(parameters, reading.Parameters);
        Assert.Equal(Listener.Version, reading.AnalyserVersion);
        Assert.InRange(reading.BeatsUsed, 200, 240);
        Assert.InRange(reading.ScatterMicroseconds!.Value, 5, 25);
        Assert.Equal(30, reading.SignalToNoiseDecibels!.Value, 2.0);
        foreach (var figure in new[] { reading.RatePerDaySeconds, reading.AmplitudeDegrees, reading.FrequencyHertz })
        {
            Assert.Equal(figure.Value!.Value + figure.Parts!.Whole, figure.High!.Value, 9);
            Assert.Equal(figure.Value!.Value - figure.Parts!.Whole, figure.Low!.Value, 9);
        }
    }

    [Fact]
    public void The_same_file_gives_the_same_answer() =>
        Assert.Equal(Score.Of(new Scene()).Reading!.RatePerDaySeconds.Value, Score.Of(new Scene()).Reading!.RatePerDaySeconds.Value);

    [Fact]
    public void Whatever_goes_wrong_inside_is_no_reading()
    {
        var nothing = new Recording(30, 48000, 16, 1, 0, 24000, [], 0, []);
        var odd = nothing with { Energy = [.. Enumerable.Repeat(float.NaN, 24000 * 30)] };

        Assert.All([nothing, odd], one => Assert.Equal(ReadingClass.Low, Listener.Listen(one, new ListeningParameters(52, 0), default).Class));
    }

    [Fact]
    public void Listening_that_is_given_up_stops()
    {
        using var given = new CancellationTokenSource();
        given.Cancel();

        Assert.Throws<OperationCanceledException>(() => Listener.Listen(Read(new Scene()), new ListeningParameters(52, 0), given.Token));
    }

    private static Recording Read(Scene scene)
    {
        using var file = new MemoryStream(Recorder.Take(scene).File);
        return WavReader.Read(file, RecordingLimits.Usual, default).Recording!;
    }
}
