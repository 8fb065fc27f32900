using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.WaterTests;

namespace Workshop.Core.Extracts;

/// <summary>What a line of an extract tells.</summary>
public enum ExtractKind
{
    TakenIn,
    WorkDone,
    PartFitted,
    Measured,
    WornCheck,
    WaterTested,
    FinalControl,
    HandedOver,
    Warranty,
}

/// <summary>
/// One line of what the owner of a watch may show of a job: days, work and figures. Nobody's name, no address, no price, no bench, and
/// nothing of how the house works stands in it.
/// </summary>
public sealed record ExtractLine
{
    public required ExtractKind What { get; init; }

    /// <summary>In the workshop's own calendar.</summary>
    public required LocalDate On { get; init; }

    /// <summary>The kind of work, by its id.</summary>
    public string? Work { get; init; }

    public Stage? Stage { get; init; }

    public string? Part { get; init; }

    public WindState? WindState { get; init; }

    public decimal? LiftAngleDegrees { get; init; }

    /// <summary>Each position once, as it was read last.</summary>
    public ImmutableArray<ExtractReading>? Readings { get; init; }

    /// <summary>Seconds gained per day, to a tenth.</summary>
    public decimal? RatePerDaySeconds { get; init; }

    /// <summary>Expanded uncertainty (k = 2), to a tenth.</summary>
    public decimal? PlusMinusSeconds { get; init; }

    public decimal? OverHours { get; init; }

    public WaterTestMethod? Method { get; init; }

    public decimal? PressureBar { get; init; }

    /// <summary>Of the warranty.</summary>
    public string? Line { get; init; }

    /// <summary>With what claims added by the day of the extract.</summary>
    public LocalDate? LastDay { get; init; }

    /// <summary>The position of the entry it is taken from; it is not shown, its digest is.</summary>
    public long? Position { get; init; }
}

/// <summary>One position of a set. Seconds gained per day, degrees, milliseconds.</summary>
public sealed record ExtractReading(Position Position, decimal RatePerDaySeconds, decimal? AmplitudeDegrees, decimal? BeatErrorMilliseconds);
