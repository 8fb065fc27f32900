using Workshop.Core.Intake;

namespace Workshop.Core.Timekeeping;

/// <summary>How a chronograph is coupled to the train; a lateral clutch takes more amplitude.</summary>
public enum ClutchKind
{
    Lateral,
    Vertical,
}

/// <summary>What was known of the watch when a set was measured, and what it is judged by; frozen in the set's entry.</summary>
public sealed record RateTerms
{
    public CalibreKind Kind { get; init; } = CalibreKind.Unknown;

    /// <summary>The shop's own document of the calibre, where the watch names one.</summary>
    public string? Calibre { get; init; }

    /// <summary>As the watch's own record says, else the calibre's document.</summary>
    public decimal? LiftAngleDegrees { get; init; }

    public int? VibrationsPerHour { get; init; }

    /// <summary>1 to 12: where on the dial the crown sits; absent where nobody has said, and then three is assumed.</summary>
    public int? CrownHour { get; init; }

    public ClutchKind? Clutch { get; init; }

    /// <summary>The tolerance of the kind of work, else the calibre's, else the shop's usual one.</summary>
    public ToleranceKind? Tolerance { get; init; }

    /// <summary>Where the crown is taken to sit.</summary>
    public int CrownHourTaken() => CrownHour ?? ControlPosition.UsualCrownHour;
}
