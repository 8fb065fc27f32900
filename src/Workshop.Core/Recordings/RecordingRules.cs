using System.ComponentModel.DataAnnotations;

namespace Workshop.Core.Recordings;

/// <summary>The shop's figures about recordings of watches.</summary>
public sealed record RecordingRules
{
    public static RecordingRules Usual { get; } = new();

    /// <summary>Days after a job is over for which its recordings are kept; what was heard in them stays. Three years, common practice.</summary>
    [Range(1, 36_500)]
    public int FilesKeptDays { get; init; } = 1_095;

    /// <summary>Months after which the calibration of a recorder's clock is remarked as old; quartz ages. A year, common practice.</summary>
    [Range(1, 600)]
    public int ClockGoodMonths { get; init; } = 12;
}
