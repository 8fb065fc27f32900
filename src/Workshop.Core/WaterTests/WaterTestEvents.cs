using Workshop.Core.Journal;

namespace Workshop.Core.WaterTests;

public enum WaterTestMethod
{
    Dry,
    Vacuum,
    Wet,
    Condensation,
}

/// <summary>A water test was made. While the casing stands it is the result of the stage; at any other time a measurement.</summary>
public sealed record WaterTestRecorded : WorkshopEvent
{
    public required WaterTestMethod Method { get; init; }

    /// <summary>Bar over ambient; negative for a vacuum.</summary>
    public decimal? PressureBar { get; init; }

    public decimal? HoldSeconds { get; init; }

    public decimal? DeformationMicrometres { get; init; }

    public required bool Passed { get; init; }

    /// <summary>The tester, as the shop calls it.</summary>
    public string? Device { get; init; }

    /// <summary>The tester's own name of what it ran.</summary>
    public string? Programme { get; init; }

    /// <summary>True: the case without its movement. It says nothing about the watch as it is closed later.</summary>
    public bool? EmptyCase { get; init; }

    /// <summary>How long the watch had been at room temperature.</summary>
    public decimal? WatchAtRoomMinutes { get; init; }

    /// <summary>What the watch is rated for, as written on it.</summary>
    public decimal? RatingBar { get; init; }

    /// <summary>How warm the watch was made, for condensation.</summary>
    public decimal? WarmCelsius { get; init; }

    /// <summary>How long it was kept warm.</summary>
    public decimal? WarmMinutes { get; init; }

    /// <summary>How long the cool drop lay on the crystal.</summary>
    public decimal? DropMinutes { get; init; }
}
