using System.Globalization;
using Workshop.Beats.Listening;
using Workshop.Core.Words;
using Workshop.Service.Prints.Plots;
using Figure = Workshop.Beats.Listening.Figure;
using Number = Workshop.Core.Words.Figure;

namespace Workshop.Service.Prints.Recordings;

/// <summary>
/// A recording drawn as a statement of evidence: time runs down the sheet, one mark a stretch with its interval, the figures beside the stretch they
/// come from, and the mean beat with the moments that were picked in it. Whoever doubts a figure sees what it rests on.
/// </summary>
internal static class RecordingDrawing
{
    // Said in a sentence of its own.
    private const string Uncalibrated = "clock-uncalibrated";

    /// <param name="heading">What was recorded: the job, the position, the wind state; or the file's name. In the language asked for.</param>
    public static PlotSheet Of(Reading reading, Evidence evidence, string heading, Language language) => new(
        heading,
        [.. Beneath(reading, evidence).Select(sentence => sentence.In(language))],
        [
            new BlockPanel(reading, evidence.Blocks, language).Panel(),
            .. evidence.Tick is { } tick ? new[] { NoisePanel.Of(tick, Phrase.Of("Tick"), language) } : [],
            .. evidence.Tock is { } tock ? new[] { NoisePanel.Of(tock, Phrase.Of("Tock"), language) } : [],
        ]);

    private static IEnumerable<Phrase> Beneath(Reading reading, Evidence evidence)
    {
        yield return Phrase.Of("Time runs down the sheet. A mark is the rate of one stretch against the rate of the whole; its bar is the 95 % interval of that stretch. Full square: good; open diamond: fair.");
        if (evidence.Tick is not null || evidence.Tock is not null)
        {
            yield return Phrase.Of("Mean of all ticks and of all tocks, against the noise between the beats. Dashed lines: where the unlocking (noise 1) and the drop (noise 3) were taken to begin; tint: their 95 % interval.");
        }

        yield return Told(
            reading.RatePerDaySeconds,
            Phrase.Of("Rate {0} s/d, from {1} to {2}, {3}.", Signed(reading.RatePerDaySeconds.Value), Signed(reading.RatePerDaySeconds.Low), Signed(reading.RatePerDaySeconds.High), Sure(reading.RatePerDaySeconds)),
            Phrase.Of("No rate."));
        yield return Told(
            reading.AmplitudeDegrees,
            Phrase.Of("Amplitude {0}°, from {1}° to {2}°, {3}; the error of the lift angle is not in it.", Plain(reading.AmplitudeDegrees.Value, "0"), Plain(reading.AmplitudeDegrees.Low, "0"), Plain(reading.AmplitudeDegrees.High, "0"), Sure(reading.AmplitudeDegrees)),
            Phrase.Of("No amplitude."));
        yield return Told(
            reading.BeatErrorMilliseconds,
            Phrase.Of("Beat error {0} ms, from {1} to {2}, {3}.", Plain(reading.BeatErrorMilliseconds.Value, "0.00"), Plain(reading.BeatErrorMilliseconds.Low, "0.00"), Plain(reading.BeatErrorMilliseconds.High, "0.00"), Sure(reading.BeatErrorMilliseconds)),
            Phrase.Of("No beat error."));
        if (reading.Reasons.Where(code => code != Uncalibrated).ToArray() is { Length: > 0 } codes)
        {
            yield return Phrase.Of("To know: {0}.", new Series([.. codes.Select(code => new Term("listeningReason", code))]));
        }

        yield return Phrase.Of(
            "{0} vibrations an hour; {1} beats in {2} s; single beats scatter by {3} µs; signal to noise {4} dB.",
            reading.VibrationsPerHour?.ToString(CultureInfo.InvariantCulture) ?? "–",
            reading.BeatsUsed,
            Plain(reading.Seconds, "0.0"),
            Plain(reading.ScatterMicroseconds, "0"),
            Plain(reading.SignalToNoiseDecibels, "0"));
        yield return Phrase.Of("Lift angle {0}°.", Plain(reading.Parameters.LiftAngleDegrees, "0.#"));
        yield return Clock(reading.Parameters);
        yield return Phrase.Of("Listened to by version {0} of the analyser. Computed by the definitions of rate 86400·(T nominal/T − 1), of amplitude L/(2 sin(π·t/T)) with lift angle L and the whole period T, and of beat error as half the difference of the half periods.", reading.AnalyserVersion);
    }

    private static Phrase Clock(ListeningParameters parameters) => parameters.ClockPpm is not { } ppm
        ? Phrase.Of("The recorder's clock is not calibrated: what it is off is in the rate and in no interval; 10 ppm are 0.86 s/d.")
        : Phrase.Of("The recorder's clock is {0} ± {1} ppm fast, and the rate is free of that.", new Number((decimal)ppm, "+0.0#;−0.0#;0.0"), Plain(parameters.ClockPpmUncertainty, "0.0#"));

    private static Phrase Told(Figure figure, Phrase told, Phrase not) => figure.Value is null ? not : told;

    internal static Term Sure(Figure figure) => new("figureConfidence", figure.Confidence switch
    {
        Confidence.Good => "good",
        Confidence.Fair => "fair",
        Confidence.Unavailable => "unavailable",
    });

    internal static Number Signed(double? value) => new((decimal)(value ?? 0), "+0.0#;−0.0#;0.0");

    internal static Number Plain(double? value, string format) => new((decimal)(value ?? 0), format);
}
