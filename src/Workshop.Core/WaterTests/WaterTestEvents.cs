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
}
