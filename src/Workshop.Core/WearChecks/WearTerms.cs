using System.ComponentModel.DataAnnotations;
using NodaTime;

namespace Workshop.Core.WearChecks;

/// <summary>Rates between which a worn check passes, bounds included; seconds gained per day of true time.</summary>
public readonly record struct RateWindow(decimal Lowest, decimal Highest)
{
    public bool Holds(decimal ratePerDaySeconds) => ratePerDaySeconds >= Lowest && ratePerDaySeconds <= Highest;

    /// <summary>The same window about its middle at twice its width.</summary>
    public RateWindow TwiceAsWide() => new(Lowest - Half, Highest + Half);

    private decimal Half => (Highest - Lowest) / 2;
}

/// <summary>The figures of the worn check in a route; all elapsed time, so a clock change does not move them. Common practice.</summary>
public sealed record WearRules
{
    /// <summary>Wear owed before the watch is read.</summary>
    public Duration Owed { get; init; } = Duration.FromHours(24);

    /// <summary>The least wear that may pass.</summary>
    public Duration ForAPass { get; init; } = Duration.FromHours(22);

    /// <summary>After a fail: one full new day, without the allowance.</summary>
    public Duration OwedAfterAFail { get; init; } = Duration.FromHours(24);

    public Duration OwedAfterAStop { get; init; } = Duration.FromHours(48);

    /// <summary>After a stop that comes and goes: what shows itself once in some days is not gone after two.</summary>
    public Duration OwedWhenIntermittent { get; init; } = Duration.FromDays(7);

    /// <summary>Wear owed after a stop.</summary>
    public Duration AfterAStop(bool intermittent) => intermittent && OwedWhenIntermittent > OwedAfterAStop ? OwedWhenIntermittent : OwedAfterAStop;

    /// <summary>Beyond this the rate is a mean of days and flagged as one.</summary>
    public Duration FlaggedBeyond { get; init; } = Duration.FromHours(72);

    /// <summary>Expanded uncertainty (k = 2) of one reading of the hands by eye, seconds.</summary>
    [Range(0.01, 60)]
    public decimal ReadingResolutionSeconds { get; init; } = 1m;

    [Range(1, 20)]
    public int FailsBeforeTheManager { get; init; } = 3;

    /// <summary>True for a hand-wound watch: it is wound every day at the same hour while it is worn.</summary>
    public bool? WoundDaily { get; init; }

    /// <summary>A longer check that is advised, not owed: seven days for a chronograph.</summary>
    public Duration? Advised { get; init; }
}

/// <summary>What one worn check owes and is judged by, frozen at its start.</summary>
public sealed record WearTerms
{
    public required RateWindow Window { get; init; }

    public required Duration Owed { get; init; }

    public required Duration ForAPass { get; init; }

    public required Duration FlaggedBeyond { get; init; }

    /// <summary>Expanded uncertainty (k = 2) of the reading at the start, seconds.</summary>
    public required decimal StartUncertaintySeconds { get; init; }

    /// <summary>Expanded uncertainty of a reading by eye, for the readings to come, seconds.</summary>
    public required decimal ByEyeSeconds { get; init; }

    public required int FailsBeforeTheManager { get; init; }

    /// <summary>The time zone in which midnights are counted, as it was called then.</summary>
    public string? Zone { get; init; }

    /// <summary>Rate that the newest set at the bench and the shop's day on the wrist foretell; null where none was measured.</summary>
    public decimal? PredictedPerDaySeconds { get; init; }

    /// <summary>How far the rate may lie from it without a word; seconds a day.</summary>
    public decimal? UnlikePredictionSeconds { get; init; }

    /// <summary>Midnights that a check over a week includes; null for a shorter one.</summary>
    public int? MidnightsAtLeast { get; init; }

    /// <summary>Resets a day that a check over a week of a chronograph includes.</summary>
    public int? ResetsADay { get; init; }
}
