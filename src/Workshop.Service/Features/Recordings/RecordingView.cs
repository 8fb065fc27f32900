using System.Collections.Immutable;
using NodaTime;
using Workshop.Beats.Listening;
using Workshop.Core.Labels;
using Workshop.Core.Recordings;
using Workshop.Core.Shop;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;
using Workshop.Service.Storage;
using Figure = Workshop.Beats.Listening.Figure;

namespace Workshop.Service.Features.Recordings;

/// <summary>Half widths of a 95 % interval by where they come from, in the unit of the figure.</summary>
/// <param name="Statistical">Scatter of the beats, and the balance's own wandering.</param>
/// <param name="Bias">What more beats would not cure: how the begin of a noise is found; from synthetic recordings.</param>
/// <param name="Clock">The recorder's clock; absent where nothing is known of it, and then it is not part of the interval.</param>
public sealed record FigurePartsView(decimal? Statistical, decimal? Bias, decimal? Clock);

/// <summary>
/// One figure with its 95 % interval and its own confidence. The interval was judged by synthetic recordings: automatic gain, the microphone's and
/// the case's own ringing, and noises that do not begin at the edges of the lift are not in it. The error of the lift angle is not in it either.
/// </summary>
/// <param name="Value">Absent where the figure is unavailable.</param>
/// <param name="Confidence"><c>good</c>; <c>fair</c>: to be looked at again before it is acted on; <c>unavailable</c>.</param>
/// <param name="Reasons">Why it is not good, or what to know of it.</param>
public sealed record HeardFigureView(decimal? Value, decimal? Low, decimal? High, Confidence Confidence, FigurePartsView? Parts, ImmutableArray<string> Reasons)
{
    public static HeardFigureView Of(Figure figure, int decimals) => new(
        Rounded(figure.Value, decimals), Rounded(figure.Low, decimals), Rounded(figure.High, decimals), figure.Confidence,
        figure.Parts is { } parts ? new FigurePartsView(Rounded(parts.Statistical, decimals + 1), Rounded(parts.Bias, decimals + 1), Rounded(parts.Clock, decimals + 1)) : null,
        [.. figure.Reasons]);

    internal static decimal? Rounded(double? number, int decimals) =>
        number is { } known && Math.Abs(known) < 1e12 ? Math.Round((decimal)known, decimals, MidpointRounding.AwayFromZero) : null;
}

/// <summary>What it was listened to with.</summary>
/// <param name="LiftAngleTold">It was told with the recording; else it is the calibre's.</param>
/// <param name="CalibreVibrationsPerHour">What the calibre says.</param>
public sealed record HeardWithView(decimal? LiftAngleDegrees, bool LiftAngleTold, int? CalibreVibrationsPerHour);

/// <summary>What is known of the recorder's clock. A rate can be no better than it: 10 ppm is 0.86 seconds a day.</summary>
/// <param name="Calibrated">False: no calibration is known, and the rate's interval does not hold the clock.</param>
/// <param name="Ppm">By how much it runs fast; the watch then looks slow, and that is taken off.</param>
/// <param name="UncertaintyPpm">Half width of its 95 % interval.</param>
/// <param name="Old">The calibration is older than the shop trusts one.</param>
/// <param name="Words">In the caller's language.</param>
public sealed record RecorderClockView(bool Calibrated, string? Device, decimal? Ppm, decimal? UncertaintyPpm, LocalDate? MeasuredOn, bool? Old, string Words);

/// <summary>Why something is not good, or what to know.</summary>
/// <param name="Words">In the caller's language.</param>
public sealed record HeardReasonView(string Reason, string Words);

/// <summary>
/// What was heard. Every figure stands or falls by itself. Judged by synthetic recordings alone: the amplitude of a real watch may be off by an
/// amount that they cannot show, the same for every recording of that watch; the rate rests on nothing but moments and the clock.
/// </summary>
/// <param name="Class"><c>ok</c>: frequency and rate are trustworthy, each other figure by its own confidence; <c>low</c>: nothing to act on.</param>
/// <param name="Code">The first reason for <c>low</c>.</param>
/// <param name="FrequencyHertz">Oscillations a second, by the corrected clock.</param>
/// <param name="RatePerDaySeconds">86400·(T nominal/T − 1): seconds gained a day of true time.</param>
/// <param name="AmplitudeDegrees">λ/(2 sin(π·t/T)) with the whole period T and t from unlocking to drop.</param>
/// <param name="BeatErrorMilliseconds">Half the difference of the two half periods, never negative; others name the whole difference, twice as much.</param>
/// <param name="BeatsUsed">Beats that the rate rests on.</param>
/// <param name="ScatterMicroseconds">Standard deviation of single beats about the line.</param>
/// <param name="SignalToNoiseDecibels">RMS of the drop over 2 ms against that of the noise, between 1.8 and 14 kHz.</param>
/// <param name="AnalyserVersion">Raised when the same file would give another answer.</param>
public sealed record HeardView(
    ReadingClass Class, string? Code, int? VibrationsPerHour, HeardFigureView FrequencyHertz, HeardFigureView RatePerDaySeconds, HeardFigureView AmplitudeDegrees, HeardFigureView BeatErrorMilliseconds,
    int BeatsUsed, decimal? ScatterMicroseconds, decimal? SignalToNoiseDecibels, HeardWithView With, int AnalyserVersion, Instant? ListenedAt, ImmutableArray<HeardReasonView> Reasons);

/// <summary>A recording of a watch, and what was heard in it.</summary>
/// <param name="Sha256">Of its bytes; its name.</param>
/// <param name="Href">Where it is.</param>
/// <param name="State"><c>waiting</c>, <c>listened</c>, or <c>failed</c>: there is no reading, and <c>failure</c> says why.</param>
/// <param name="Kept">Its bytes are here; false where their time was over, and the reading alone is left.</param>
/// <param name="ToldPosition">Word for word, where it was told by a symbol or a word of the shop's own.</param>
/// <param name="LiftAngleDegrees">As told with it; absent where the calibre's counts.</param>
/// <param name="Device">By which it was recorded: its clock counts.</param>
/// <param name="Clock">By which the reading was corrected, or that nothing is known of it.</param>
/// <param name="Asks">What somebody should look at, as questions in the caller's language.</param>
public sealed record RecordingView(
    Label Job, string Sha256, string Href, RecordingState State, long Bytes, bool Kept, decimal? Seconds, long SampleRateHertz, long Bits, long Channels,
    Position Position, string? ToldPosition, WindState WindState, decimal? HoursSinceFullWind, decimal? LiftAngleDegrees, bool? ChronographRunning, bool? Cased, string? Device, Instant ReceivedAt,
    HeardView? Reading, RecorderClockView? Clock, ImmutableArray<string> Asks, ListeningFailure? Failure, string? FailureWords)
{
    private const string ReasonList = "listeningReason";

    public static RecordingView Of(Label job, StoredRecording kept, ShopRules rules, Language language)
    {
        var told = kept.ReadTold();
        var heard = kept.ReadHeard();
        var failure = Word.Read<ListeningFailure>(kept.Failure);
        return new RecordingView(
            job, kept.Sha256, HrefOf(job, kept.Sha256), kept.StateRead, kept.Bytes, kept.Removed is null, HeardFigureView.Rounded(kept.Seconds, 3), kept.SampleRate, kept.Bits, kept.Channels,
            told.Position, told.ToldPosition, told.WindState, told.HoursSinceFullWind, told.LiftAngleDegrees, told.ChronographRunning, told.Cased, told.Device, Microseconds.Read(kept.Received),
            heard is null ? null : Shown(heard, Microseconds.Read(kept.Listened), language),
            heard is null ? null : ClockOf(heard.Clock, told.Device, rules.Calendar.DateOf(Microseconds.Read(kept.Received)), rules.Recordings, language),
            heard is null ? [] : [.. Questions(heard.Reading).Select(one => one.In(language))],
            failure, failure is { } why ? WordLists.Of(why, language) : null);
    }

    internal static string HrefOf(Label job, string sha256) => $"/v1/jobs/{job}/recordings/{sha256}";

    internal static string Words(string reason, Language language) => WordLists.Of(ReasonList, reason, language);

    private static HeardView Shown(HeardRecording heard, Instant? at, Language language)
    {
        var reading = heard.Reading;
        return new HeardView(
            reading.Class, reading.Code, reading.VibrationsPerHour,
            HeardFigureView.Of(reading.FrequencyHertz, 6), HeardFigureView.Of(reading.RatePerDaySeconds, 3), HeardFigureView.Of(reading.AmplitudeDegrees, 1), HeardFigureView.Of(reading.BeatErrorMilliseconds, 3),
            reading.BeatsUsed, HeardFigureView.Rounded(reading.ScatterMicroseconds, 1), HeardFigureView.Rounded(reading.SignalToNoiseDecibels, 1),
            new HeardWithView(HeardFigureView.Rounded(reading.Parameters.LiftAngleDegrees, 2), heard.LiftAngleTold, reading.Parameters.CalibreVibrationsPerHour),
            reading.AnalyserVersion, at, [.. reading.Reasons.Distinct().Select(reason => new HeardReasonView(reason, Words(reason, language)))]);
    }

    private static RecorderClockView ClockOf(ClockThatCounted? clock, string? device, LocalDate recordedOn, RecordingRules rules, Language language)
    {
        if (clock is null)
        {
            return new RecorderClockView(
                false, device, null, null, null, null,
                (device is null
                    ? Phrase.Of("It is not said what it was recorded with: the clock is not calibrated. 10 ppm would be 0.86 seconds a day.")
                    : Phrase.Of("The clock of {0} is not calibrated: 10 ppm would be 0.86 seconds a day.", device)).In(language));
        }

        var old = clock.MeasuredOn.PlusMonths(rules.ClockGoodMonths) < recordedOn;
        var (ppm, uncertainty) = (HeardFigureView.Rounded(clock.Ppm, 3), HeardFigureView.Rounded(clock.UncertaintyPpm, 3));
        var signed = Core.Words.Figure.Signed(ppm ?? 0);
        var within = new Core.Words.Figure(uncertainty ?? 0, "0.###");
        return new RecorderClockView(
            true, clock.Device, ppm, uncertainty, clock.MeasuredOn, old,
            (old
                ? Phrase.Of("The clock of {0} runs {1} ppm, ± {2} ppm, measured on {3}: that is long ago, calibrate it anew.", clock.Device, signed, within, clock.MeasuredOn)
                : Phrase.Of("The clock of {0} runs {1} ppm, ± {2} ppm, measured on {3}.", clock.Device, signed, within, clock.MeasuredOn)).In(language));
    }

    private static IEnumerable<Phrase> Questions(Reading reading)
    {
        if (reading is { VibrationsPerHour: { } heard, Parameters.CalibreVibrationsPerHour: { } said } && heard != said)
        {
            yield return Phrase.Of("The calibre says {0} vibrations an hour, {1} were heard: which is right?", said, heard);
        }
    }
}
