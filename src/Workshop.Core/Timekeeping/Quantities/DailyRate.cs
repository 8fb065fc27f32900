namespace Workshop.Core.Timekeeping.Quantities;

/// <summary>
/// A rate: seconds gained per day of true time, gaining positive, as a check on the wrist measures it. Not its first order in the beat,
/// which differs by r² / 86 400.
/// </summary>
public readonly record struct DailyRate(decimal PerDaySeconds)
{
    /// <summary>A watch does not gain or lose more than the day itself; seconds a day.</summary>
    public const int AtMost = 86_400;

    public bool IsPossible => Math.Abs(PerDaySeconds) <= AtMost;

    /// <summary>Parts in a million: a second a day is 11.574.</summary>
    public double PartsPerMillion => BeatArithmetic.PartsPerMillion((double)PerDaySeconds);

    /// <summary>From the mean of the beats measured, milliseconds, against the beat of the calibre: a shorter one gains.</summary>
    public static DailyRate OfBeat(Vibrations nominal, double measuredMilliseconds) =>
        new((decimal)BeatArithmetic.RatePerDaySeconds(nominal.BeatMilliseconds, measuredMilliseconds));
}
