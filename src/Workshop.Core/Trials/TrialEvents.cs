using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;

namespace Workshop.Core.Trials;

/// <summary>One day of a 15-day trial by the definitions of ISO 3159.</summary>
public sealed record TrialDayRecorded : WorkshopEvent
{
    /// <summary>The shop's own name for the trial; one job may have several.</summary>
    public required string Trial { get; init; }

    /// <summary>1 to 15.</summary>
    public required int Day { get; init; }

    public required Position Position { get; init; }

    public required decimal TemperatureCelsius { get; init; }

    /// <summary>Seconds gained over the day of true time.</summary>
    public required decimal RatePerDaySeconds { get; init; }

    /// <summary>The position word for word, where it was told by a symbol or a word of the shop's own; written by the service.</summary>
    public string? ToldPosition { get; init; }
}
