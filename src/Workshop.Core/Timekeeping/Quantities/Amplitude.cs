namespace Workshop.Core.Timekeeping.Quantities;

/// <summary>How far the balance swings from where it rests, degrees; means something with the lift angle it was read at alone.</summary>
public readonly record struct Amplitude(decimal Degrees)
{
    /// <summary>A balance that swings further knocks.</summary>
    public const int Most = 360;

    /// <summary>None is no amplitude: a balance that stands has none, and a figure that was not measured is left out.</summary>
    public bool IsPossible => Degrees is > 0 and <= Most;

    /// <summary>The same swing at the right lift angle, in proportion: 280° read at 52° are 269° at 50°.</summary>
    public Amplitude AtLiftAngle(LiftAngle readAt, LiftAngle right) => new(BeatArithmetic.AtLiftAngle(Degrees, readAt.Degrees, right.Degrees));

    /// <summary>How far out of the middle the balance rests, degrees.</summary>
    public double RestOffsetDegrees(Vibrations vibrations, BeatError error) =>
        BeatArithmetic.RestOffsetDegrees(vibrations.PerHour, (double)Degrees, (double)error.Milliseconds);

    /// <summary>From unlocking to drop, milliseconds; the amplitude has to be more than half the lift angle.</summary>
    public double UnlockingToDropMilliseconds(Vibrations vibrations, LiftAngle lift) =>
        BeatArithmetic.UnlockingToDropMilliseconds(vibrations.PerHour, (double)lift.Degrees, (double)Degrees);

    /// <summary>By the harmonic law, from the milliseconds between unlocking and drop.</summary>
    public static Amplitude OfUnlockingToDrop(Vibrations vibrations, LiftAngle lift, double milliseconds) =>
        new((decimal)BeatArithmetic.AmplitudeDegrees(vibrations.PerHour, (double)lift.Degrees, milliseconds));
}
