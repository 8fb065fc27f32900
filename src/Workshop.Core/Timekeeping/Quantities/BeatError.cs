namespace Workshop.Core.Timekeeping.Quantities;

/// <summary>
/// Half the difference between two beats that follow one another, milliseconds: how far each lies from their mean. Others name the whole
/// difference, which is twice as much; from memory, half is the usual convention.
/// </summary>
public readonly record struct BeatError(decimal Milliseconds)
{
    public const int Most = 100;

    public bool IsPossible => Milliseconds is >= 0 and <= Most;

    /// <summary>By the other convention.</summary>
    public decimal WholeDifferenceMilliseconds => 2 * Milliseconds;

    /// <summary>From the beats of tick and tock, milliseconds, in either order.</summary>
    public static BeatError OfBeats(decimal one, decimal other) => new((decimal)BeatArithmetic.BeatError((double)one, (double)other));
}
