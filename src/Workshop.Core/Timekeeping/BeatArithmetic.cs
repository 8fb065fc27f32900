namespace Workshop.Core.Timekeeping;

/// <summary>
/// What beats, angles and rates are to each other. T is the full period of the balance, 7200 s divided by the vibrations per hour; the
/// balance swings undamped, symmetrically and harmonically.
/// </summary>
public static class BeatArithmetic
{
    private const double SecondsPerDay = 86_400;

    /// <summary>Oscillations a second.</summary>
    public static double Hertz(int vibrationsPerHour) => vibrationsPerHour / 7200d;

    /// <summary>One vibration, half a period.</summary>
    public static double BeatMilliseconds(int vibrationsPerHour) => 3_600_000d / vibrationsPerHour;

    /// <summary>A full period.</summary>
    public static double PeriodMilliseconds(int vibrationsPerHour) => 7_200_000d / vibrationsPerHour;

    public static int BeatsPerDay(int vibrationsPerHour) => vibrationsPerHour * 24;

    /// <summary>Seconds gained per day of true time: the same quantity a worn check measures, and not its first order in the period.</summary>
    public static double RatePerDaySeconds(double nominalBeat, double measuredBeat) => SecondsPerDay * ((nominalBeat / measuredBeat) - 1);

    /// <summary>Degrees, from unlocking to drop in milliseconds: λ / (2 sin(π t / T)).</summary>
    public static double AmplitudeDegrees(int vibrationsPerHour, double liftAngleDegrees, double unlockingToDropMilliseconds) =>
        liftAngleDegrees / (2 * Math.Sin(Math.PI * unlockingToDropMilliseconds / PeriodMilliseconds(vibrationsPerHour)));

    /// <summary>From unlocking to drop in milliseconds, at an amplitude of more than half the lift angle: (T / π) asin(λ / (2 A)).</summary>
    public static double UnlockingToDropMilliseconds(int vibrationsPerHour, double liftAngleDegrees, double amplitudeDegrees) =>
        PeriodMilliseconds(vibrationsPerHour) / Math.PI * Math.Asin(liftAngleDegrees / (2 * amplitudeDegrees));

    /// <summary>
    /// Half the difference of two beats that follow one another, in their unit. Others name the whole difference; from memory, half is the
    /// usual convention.
    /// </summary>
    public static double BeatError(double one, double other) => Math.Abs(one - other) / 2;

    /// <summary>How far the balance rests out of the middle, degrees: A sin(2π (e / 2) / T), e as <see cref="BeatError"/>.</summary>
    public static double RestOffsetDegrees(int vibrationsPerHour, double amplitudeDegrees, double beatErrorMilliseconds) =>
        amplitudeDegrees * Math.Sin(Math.PI * beatErrorMilliseconds / PeriodMilliseconds(vibrationsPerHour));

    /// <summary>An amplitude read at a wrong lift angle, at the right one; degrees, in proportion.</summary>
    public static decimal AtLiftAngle(decimal amplitudeDegrees, decimal readAtDegrees, decimal rightDegrees) => amplitudeDegrees * rightDegrees / readAtDegrees;

    /// <summary>Parts in a million of a rate in seconds per day.</summary>
    public static double PartsPerMillion(double ratePerDaySeconds) => ratePerDaySeconds / SecondsPerDay * 1_000_000;
}
