namespace Workshop.Core.Timekeeping;

/// <summary>What a set of rates, or two of them together, is judged by.</summary>
public enum CriterionKind
{
    /// <summary>Mean rate over the positions at full wind.</summary>
    MeanFull,

    /// <summary>Highest rate less lowest at full wind.</summary>
    SpreadFull,

    /// <summary>Amplitude with the dial up or down at full wind.</summary>
    FlatFull,

    /// <summary>Amplitude with the dial upright at full wind.</summary>
    VerticalFull,

    /// <summary>Amplitude with the dial upright a day after full wind.</summary>
    VerticalOneDay,

    BeatError,

    /// <summary>Mean rate a day after full wind less mean rate at full wind.</summary>
    Isochronism,

    /// <summary>Mean rate with the chronograph running less mean rate with it stopped.</summary>
    RunningMean,

    RunningSpread,

    /// <summary>Amplitude lost when the chronograph runs.</summary>
    RunningDrop,

    RunningVerticalFull,

    RunningVerticalOneDay,

    RunningBeatError,

    /// <summary>Mean rate of a quartz watch over the stretch its module corrects itself over.</summary>
    QuartzRate,
}

public enum CriterionOutcome
{
    Holds,
    Fails,

    /// <summary>What it needs was not measured.</summary>
    NotMeasured,
}

/// <summary>
/// One criterion of a verdict: what was found, what it may be, and what is left. Limits inclusive, everything unrounded; seconds gained per
/// day, degrees or milliseconds, as its kind says.
/// </summary>
/// <param name="Figure">The figure nearest to its limit; absent where nothing was measured.</param>
/// <param name="At">The position of that figure, where it is one position's.</param>
/// <param name="Margin">From the figure to the nearest limit: zero on it, negative outside.</param>
public sealed record Criterion(CriterionKind Kind, decimal? Figure, decimal? Least, decimal? Most, decimal? Margin, CriterionOutcome Outcome, Position? At = null)
{
    /// <summary>A figure against its limits; open where one is absent.</summary>
    public static Criterion Of(CriterionKind kind, decimal? figure, decimal? least, decimal? most, Position? at = null)
    {
        decimal? above = figure - least, below = most - figure;
        var margin = above is { } one && below is { } other ? Math.Min(one, other) : above ?? below;
        return new Criterion(
            kind, figure, least, most, margin,
            figure is null ? CriterionOutcome.NotMeasured : margin is null or >= 0 ? CriterionOutcome.Holds : CriterionOutcome.Fails, at);
    }
}
