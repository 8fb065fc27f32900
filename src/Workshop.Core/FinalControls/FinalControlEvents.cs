using System.Collections.Immutable;
using Workshop.Core.Journal;
using Workshop.Core.Route;

namespace Workshop.Core.FinalControls;

public enum CheckResult
{
    Ok,
    NotApplicable,

    /// <summary>Accepted as it is; <see cref="FinalCheck.By"/> names the manager who said so.</summary>
    Exception,
}

/// <summary>One line of the final control's list.</summary>
public sealed record FinalCheck(string Check, CheckResult Result, string? By = null);

/// <summary>A second person found everything in order.</summary>
public sealed record FinalControlPassed : WorkshopEvent
{
    public required ImmutableArray<FinalCheck> Checks { get; init; }
}

/// <summary>The second person sends it back.</summary>
public sealed record FinalControlRefused : WorkshopEvent
{
    public required Stage To { get; init; }

    public required string Reason { get; init; }

    public ImmutableArray<FinalCheck>? Checks { get; init; }
}
