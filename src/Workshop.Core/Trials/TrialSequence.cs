using System.Collections.Immutable;
using Workshop.Core.Timekeeping;

namespace Workshop.Core.Trials;

/// <summary>What a day of the sequence asks for.</summary>
public readonly record struct TrialStep(int Day, Position Position, int TemperatureCelsius);

/// <summary>
/// The 15 days of ISO 3159: five positions, with a cold and a hot day in the horizontal one. The positions and the three temperatures are
/// described in public accounts of the edition of 1976 and by testing offices; the order of the positions by day, day 12 and days 14 and
/// 15 are from memory, and agree with the published formulas of the criteria.
/// </summary>
public static class TrialSequence
{
    public const int Days = 15;

    /// <summary>
    /// How far a temperature may lie from the sequence's, degrees Celsius, inclusive. Testing offices publish 23 ± 1; that the same holds
    /// for 8 and 38 is from memory.
    /// </summary>
    public const decimal WithinCelsius = 1;

    private const int Cold = 8;
    private const int Room = 23;
    private const int Hot = 38;

    /// <summary>The hot day less the cold day, degrees Celsius.</summary>
    internal const int SpanCelsius = Hot - Cold;

    /// <summary>The steps by day; a watch with its crown at three.</summary>
    public static ImmutableArray<TrialStep> Steps { get; } =
    [
        new(1, Position.CrownLeft, Room), new(2, Position.CrownLeft, Room),
        new(3, Position.CrownUp, Room), new(4, Position.CrownUp, Room),
        new(5, Position.CrownDown, Room), new(6, Position.CrownDown, Room),
        new(7, Position.DialDown, Room), new(8, Position.DialDown, Room),
        new(9, Position.DialUp, Room), new(10, Position.DialUp, Room),
        new(11, Position.DialUp, Cold), new(12, Position.DialUp, Room), new(13, Position.DialUp, Hot),
        new(14, Position.CrownLeft, Room), new(15, Position.CrownLeft, Room),
    ];

    /// <summary>Whether a day was made as the sequence asks: the same position, the temperature within a degree.</summary>
    public static bool IsLike(int day, Position position, decimal temperatureCelsius) =>
        day is >= 1 and <= Days && Steps[day - 1] is var step && step.Position == position && Math.Abs(temperatureCelsius - step.TemperatureCelsius) <= WithinCelsius;
}
