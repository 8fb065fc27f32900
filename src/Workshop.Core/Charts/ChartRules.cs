using System.ComponentModel.DataAnnotations;

namespace Workshop.Core.Charts;

/// <summary>The shop's figures about control charts and about instruments held against each other.</summary>
public sealed record ChartRules
{
    public static ChartRules Usual { get; } = new();

    /// <summary>Worn checks from which the limits of a chart are computed; with them the limits are frozen. Common practice.</summary>
    [Range(20, 25)]
    public int BaselinePoints { get; init; } = 20;

    /// <summary>Fewer worn checks have no limits. Common practice.</summary>
    [Range(8, 20)]
    public int LeastPoints { get; init; } = 8;

    /// <summary>Hours within which two instruments must have measured the same watch, so that it is still the same watch. Common practice.</summary>
    [Range(0.25, 24)]
    public decimal HoursBetweenInstruments { get; init; } = 4;

    /// <summary>Days over which instruments are held against each other.</summary>
    [Range(1, 3_660)]
    public int DaysOfInstruments { get; init; } = 365;
}
