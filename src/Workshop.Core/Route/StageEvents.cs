using Workshop.Core.Journal;

namespace Workshop.Core.Route;

/// <summary>Somebody begins a stage.</summary>
public sealed record StageStarted : WorkshopEvent
{
    public required Stage Stage { get; init; }
}

/// <summary>Somebody says a stage is done; for a stage ended by a result this says nothing new.</summary>
public sealed record StageFinished : WorkshopEvent
{
    public required Stage Stage { get; init; }
}

/// <summary>The work goes back: <see cref="To"/> and what rests on it must be done again.</summary>
public sealed record StageSentBack : WorkshopEvent
{
    public required Stage Stage { get; init; }

    public required Stage To { get; init; }

    public required string Reason { get; init; }
}
