using Workshop.Beats.Listening;
using Workshop.Beats.Recordings;
using Workshop.Beats.Tests.Synthetic;

namespace Workshop.Beats.Tests.Sweeps;

/// <summary>One recording listened to, beside the truth.</summary>
public sealed record Score(Scene Scene, Truth? Truth, Reading? Reading, RecordingFault? Fault)
{
    public static Score Of(Scene scene)
    {
        var taken = Recorder.Take(scene);
        using var file = new MemoryStream(taken.File);
        var outcome = WavReader.Read(file, RecordingLimits.Usual, default);
        var parameters = new ListeningParameters(scene.Watch?.LiftAngleDegrees ?? 52, scene.ClockPpm);
        return new Score(scene, taken.Truth, outcome.Recording is { } recording ? Listener.Listen(recording, parameters, default) : null, outcome.Fault);
    }

    /// <summary>Many, on as many processors as there are; <c>WORKSHOP_SWEEP_THREADS</c> says how many otherwise.</summary>
    public static Score[] OfAll(IEnumerable<Scene> scenes)
    {
        var threads = int.TryParse(Environment.GetEnvironmentVariable("WORKSHOP_SWEEP_THREADS"), out var asked) ? asked : Environment.ProcessorCount;
        return [.. scenes.AsParallel().AsOrdered().WithDegreeOfParallelism(threads).Select(Of)];
    }

    public bool Ok => Reading is { Class: ReadingClass.Ok };

    public bool FrequencyRight => Scene.Watch is { } watch && Reading?.VibrationsPerHour == watch.VibrationsPerHour;

    public double? RateError => Ok && Truth is not null && Reading!.RatePerDaySeconds.Value is { } value ? Truth.RateError(value) : null;

    public double? AmplitudeError => Ok && Truth is not null && Reading!.AmplitudeDegrees.Value is { } value ? Math.Abs(value - Truth.AmplitudeDegrees) : null;

    public double? BeatErrorError => Ok && Truth is not null && Reading!.BeatErrorMilliseconds.Value is { } value ? Math.Abs(value - Truth.BeatErrorMilliseconds) : null;

    public bool? RateWithin => RateError is null ? null : Within(Reading!.RatePerDaySeconds, Truth!.RatePerDaySeconds);

    public bool? AmplitudeWithin => AmplitudeError is null ? null : Within(Reading!.AmplitudeDegrees, Truth!.AmplitudeDegrees);

    public bool? BeatErrorWithin => BeatErrorError is null ? null : Within(Reading!.BeatErrorMilliseconds, Truth!.BeatErrorMilliseconds);

    /// <summary>What is confidently wrong, or null: a wrong frequency, or a figure called good that is off by more than anybody could shrug at.</summary>
    public string? Wrong()
    {
        if (!Ok)
        {
            return null;
        }

        if (!FrequencyRight)
        {
            return $"{Reading!.VibrationsPerHour} vibrations an hour";
        }

        return RateError > Math.Max(0.3, 1.5 * Half(Reading!.RatePerDaySeconds)) ? $"rate off by {RateError:F2} s/d"
            : Reading!.AmplitudeDegrees.Confidence == Confidence.Good && AmplitudeError > 10 ? $"amplitude off by {AmplitudeError:F1}°"
            : Reading.AmplitudeDegrees.Confidence == Confidence.Fair && AmplitudeError > 20 ? $"amplitude (fair) off by {AmplitudeError:F1}°"
            : Reading.BeatErrorMilliseconds.Confidence == Confidence.Good && BeatErrorError > 0.3 ? $"beat error off by {BeatErrorError:F2} ms"
            : Reading.BeatErrorMilliseconds.Confidence == Confidence.Fair && BeatErrorError > 0.6 ? $"beat error (fair) off by {BeatErrorError:F2} ms"
            : null;
    }

    private static double Half(Figure figure) => (figure.High!.Value - figure.Low!.Value) / 2;

    private static bool Within(Figure figure, double truth) => truth >= figure.Low && truth <= figure.High;
}
