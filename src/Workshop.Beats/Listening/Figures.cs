using Workshop.Beats.Recordings;

namespace Workshop.Beats.Listening;

/// <summary>The figures that the timed noises of a recording give, each with what may be wrong with it.</summary>
internal sealed class Figures(Recording recording, ListeningParameters parameters, int vibrations, BurstLine burst, TimedNoises? noises)
{
    // No balance is steadier, seconds a beat; what is smaller cannot be seen in half a minute.
    private const double LeastWalk = 0.7e-6;

    // Quieter than the noise itself nothing is to be acted on; the figure reads about 1 dB high there.
    private const double LeastDecibels = 1;

    // A share of the drop's energy that noise would hide.
    private const double NoisyShare = 0.008;

    // How well the begin of a noise is found, from the tuning seeds: in quiet, and per share of the drop's energy that noise would hide.
    private const double PickSeconds = 45e-6;
    private const double PickSecondsInNoise = 1.5e-3;
    // A rise of the drop's own cluster that comes so much before the one taken for its first hit, and which of them it is cannot be told.
    private const double EarlierSeconds = 0.3e-3;
    private const double FaintUnlocking = 0.02;

    // Shares of the loudest millisecond's energy. On the tuning seeds one unlocking in a hundred is below the first.
    private const double MostUnseen = 0.008;
    private const double SureUnseen = 0.005;

    // Seconds a day: a rate that may be off by more is none to act on where beats may be mistaken in noise as well, or where it may follow the amplitude:
    // a longer recording has a better one. The clock is not in it: what it is off is known to be so.
    private const double MostUncertain = 1;
    private const double MostUncertainOfWholeBeats = 0.6;
    private const double NoisyDecibels = 6;

    // Degrees from the begin of a recording to its end, and where a watch that can be heard swings at the least: what is not seen has to be allowed for.
    private const double MostDrift = 6;
    private const double LowAmplitude = 190;
    private const double HiddenUnlockingShare = 0.25;

    // Both ways to a beat error lie within 0.13 ms of each other in quiet and 0.22 ms in noise, on the tuning seeds, where both are right.
    private const double MostApart = 0.2e-3;
    private const double MostApartInNoise = 0.25e-3;
    private const double MostHiddenOfDrop = 0.06;

    // Ticks and tocks that differ by more from unlocking to drop: one of the four picks is off.
    private const double UnevenSeconds = 0.1e-3;
    private const double MostUnevenSeconds = 0.2e-3;

    private readonly List<string> reasons = [.. recording.Warnings];

    /// <summary>True seconds in a second of the file: a fast converter makes a file that is too long.</summary>
    private double Clock => 1 / (1 + (parameters.ClockPpm ?? 0) * 1e-6);

    private double Nominal => 3600.0 / vibrations;

    public Heard Answer()
    {
        var (line, midpoints) = BestLine();
        var decibels = noises is { SignalToNoise: > 0 } ? 10 * Math.Log10(noises.SignalToNoise) : (double?)null;
        var rate = Rate(line, midpoints, noisy: !(decibels >= NoisyDecibels));
        if (parameters.ClockPpm is null)
        {
            reasons.Add("clock-uncalibrated");
        }

        if (rate.Confidence == Confidence.Unavailable)
        {
            return new Heard(Listener.Nothing(recording, parameters, rate.Reasons[0], vibrations, decibels), null);
        }

        if (!(decibels >= LeastDecibels))
        {
            return new Heard(Listener.Nothing(recording, parameters, "signal-too-weak", vibrations, decibels), null);
        }

        var amplitude = Amplitude(line, midpoints);
        var beatError = BeatError(line, midpoints);
        var reading = new Reading(
            ReadingClass.Ok,
            null,
            [.. reasons, .. rate.Reasons, .. amplitude.Reasons, .. beatError.Reasons],
            vibrations,
            Frequency(rate),
            rate,
            amplitude,
            beatError,
            decibels,
            recording.Seconds,
            line.Used,
            line.Scatter * 1e6,
            parameters,
            Listener.Version);
        return new Heard(reading, EvidenceFor(reading, line));
    }

    private Evidence EvidenceFor(Reading reading, RobustLine line)
    {
        var most = Frequencies.LiftSeconds(Frequencies.LeastAmplitude, parameters.LiftAngleDegrees, Frequencies.Period(vibrations));
        FoldedNoise? Picture(int parity, NoisePicks? picks) => picks is null ? null : FoldedNoises.Of(noises!.Means[parity], picks, most, PickHalf(picks));
        return new Evidence(new EvidenceOfBlocks(reading, vibrations, line, burst.Numbers, noises, Clock).Blocks(), Picture(0, noises?.Even), Picture(1, noises?.Odd));
    }

    private static double PickHalf(NoisePicks picks) => PickSeconds + (picks.FirstShare < FaintUnlocking ? PickSeconds : 0) + PickSecondsInNoise * picks.HiddenShare;

    // The middle between unlocking and drop stays where it is when the amplitude changes; a single noise does not.
    private (RobustLine Line, bool Midpoints) BestLine()
    {
        if (noises?.FirstTimes is not { } firsts)
        {
            return (burst.Line, false);
        }

        var middle = RobustLine.Fit(burst.Numbers, [.. firsts.Zip(noises.DropTimes, (first, drop) => 0.5 * (first + drop))]);
        return middle is not null && middle.Used > 0.6 * burst.Numbers.Length && Off(middle, MidpointBias()) < Off(burst.Line, DriftBias())
            ? (middle, true)
            : (burst.Line, false);
    }

    private double Off(RobustLine line, double bias) => new Parts(RateError(line), bias, null).Whole;

    private double RateError(RobustLine line) => Listener.SecondsPerDay * line.SlopeError / line.Slope;

    private Figure Rate(RobustLine line, bool midpoints, bool noisy)
    {
        var value = Listener.RateOf(Nominal, line.Slope * Clock);
        var walk = LeastWalk + Wandering.OfBeat([.. line.Residuals.Zip(line.Weights, (residual, weight) => weight > 0 ? residual * Math.Sqrt(weight) : 0)], line.Scatter);
        var wander = Listener.SecondsPerDay * walk * Math.Sqrt(1.2 / line.Residuals.Length) / line.Slope;
        var statistical = Listener.Coverage(line.Used) * Math.Sqrt(Math.Pow(RateError(line), 2) + wander * wander);
        var parts = new Parts(statistical, midpoints ? MidpointBias() : DriftBias(), parameters.ClockPpm is null ? null : 0.0864 * parameters.ClockPpmUncertainty);
        var uncertain = (parts with { Clock = null }).Whole;
        if (statistical > 1.5 || (noisy && uncertain > MostUncertain) || (!midpoints && uncertain > MostUncertainOfWholeBeats) || line.Used < 0.5 * burst.Numbers.Length || Math.Abs(value) > 900)
        {
            return Figure.Unavailable("rate-uncertain");
        }

        return Figure.Of(value, parts, parts.Whole < 0.5 ? Confidence.Good : Confidence.Fair, midpoints ? [] : ["rate-from-whole-beats"]);
    }

    // A single noise, or a burst that its loudest noise leads, moves against the balance by half of what the time from unlocking to drop changes.
    private double DriftBias()
    {
        double Lift(double amplitude) => Frequencies.LiftSeconds(amplitude, parameters.LiftAngleDegrees, Frequencies.Period(vibrations));
        return Listener.SecondsPerDay * 0.5 * (Lift(LowAmplitude - MostDrift / 2) - Lift(LowAmplitude + MostDrift / 2)) / recording.Seconds;
    }

    // Where the unlocking may be hidden the middle may be that between impulse and drop, which moves too, by a third of it or so.
    private double MidpointBias() => noises?.Earlier is { } earlier && UnlockingMayBeHidden(earlier) ? HiddenUnlockingShare * DriftBias() : 0.005;

    private static bool UnlockingMayBeHidden(EarlierNoise earlier) => earlier.IsThere || earlier.UnseenShare > MostUnseen;

    private Figure Frequency(Figure rate)
    {
        var hertz = vibrations / 7200.0;
        double Of(double perDay) => hertz * (1 + perDay / Listener.SecondsPerDay);
        var parts = rate.Parts!;
        var perSecond = hertz / Listener.SecondsPerDay;
        return Figure.Of(Of(rate.Value!.Value), new Parts(parts.Statistical * perSecond, parts.Bias * perSecond, parts.Clock * perSecond), rate.Confidence);
    }

    /// <summary>Seconds by which ticks and tocks differ from unlocking to drop.</summary>
    private double Uneven => noises?.LiftSeconds is { } lifts ? Math.Abs(lifts[0].Average() - lifts[1].Average()) : 0;

    private Figure Amplitude(RobustLine line, bool midpoints)
    {
        if (noises is not { LiftSeconds: { } lifts, Earlier: { } earlier } || noises.Even.FirstAtEdge || noises.Odd.FirstAtEdge)
        {
            return Figure.Unavailable("amplitude-unlocking-not-found");
        }

        var period = Frequencies.Period(vibrations);
        var hidden = Math.Max(noises.Even.HiddenShare, noises.Odd.HiddenShare);
        if (hidden > 0.06 || UnlockingMayBeHidden(earlier))
        {
            return Figure.Unavailable("amplitude-unlocking-may-be-hidden");
        }

        var (byNoises, _, byLikeness) = OddBehindEven(line, midpoints, noises);
        if (noises.Even.EarlierInCluster > EarlierSeconds || noises.Odd.EarlierInCluster > EarlierSeconds || WaysDisagree(byNoises, byLikeness, hidden))
        {
            return Figure.Unavailable("amplitude-drop-in-doubt");
        }

        var each = lifts.Select(one => one.Select(lift => Frequencies.Amplitude(lift * Clock, parameters.LiftAngleDegrees, period)).Average()).ToArray();
        var apart = Math.Abs(each[0] - each[1]) / (each[0] + each[1]);
        if (apart > 0.06 || Uneven > MostUnevenSeconds || each.Any(one => one is < Frequencies.LeastAmplitude or > Frequencies.GreatestAmplitude))
        {
            return Figure.Unavailable("amplitude-tick-and-tock-disagree");
        }

        var value = 0.5 * (each[0] + each[1]);
        var degreesPerSecond = value / (0.5 * (lifts[0].Average() + lifts[1].Average()));
        var faint = Math.Min(noises.Even.FirstShare, noises.Odd.FirstShare) < FaintUnlocking ? PickSeconds : 0;
        var parts = new Parts(0.3, degreesPerSecond * (PickSeconds + faint + PickSecondsInNoise * hidden) + 0.25 * Math.Abs(each[0] - each[1]), null);
        return Figure.Of(value, parts, apart < 0.03 && hidden < 0.03 && earlier.UnseenShare < SureUnseen ? Confidence.Good : Confidence.Fair);
    }

    private Figure BeatError(RobustLine line, bool midpoints)
    {
        if (noises is null)
        {
            return Figure.Unavailable("beat-error-noises-not-found");
        }

        var (byNoises, byDrops, byLikeness) = OddBehindEven(line, midpoints, noises);
        var hidden = Math.Max(noises.Even.HiddenShare, noises.Odd.HiddenShare);
        if (WaysDisagree(byNoises, byLikeness, hidden))
        {
            return Figure.Unavailable("beat-error-two-ways-disagree");
        }

        if (!midpoints && hidden > MostHiddenOfDrop)
        {
            return Figure.Unavailable("beat-error-drop-faint");
        }

        if (Uneven > MostUnevenSeconds)
        {
            return Figure.Unavailable("beat-error-tick-and-tock-disagree");
        }

        // A pick that is off moves the midpoints by half of that, the drops by all of it or not at all, and the likeness not. Where a pick is unsure the one
        // in the middle is nearest; else each has errors of its own, and their weighted mean (weights from the tuning seeds) has smaller ones.
        var unsure = hidden > NoisyShare || Uneven > UnevenSeconds;
        var value = 1e3 * Clock * Math.Abs(
            !midpoints ? 0.5 * (byNoises + byLikeness)
            : unsure ? Math.Max(Math.Min(byNoises, byDrops), Math.Min(Math.Max(byNoises, byDrops), byLikeness))
            : 0.6 * byNoises + 0.2 * byDrops + 0.2 * byLikeness);
        var unlike = 10 * Math.Abs(Math.Log10(noises.Even.DropEnergy / noises.Odd.DropEnergy));
        var parts = new Parts(1e3 * Listener.Coverage(line.Used) * line.OffsetError, (midpoints ? 0.045 : 0.15) + 0.0015 * unlike + hidden + 500 * Math.Max(0, Uneven - UnevenSeconds), null);
        var figure = Figure.Of(value, parts, midpoints ? Confidence.Good : Confidence.Fair);
        return figure with { Low = Math.Max(0, figure.Low!.Value) };
    }

    /// <summary>Seconds by which the odd beats come later: by the noises, by the drops alone, and by the likeness of the whole beats.</summary>
    private (double Noises, double Drops, double Likeness) OddBehindEven(RobustLine line, bool midpoints, TimedNoises timed)
    {
        var drops = burst.Line.OddOffset + timed.Odd.Drop - timed.Even.Drop;
        return (midpoints ? line.OddOffset : drops, drops, burst.Line.OddOffset + burst.OddShift);
    }

    // A drop mistaken in one kind of beat moves the noises alone.
    private static bool WaysDisagree(double byNoises, double byLikeness, double hidden) =>
        !(Math.Abs(byNoises - byLikeness) < (hidden > NoisyShare ? MostApartInNoise : MostApart));
}
