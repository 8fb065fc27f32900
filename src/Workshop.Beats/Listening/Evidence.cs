namespace Workshop.Beats.Listening;

/// <summary>A reading and what it rests on.</summary>
/// <param name="Evidence">Null where there is nothing to act on.</param>
public sealed record Heard(Reading Reading, Evidence? Evidence);

/// <summary>What a reading rests on, for somebody who wants to see for themselves.</summary>
/// <param name="Blocks">The recording in stretches of about two seconds, in order; at most 120.</param>
/// <param name="Tick">The mean of all beats of one kind; null where no noise stands out in it.</param>
/// <param name="Tock">And of the other.</param>
public sealed record Evidence(IReadOnlyList<EvidenceBlock> Blocks, FoldedNoise? Tick, FoldedNoise? Tock);

/// <summary>What one stretch of a recording says by itself. Its intervals are those of the stretch: whatever is wrong with all stretches alike, the clock above all, is the reading's.</summary>
/// <param name="FromSeconds">By the recorder's own clock, from the begin of the recording.</param>
/// <param name="ToSeconds">The end, likewise.</param>
/// <param name="BeatsUsed">Beats that its rate rests on.</param>
/// <param name="RatePerDaySeconds">Rate of this stretch alone.</param>
/// <param name="AgainstWholePerDaySeconds">The same less the rate of the whole recording.</param>
/// <param name="AmplitudeDegrees">Mean of its ticks and tocks.</param>
/// <param name="BeatErrorMilliseconds">Never negative.</param>
public sealed record EvidenceBlock(
    double FromSeconds,
    double ToSeconds,
    int BeatsUsed,
    Figure RatePerDaySeconds,
    Figure AgainstWholePerDaySeconds,
    Figure AmplitudeDegrees,
    Figure BeatErrorMilliseconds);

/// <summary>The mean energy around the beats of one kind. The moment 0 is the begin of the drop.</summary>
/// <param name="FromMilliseconds">Moment of the first value.</param>
/// <param name="StepMilliseconds">From one value to the next.</param>
/// <param name="Decibels">Mean energy between 1.8 and 14 kHz against the noise between the beats; at most 400 values, none below -10.</param>
/// <param name="Unlocking">Noise 1; null where it does not stand out.</param>
/// <param name="Drop">Noise 3.</param>
public sealed record FoldedNoise(double FromMilliseconds, double StepMilliseconds, IReadOnlyList<double> Decibels, PickedMoment? Unlocking, PickedMoment Drop);

/// <summary>Where a noise was taken to begin.</summary>
/// <param name="UncertaintyMilliseconds">Half width of a 95 % interval.</param>
public sealed record PickedMoment(double Milliseconds, double UncertaintyMilliseconds);
