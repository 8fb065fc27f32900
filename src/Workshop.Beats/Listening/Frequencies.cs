namespace Workshop.Beats.Listening;

/// <summary>The frequencies that are looked for, and how long the noises of a beat may last at each.</summary>
internal static class Frequencies
{
    /// <summary>Amplitudes beyond are not measured: banking above, no unlocking below.</summary>
    public const double LeastAmplitude = 115;

    public const double GreatestAmplitude = 345;

    private static readonly int[] Usual = [18000, 19800, 21600, 25200, 28800, 36000];

    /// <summary>The usual ones, and what the calibre says where it is another.</summary>
    public static IReadOnlyList<int> LookedFor(int? calibre) => calibre is { } own && !Usual.Contains(own) ? [.. Usual, own] : Usual;

    /// <summary>Seconds of a whole oscillation.</summary>
    public static double Period(int vibrationsPerHour) => 7200.0 / vibrationsPerHour;

    /// <summary>Seconds from unlocking to drop at an amplitude: the balance swings evenly about its rest.</summary>
    public static double LiftSeconds(double amplitude, double liftAngle, double period) => period / Math.PI * Math.Asin(Math.Min(1, liftAngle / (2 * amplitude)));

    /// <summary>A = λ/(2 sin(π·t/T)), T the whole period.</summary>
    public static double Amplitude(double liftSeconds, double liftAngle, double period) => liftAngle / (2 * Math.Sin(Math.PI * liftSeconds / period));
}
