using Workshop.Core.Timekeeping.Quantities;

namespace Workshop.Core.Timekeeping;

/// <summary>
/// Control positions by the symbols of ISO 3158: CH dial up, FH dial down, and 3H, 6H, 9H, 12H by the mark of the dial that is uppermost.
/// Which way the crown then points depends on where it sits. Read from accounts of the standard, not from its text.
/// </summary>
public static class ControlPosition
{
    private const int DegreesPerHour = 30;

    /// <summary>The hour at which most watches have their crown; nine on a left-hand one.</summary>
    public const int UsualCrownHour = 3;

    /// <summary>Where the crown points, clockwise from up as one looks at the dial: 0 to 359 degrees.</summary>
    /// <param name="crownHour">1 to 12: where on the dial the crown sits.</param>
    /// <param name="uppermostHour">1 to 12: the mark that is up.</param>
    public static int CrownDegrees(int crownHour, int uppermostHour) => (((crownHour - uppermostHour) * DegreesPerHour) + 360) % 360;

    /// <summary>The symbol of a position; for a crown between two quarters that of the nearest mark.</summary>
    public static string SymbolOf(Position position, int crownHour = UsualCrownHour) => position switch
    {
        Position.DialUp => "CH",
        Position.DialDown => "FH",
        _ => $"{Enumerable.Range(1, 4).Select(quarter => quarter * 3).Single(mark => ByDegrees(CrownDegrees(crownHour, mark)) == position)}H",
    };

    /// <summary>The position a symbol names; CB is workshop usage for FH.</summary>
    /// <returns>null for what is no symbol.</returns>
    public static Position? Of(string symbol, int crownHour = UsualCrownHour) => symbol.ToUpperInvariant() switch
    {
        "CH" => Position.DialUp,
        "FH" or "CB" => Position.DialDown,
        "3H" => ByDegrees(CrownDegrees(crownHour, 3)),
        "6H" => ByDegrees(CrownDegrees(crownHour, 6)),
        "9H" => ByDegrees(CrownDegrees(crownHour, 9)),
        "12H" => ByDegrees(CrownDegrees(crownHour, 12)),
        _ => null,
    };

    // A crown sits at a whole hour, so that it is never half way between two quarters.
    private static Position ByDegrees(int degrees) => new WatchPosition(Attitude.Upright, degrees).Quarter()!.Value;
}
