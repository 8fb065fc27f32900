using System.ComponentModel.DataAnnotations;

namespace Workshop.Core.WearReports;

/// <summary>The shop's figures about what customers tell of their watches. Common practice.</summary>
public sealed record WearReportRules
{
    public static WearReportRules Usual { get; } = new();

    /// <summary>Days after hand-over within which the rate is put right free of charge. Common practice, 60 to 90.</summary>
    [Range(0, 3_650)]
    public int FreeAdjustmentDays { get; init; } = 90;

    /// <summary>Days of wear below which a figure says little: a week holds every kind of day. Common practice.</summary>
    [Range(0, 365)]
    public int LeastDays { get; init; } = 7;
}
