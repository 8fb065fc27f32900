namespace Workshop.Core.Timekeeping.Quantities;

/// <summary>The angle through which the balance turns while it is unlocked and driven, degrees. An amplitude is proportional to the one it was read at.</summary>
public readonly record struct LiftAngle(decimal Degrees)
{
    public const int Least = 20;

    public const int Most = 90;

    public bool IsPossible => Degrees is >= Least and <= Most;
}
