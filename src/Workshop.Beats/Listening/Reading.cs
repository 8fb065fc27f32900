namespace Workshop.Beats.Listening;

/// <summary>How far a figure may be trusted.</summary>
public enum Confidence
{
    /// <summary>There is no figure.</summary>
    Unavailable,

    /// <summary>To be looked at again before it is acted on.</summary>
    Fair,

    Good,
}

/// <summary>What a recording is worth as a whole.</summary>
public enum ReadingClass
{
    /// <summary>Nothing to act on.</summary>
    Low,

    /// <summary>Frequency and rate are trustworthy, each other figure by its own confidence.</summary>
    Ok,
}

/// <summary>Half widths of a 95 % interval, in the unit of its figure, by where they come from.</summary>
/// <param name="Statistical">Scatter of the beats, and the balance's own wandering.</param>
/// <param name="Bias">What more beats would not cure: how the begin of a noise is found. From synthetic recordings.</param>
/// <param name="Clock">The recorder's clock; null where nothing is known of it, then it is not part of the interval.</param>
public sealed record Parts(double Statistical, double Bias, double? Clock)
{
    /// <summary>All of them together, as independent parts.</summary>
    public double Whole => Math.Sqrt(Statistical * Statistical + Bias * Bias + (Clock ?? 0) * (Clock ?? 0));
}

/// <summary>One figure with its own confidence.</summary>
/// <param name="Value">Null where it is not available.</param>
/// <param name="Low">Lower end of the 95 % interval.</param>
/// <param name="High">Upper end of the 95 % interval.</param>
/// <param name="Reasons">Codes: why it is not good, or what to know of it.</param>
public sealed record Figure(double? Value, double? Low, double? High, Confidence Confidence, Parts? Parts, IReadOnlyList<string> Reasons)
{
    public static Figure Of(double value, Parts parts, Confidence confidence, params IEnumerable<string> reasons) =>
        new(value, value - parts.Whole, value + parts.Whole, confidence, parts, [.. reasons]);

    public static Figure Unavailable(params IEnumerable<string> reasons) => new(null, null, null, Confidence.Unavailable, null, [.. reasons]);
}

/// <summary>With what a recording was listened to; kept with the answer.</summary>
/// <param name="LiftAngleDegrees">Of the calibre.</param>
/// <param name="ClockPpm">Positive: the recorder's converter runs fast and the watch looks slow. Null: not calibrated.</param>
/// <param name="ClockPpmUncertainty">Half width of the 95 % interval of <paramref name="ClockPpm"/>.</param>
/// <param name="CalibreVibrationsPerHour">What the calibre says; looked for besides the usual ones.</param>
public sealed record ListeningParameters(double LiftAngleDegrees, double? ClockPpm = null, double ClockPpmUncertainty = 0, int? CalibreVibrationsPerHour = null);

/// <summary>What was heard in a recording.</summary>
/// <param name="Code">The first reason for a class below ok, or null.</param>
/// <param name="VibrationsPerHour">Which of the usual frequencies it is; its confidence is that of the class.</param>
/// <param name="FrequencyHertz">Oscillations a second, by the corrected clock.</param>
/// <param name="RatePerDaySeconds">86400·(T nominal/T − 1): seconds gained a day of true time.</param>
/// <param name="AmplitudeDegrees">λ/(2 sin(π·t/T)) with the whole period T and t from unlocking to drop; mean of ticks and tocks over blocks of time. The error of the lift angle is not part of its interval.</param>
/// <param name="BeatErrorMilliseconds">Half the difference of the two half periods; never negative.</param>
/// <param name="SignalToNoiseDecibels">RMS of the drop over 2 ms against that of the noise, between 1.8 and 14 kHz.</param>
/// <param name="BeatsUsed">Beats that the rate rests on.</param>
/// <param name="ScatterMicroseconds">Standard deviation of single beats about the line.</param>
/// <param name="AnalyserVersion">Raised when the same file would give another answer.</param>
public sealed record Reading(
    ReadingClass Class,
    string? Code,
    IReadOnlyList<string> Reasons,
    int? VibrationsPerHour,
    Figure FrequencyHertz,
    Figure RatePerDaySeconds,
    Figure AmplitudeDegrees,
    Figure BeatErrorMilliseconds,
    double? SignalToNoiseDecibels,
    double Seconds,
    int BeatsUsed,
    double? ScatterMicroseconds,
    ListeningParameters Parameters,
    int AnalyserVersion);
