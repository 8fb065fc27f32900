namespace Workshop.Core.Timekeeping.Quantities;

/// <summary>How a dial lies.</summary>
public enum Attitude
{
    DialUp,
    DialDown,

    /// <summary>The dial stands upright, and the crown points somewhere.</summary>
    Upright,
}

/// <summary>A position by two angles: how the dial lies, and where the crown points.</summary>
/// <param name="CrownDegrees">Clockwise from up as one looks at the dial, 0 to 359: 90 is right. Without meaning where the dial lies flat.</param>
public readonly record struct WatchPosition(Attitude Attitude, int CrownDegrees)
{
    private const int QuarterTurn = 90;

    public bool IsFlat => Attitude != Attitude.Upright;

    public static WatchPosition Of(Position position) => position switch
    {
        Position.DialUp => new(Attitude.DialUp, 0),
        Position.DialDown => new(Attitude.DialDown, 0),
        Position.CrownUp => new(Attitude.Upright, 0),
        Position.CrownRight => new(Attitude.Upright, QuarterTurn),
        Position.CrownDown => new(Attitude.Upright, 2 * QuarterTurn),
        Position.CrownLeft => new(Attitude.Upright, 3 * QuarterTurn),
        _ => throw new ArgumentOutOfRangeException(nameof(position)),
    };

    /// <summary>Upright, with a mark of the dial uppermost.</summary>
    public static WatchPosition MarkUp(int uppermostHour, int crownHour) => new(Attitude.Upright, ControlPosition.CrownDegrees(crownHour, uppermostHour));

    /// <summary>The quarter the crown points to.</summary>
    /// <returns>null half way between two.</returns>
    public Position? Quarter() => Attitude switch
    {
        Attitude.DialUp => Position.DialUp,
        Attitude.DialDown => Position.DialDown,
        _ when CrownDegrees % QuarterTurn == QuarterTurn / 2 => null,
        _ => ((CrownDegrees + (QuarterTurn / 2)) / QuarterTurn % 4) switch
        {
            0 => Position.CrownUp,
            1 => Position.CrownRight,
            2 => Position.CrownDown,
            _ => Position.CrownLeft,
        },
    };
}
