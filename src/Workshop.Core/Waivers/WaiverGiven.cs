using Workshop.Core.Journal;

namespace Workshop.Core.Waivers;

/// <summary>A manager lets the next event that needs it through one gate of one job.</summary>
public sealed record WaiverGiven : WorkshopEvent
{
    /// <summary>The gate's full name, for example <c>needs/casing</c>.</summary>
    public required string Gate { get; init; }

    public required string Reason { get; init; }
}
