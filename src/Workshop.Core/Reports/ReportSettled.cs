using Workshop.Core.Journal;

namespace Workshop.Core.Reports;

/// <summary>What became of a report that had been noted.</summary>
public enum SettledAs
{
    /// <summary>It counts at its own place from now on.</summary>
    Happened,

    /// <summary>It goes on changing nothing, and waits for nobody any more.</summary>
    DidNotHappen,
}

/// <summary>A report that had been noted is settled: by a manager, or by the service when nothing stands against the report any more.</summary>
public sealed record ReportSettled : WorkshopEvent
{
    public required EventId Of { get; init; }

    public required SettledAs As { get; init; }

    public required string Reason { get; init; }
}
