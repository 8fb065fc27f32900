using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Shop;
using Workshop.Core.Timekeeping;
using Workshop.Core.WearChecks;

namespace Workshop.Service.Features.Jobs;

/// <summary>The checks after wear of a job.</summary>
public sealed record WearCheckView
{
    public required bool Running { get; init; }

    /// <summary>The physical moment at which the wear owed is reached; none while paused.</summary>
    public Instant? Due { get; init; }

    /// <summary>When somebody is there to read it: the next opening.</summary>
    public Instant? Task { get; init; }

    public Instant? PausedSince { get; init; }

    /// <summary>Fails that count towards the manager's decision.</summary>
    public required int Fails { get; init; }

    public required int TotalFails { get; init; }

    public ImmutableArray<CheckView> Checks { get; init; } = [];

    /// <summary>Checks lying still, which end no stage.</summary>
    public ImmutableArray<StaticCheckView> Statics { get; init; } = [];

    public static WearCheckView? Of(WearCheckRecord record, ShopCalendar calendar)
    {
        if (record.Checks.IsEmpty && record.Statics.IsEmpty)
        {
            return null;
        }

        var due = record.Running?.Due ?? record.RunningStatic?.Due;
        return new WearCheckView
        {
            Running = record.Running is not null || record.RunningStatic is not null,
            Due = due,
            Task = record.RunningStatic is { } still ? StaticStart.TaskOf(still.StartedAt, calendar) : due is { } moment ? calendar.NextOpening(moment) : null,
            PausedSince = record.Running?.PausedSince,
            Fails = record.CountedFails,
            TotalFails = record.TotalFails,
            Checks = [.. record.Checks.Select(CheckView.Of)],
            Statics = [.. record.Statics.Select(StaticCheckView.Of)],
        };
    }
}

/// <summary>One check from its start on.</summary>
/// <param name="OffsetSeconds">At the start: watch minus reference, ahead is plus.</param>
/// <param name="LowestPerDaySeconds">The window it is judged by, bounds included.</param>
/// <param name="Verdict">Absent while it runs.</param>
/// <param name="Unconfirmed">Started under a clock that could not be right: a person has yet to confirm when.</param>
/// <param name="UncertaintySeconds">Expanded uncertainty (k = 2) of the offset at the start.</param>
/// <param name="PredictedPerDaySeconds">What the newest set at the bench foretold when it started.</param>
public sealed record CheckView(
    Instant StartedAt, decimal OffsetSeconds, decimal LowestPerDaySeconds, decimal HighestPerDaySeconds, decimal OwedHours, WearVerdict? Verdict, Instant? EndedAt,
    bool Unconfirmed, ImmutableArray<PauseView> Pauses, ImmutableArray<ReadingView> Readings, decimal UncertaintySeconds, string? WinderPlace, decimal? PredictedPerDaySeconds,
    ImmutableArray<Instant> ClockSteps)
{
    public static CheckView Of(WearCheck check) => new(
        check.StartedAt, check.OffsetSeconds, check.Terms.Window.Lowest, check.Terms.Window.Highest, Hours(check.Terms.Owed), check.Verdict, check.EndedAt,
        check.Unconfirmed,
        [.. check.Pauses.Select(pause => new PauseView(pause.From, pause.Until, pause.Reason))],
        [.. check.Readings.Select(ReadingView.Of)],
        Math.Round(check.Terms.StartUncertaintySeconds, 3, MidpointRounding.AwayFromZero),
        check.WinderPlace,
        check.Terms.PredictedPerDaySeconds is { } predicted ? Math.Round(predicted, 1, MidpointRounding.AwayFromZero) : null,
        check.ClockSteps);

    internal static decimal Hours(Duration duration) => Math.Round((decimal)duration.TotalHours, 2, MidpointRounding.AwayFromZero);
}

public sealed record PauseView(Instant From, Instant? Until, string? Reason);

/// <summary>One reading; figures as they are shown, verdicts compare unrounded ones.</summary>
/// <param name="RatePerDaySeconds">Seconds gained per day of true time; absent for a stopped watch.</param>
/// <param name="PlusMinusSeconds">Expanded uncertainty (k = 2) of the rate.</param>
/// <param name="SettledAfterHours">For an inconclusive reading: elapsed hours after which it would be settled.</param>
/// <param name="OffsetSeconds">Watch minus reference; absent for a stopped watch.</param>
/// <param name="UncertaintySeconds">Expanded uncertainty (k = 2) of the offset.</param>
/// <param name="Fit">With three readings or more: the line through them.</param>
/// <param name="Midnights">Between start and reading, in the shop's zone.</param>
/// <param name="UnlikePredictionSeconds">The rate less the predicted one.</param>
public sealed record ReadingView(
    Instant At, WearVerdict Verdict, decimal ElapsedHours, decimal WearHours, decimal? RatePerDaySeconds, decimal? PlusMinusSeconds, bool MeanOfDays, decimal? SettledAfterHours,
    decimal? OffsetSeconds, decimal? UncertaintySeconds, FitView? Fit, int? Midnights, int? MonthEnds, decimal? UnlikePredictionSeconds, ImmutableArray<WearNotice> Notices)
{
    public static ReadingView Of(WearReading reading) => new(
        reading.At,
        reading.Verdict,
        CheckView.Hours(reading.Elapsed),
        CheckView.Hours(reading.Wear),
        reading.RatePerDaySeconds is { } rate ? Math.Round(rate, 1, MidpointRounding.AwayFromZero) : null,
        reading.PlusMinusSeconds is { } plusMinus ? WearArithmetic.PrintedPlusMinus(plusMinus) : null,
        reading.MeanOfDays,
        reading.SettledAfter is { } settled ? CheckView.Hours(settled) : null,
        reading.OffsetSeconds,
        reading.UncertaintySeconds is { } uncertainty ? Math.Round(uncertainty, 3, MidpointRounding.AwayFromZero) : null,
        FitView.Of(reading.Fit),
        reading.Midnights,
        reading.MonthEnds,
        reading.UnlikePredictionSeconds is { } unlike ? Math.Round(unlike, 1, MidpointRounding.AwayFromZero) : null,
        reading.Notices);
}

/// <summary>A straight line through all readings of a check by least squares.</summary>
/// <param name="Readings">How many, the start among them.</param>
/// <param name="RatePerDaySeconds">Its slope, seconds gained per day of true time.</param>
/// <param name="StandardError">Of the slope, seconds a day.</param>
/// <param name="InterceptSeconds">Where the line stands at the start.</param>
/// <param name="ResidualSeconds">How far readings lie from the line: √(sum of squares / (n − 2)).</param>
/// <param name="StudentT">Student's t, 0.975, for n − 2 degrees of freedom.</param>
/// <param name="FromReadings">Expanded uncertainty (k = 2) that the readings' own uncertainties give the slope.</param>
public sealed record FitView(
    int Readings, decimal RatePerDaySeconds, decimal StandardError, decimal InterceptSeconds, decimal ResidualSeconds, decimal StudentT, decimal FromReadings)
{
    public static FitView? Of(WearFit? fit) => fit is null ? null : new(
        fit.Readings, Shown(fit.RatePerDaySeconds), Shown(fit.StandardError), Shown(fit.InterceptSeconds), Shown(fit.ResidualSeconds), fit.StudentT, Shown(fit.FromReadings));

    private static decimal Shown(decimal value) => Math.Round(value, 4, MidpointRounding.AwayFromZero);
}

/// <summary>One check lying still, from its start on.</summary>
/// <param name="Earliest">23 h after the start: sooner it is interim.</param>
/// <param name="Latest">25 h after the start: later it is an invalid window.</param>
/// <param name="Tolerance">The kind whose limits were frozen at the start.</param>
/// <param name="Verdict">Absent while it runs.</param>
public sealed record StaticCheckView(
    Instant StartedAt, Instant Earliest, Instant Due, Instant Latest, bool Cased, string? Tolerance, decimal? IsochronismMostSeconds, decimal? VerticalOneDayLeastDegrees,
    WearVerdict? Verdict, Instant? EndedAt, ImmutableArray<StaticReadingView> Readings)
{
    public static StaticCheckView Of(StaticCheck check) => new(
        check.StartedAt, check.Earliest, check.Due, check.Latest, check.Cased, check.Terms.Tolerance, check.Terms.IsochronismMostSeconds, check.Terms.VerticalOneDayLeastDegrees,
        check.Verdict, check.EndedAt, [.. check.Readings.Select(StaticReadingView.Of)]);
}

/// <summary>One reading of a check lying still.</summary>
/// <param name="Full">The first set at full wind since the start.</param>
/// <param name="OneDay">The newest set within the window.</param>
/// <param name="OutOfManner">The first set was not measured 15 to 60 minutes after winding.</param>
public sealed record StaticReadingView(Instant At, WearVerdict Verdict, decimal ElapsedHours, string? Full, string? OneDay, bool OutOfManner, ImmutableArray<Criterion> Criteria)
{
    public static StaticReadingView Of(StaticReading reading) => new(
        reading.At, reading.Verdict, CheckView.Hours(reading.Elapsed), reading.Full?.ToString(), reading.OneDay?.ToString(), reading.OutOfManner, reading.Criteria);
}
