using System.Collections.Immutable;
using Microsoft.AspNetCore.Mvc;
using NodaTime;
using Workshop.Core.Jobs;
using Workshop.Core.Shop;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;
using Workshop.Core.Words;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Http.Answers;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>What became of an event, as the device is told.</summary>
public enum EventOutcome
{
    Accepted,
    Noted,
    Replayed,
    Held,
    Refused,
}

/// <summary>The answer to one event: alone, or one of a batch.</summary>
public sealed record EventResult
{
    public string? Id { get; init; }

    public required EventOutcome Outcome { get; init; }

    /// <summary>For a replayed event: what became of it the first time.</summary>
    public EventOutcome? First { get; init; }

    /// <summary>The job's label.</summary>
    public string? Job { get; init; }

    /// <summary>For what is told of a run of a cleaning machine: the run.</summary>
    public string? Run { get; init; }

    /// <summary>The version of the job after it.</summary>
    public long? Version { get; init; }

    /// <summary>The moment at which it counts.</summary>
    public Instant? Effective { get; init; }

    public ImmutableArray<string> Flags { get; init; } = [];

    public required Say Say { get; init; }

    /// <summary>For a reading of a worn check.</summary>
    public WearFigures? Reading { get; init; }

    /// <summary>For a rate set.</summary>
    public RateFigures? RateSet { get; init; }

    /// <summary>For a worn check that was started or goes on: when it is due.</summary>
    public Instant? Due { get; init; }

    /// <summary>For a scan: the event it has made.</summary>
    public DidEvent? Did { get; init; }

    /// <summary>For a scan that has made none: what is to be asked.</summary>
    public ScanQuestion? Ask { get; init; }

    /// <summary>For a refused event: what stands against it, by RFC 9457.</summary>
    public ProblemDetails? Problem { get; init; }
}

/// <summary>What a reading of a check after wear says. What is absent may be absent when the kept answer is read again.</summary>
/// <param name="Verdict">pass, outside, outside-far, inconclusive, stopped, interim, invalid-window or void.</param>
/// <param name="ElapsedHours">Between the start and this reading, pauses included.</param>
/// <param name="WearHours">Elapsed time without the pauses.</param>
/// <param name="RatePerDaySeconds">Seconds gained per day of true time, to one decimal; absent for a stopped watch.</param>
/// <param name="PlusMinusSeconds">Expanded uncertainty (k = 2) of the rate.</param>
/// <param name="SettledAfterHours">For an inconclusive reading: elapsed hours after which it would be settled.</param>
/// <param name="Fit">With three readings or more: the line through them.</param>
/// <param name="UnlikePredictionSeconds">The rate less what the last set at the bench foretells, seconds a day.</param>
/// <param name="Notices">What is to be known besides.</param>
/// <param name="Criteria">For a static check: what it was judged by.</param>
public sealed record WearFigures(
    WearVerdict Verdict, decimal ElapsedHours, decimal WearHours, decimal? RatePerDaySeconds = null, decimal? PlusMinusSeconds = null, bool MeanOfDays = false, decimal? SettledAfterHours = null,
    FitView? Fit = null, decimal? UnlikePredictionSeconds = null, ImmutableArray<WearNotice>? Notices = null, ImmutableArray<Criterion>? Criteria = null)
{
    public static WearFigures Of(WearReading reading) => new(
        reading.Verdict,
        Hours(reading.Elapsed),
        Hours(reading.Wear),
        reading.RatePerDaySeconds is { } rate ? Math.Round(rate, 1, MidpointRounding.AwayFromZero) : null,
        reading.PlusMinusSeconds is { } plusMinus ? WearArithmetic.PrintedPlusMinus(plusMinus) : null,
        reading.MeanOfDays,
        reading.SettledAfter is { } settled ? Hours(settled) : null,
        FitView.Of(reading.Fit),
        reading.UnlikePredictionSeconds is { } unlike ? Math.Round(unlike, 1, MidpointRounding.AwayFromZero) : null,
        reading.Notices.IsEmpty ? null : reading.Notices);

    public static WearFigures Of(StaticReading reading) =>
        new(reading.Verdict, Hours(reading.Elapsed), Hours(reading.Elapsed), Criteria: reading.Criteria.IsEmpty ? null : reading.Criteria);

    private static decimal Hours(Duration duration) => Math.Round((decimal)duration.TotalHours, 2, MidpointRounding.AwayFromZero);
}

/// <summary>What a rate set says as a whole; seconds gained per day, to one decimal.</summary>
/// <param name="SpreadPerDaySeconds">Highest minus lowest rate over the positions measured.</param>
public sealed record RateFigures(int Positions, decimal MeanPerDaySeconds, decimal SpreadPerDaySeconds)
{
    /// <summary>Plain average over dial up and dial down; absent where neither was measured.</summary>
    public decimal? FlatMeanPerDaySeconds { get; init; }

    /// <summary>Plain average over the upright positions; absent where none was measured.</summary>
    public decimal? VerticalMeanPerDaySeconds { get; init; }

    /// <summary>Positions that the tolerance requires and the set lacks.</summary>
    public ImmutableArray<Position> MissingPositions { get; init; } = [];

    /// <summary>Whether every position that the tolerance requires is there.</summary>
    public bool Complete { get; init; } = true;

    /// <summary>Against the tolerance; absent where no wind state says by which limits.</summary>
    public RateOutcome? Outcome { get; init; }

    /// <summary>The tolerance it is judged by.</summary>
    public string? Tolerance { get; init; }

    /// <summary>Figures that are asked back; the set is kept as it was told.</summary>
    public ImmutableArray<RateDoubtView> Doubts { get; init; } = [];

    public static RateFigures Of(RateSet set, Job job, ShopRules rules, Language language)
    {
        var means = SetMeans.Of(set);
        var tolerance = set.Terms?.Tolerance ?? rules.ToleranceOf(job.Route);
        var verdict = RateVerdict.Of(set, job.Timekeeping, tolerance, rules.Timekeeping.Plausibility);
        var missing = RateVerdict.MissingOf(set, tolerance);
        return new RateFigures(set.Figures.Positions.Length, Rounded(set.Figures.MeanPerDaySeconds), Rounded(set.Figures.SpreadPerDaySeconds))
        {
            FlatMeanPerDaySeconds = means.FlatPerDaySeconds is { } flat ? Rounded(flat) : null,
            VerticalMeanPerDaySeconds = means.VerticalPerDaySeconds is { } vertical ? Rounded(vertical) : null,
            MissingPositions = missing,
            Complete = missing.IsEmpty,
            Outcome = verdict?.Outcome,
            Tolerance = tolerance?.Kind,
            Doubts = [.. RateDoubts.Of(set, rules.Timekeeping).Select(doubt => RateDoubtView.Of(doubt, language))],
        };
    }

    private static decimal Rounded(decimal figure) => Math.Round(figure, 1, MidpointRounding.AwayFromZero);
}
