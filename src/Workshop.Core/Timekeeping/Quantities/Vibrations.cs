namespace Workshop.Core.Timekeeping.Quantities;

/// <summary>Half swings of a balance in an hour: 28 800 are 4 oscillations a second.</summary>
public readonly record struct Vibrations(int PerHour)
{
    public const int Least = 3_600;

    public const int Most = 720_000;

    public bool IsPossible => PerHour is >= Least and <= Most;

    /// <summary>Oscillations a second.</summary>
    public double Hertz => BeatArithmetic.Hertz(PerHour);

    /// <summary>One half swing.</summary>
    public double BeatMilliseconds => BeatArithmetic.BeatMilliseconds(PerHour);

    /// <summary>A full oscillation.</summary>
    public double PeriodMilliseconds => BeatArithmetic.PeriodMilliseconds(PerHour);

    public int BeatsPerDay => BeatArithmetic.BeatsPerDay(PerHour);
}
