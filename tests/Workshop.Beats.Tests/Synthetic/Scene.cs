namespace Workshop.Beats.Tests.Synthetic;

/// <summary>How the samples of two channels belong together.</summary>
public enum Stereo
{
    Mono,
    Same,
    Antiphase,
    WatchOnRight,
}

/// <summary>A second watch near the microphone.</summary>
/// <param name="Watch">How it runs.</param>
/// <param name="Decibels">Its level against the first.</param>
/// <param name="PhaseShare">By how much of its beat it lies behind the first at the start, 0 to 1.</param>
public sealed record SecondWatch(Watch Watch, double Decibels, double PhaseShare);

/// <summary>How a watch runs and sounds.</summary>
public sealed record Watch
{
    public int VibrationsPerHour { get; init; } = 28800;

    /// <summary>Seconds gained a day of true time: 86400·(T nominal/T − 1).</summary>
    public double RatePerDaySeconds { get; init; }

    public double AmplitudeDegrees { get; init; } = 280;

    /// <summary>By how much the amplitude changes from the first second to the last, evenly.</summary>
    public double DriftDegrees { get; init; }

    /// <summary>Amplitude swings up and down by this much.</summary>
    public double SwingDegrees { get; init; }

    public double SwingSeconds { get; init; } = 9;

    public double LiftAngleDegrees { get; init; } = 52;

    /// <summary>Half the difference of the two half periods; positive where tick to tock is the longer.</summary>
    public double BeatErrorMilliseconds { get; init; } = 0.3;

    /// <summary>Standard deviation of each noise's own moment.</summary>
    public double JitterMicroseconds { get; init; } = 15;

    /// <summary>Standard deviation of each half period: it adds up along the recording.</summary>
    public double WalkMicroseconds { get; init; } = 1;

    /// <summary>Level of the tocks against the ticks.</summary>
    public double TockDecibels { get; init; } = -2;

    /// <summary>Level of the unlocking against the drop.</summary>
    public double UnlockingDecibels { get; init; } = -8;

    /// <summary>Level of the impulse against the drop.</summary>
    public double ImpulseDecibels { get; init; } = -7;

    /// <summary>Every decay time times this.</summary>
    public double Ringing { get; init; } = 1;

    /// <summary>Only one beat in so many sounds; 1 is a watch.</summary>
    public int SoundsEvery { get; init; } = 1;

    /// <summary>Chooses its modes, phases and the moments within a cluster.</summary>
    public int Seed { get; init; } = 1;
}

/// <summary>A whole recording: the watch, what else is heard, the recorder.</summary>
public sealed record Scene
{
    /// <summary>Null: nothing but the noise.</summary>
    public Watch? Watch { get; init; } = new();

    public SecondWatch? Second { get; init; }

    public double Seconds { get; init; } = 30;

    /// <summary>Drop RMS over 2 ms against noise RMS, both between 1.5 and 14 kHz.</summary>
    public double SignalToNoiseDecibels { get; init; } = 30;

    /// <summary>Level of the hum at 50 Hz and its harmonics against the drops; null for none.</summary>
    public double? HumDecibels { get; init; }

    /// <summary>Offset, in parts of the loudest sample.</summary>
    public double Offset { get; init; }

    public double ClicksPerSecond { get; init; }

    /// <summary>Level of a voice-like noise against the drops; null for none.</summary>
    public double? SpeechDecibels { get; init; }

    /// <summary>How far the loudest sample lies above the end of the scale; null: 6 dB below it.</summary>
    public double? ClippedByDecibels { get; init; }

    /// <summary>Positive: the converter runs fast and the watch looks slow.</summary>
    public double ClockPpm { get; init; }

    public int SampleRate { get; init; } = 48000;

    public int Bits { get; init; } = 16;

    public bool Float { get; init; }

    public bool Extensible { get; init; }

    public Stereo Stereo { get; init; } = Stereo.Mono;

    public int Seed { get; init; } = 1;
}

/// <summary>What a perfect listener would find.</summary>
/// <param name="RatePerDaySeconds">The watch's own rate in the long term.</param>
/// <param name="RealisedPerDaySeconds">Rate of the straight line through the passages of this very recording, in true time.</param>
/// <param name="MeanPerDaySeconds">Rate from the first passage to the last of the same parity.</param>
/// <param name="AmplitudeDegrees">Mean over the beats of the recording.</param>
/// <param name="BeatErrorMilliseconds">As set; never negative.</param>
/// <param name="Beats">Beats that sound in the recording.</param>
public sealed record Truth(double RatePerDaySeconds, double RealisedPerDaySeconds, double MeanPerDaySeconds, double AmplitudeDegrees, double BeatErrorMilliseconds, int Beats)
{
    /// <summary>Distance to the nearest of the three rates.</summary>
    public double RateError(double answered) =>
        new[] { RatePerDaySeconds, RealisedPerDaySeconds, MeanPerDaySeconds }.Min(one => Math.Abs(answered - one));
}
