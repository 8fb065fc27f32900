using Workshop.Core.Sources;

namespace Workshop.Core.Charts;

/// <summary>
/// A manager lets control charts begin anew: what was regulated by has changed, and the old limits say nothing of it. It concerns the
/// house and no single watch, and stands in the stream <c>house</c>.
/// </summary>
public sealed record ControlChartRestarted : SourceEvent
{
    /// <summary>Charts of this bench alone; of every bench where left out.</summary>
    public string? Bench { get; init; }

    /// <summary>Charts of this instrument alone; of every one, and of none, where left out.</summary>
    public string? Instrument { get; init; }

    public required string Reason { get; init; }
}
