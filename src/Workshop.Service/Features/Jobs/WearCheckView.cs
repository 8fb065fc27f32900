using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Shop;
using Workshop.Core.WearChecks;

namespace Workshop.Service.Features.Jobs;

/// <summary>The worn checks of a job.</summary>
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

    public static WearCheckView? Of(WearCheckRecord record, ShopCalendar calendar)
    {
        if (record.Checks.IsEmpty)
        {
            return null;
        }

        var due = record.Running?.Due;
        return new WearCheckView
        {
            Running = record.Running is not null,
            Due = due,
            Task = due is { } moment ? calendar.NextOpening(moment) : null,
            PausedSince = record.Running?.PausedSince,
            Fails = record.CountedFails,
            TotalFails = record.TotalFails,
            Checks = [.. record.Checks.Select(CheckView.Of)],
        };
    }
}

/// <summary>One check from its start on.</summary>
/// <param name="OffsetSeconds">At the start: watch minus reference, ahead is plus.</param>
/// <param name="LowestPerDaySeconds">The window it is judged by, bounds included.</param>
/// <param name="Verdict">Absent while it runs.</param>
/// <param name="Unconfirmed">Started under a clock that could not be right: a person has yet to confirm when.</param>
public sealed record CheckView(
    Instant StartedAt, decimal OffsetSeconds, decimal LowestPerDaySeconds, decimal HighestPerDaySeconds, decimal OwedHours, WearVerdict? Verdict, Instant? EndedAt,
    bool Unconfirmed, ImmutableArray<PauseView> Pauses, ImmutableArray<ReadingView> Readings)
{
    public static CheckView Of(WearCheck check) => new(
        check.StartedAt, check.OffsetSeconds, check.Terms.Window.Lowest, check.Terms.Window.Highest, Hours(check.Terms.Owed), check.Verdict, check.EndedAt,
        check.Unconfirmed,
        [.. check.Pauses.Select(pause => new PauseView(pause.From, pause.Until, pause.Reason))],
        [.. check.Readings.Select(ReadingView.Of)]);

    internal static decimal Hours(Duration duration) => Math.Round((decimal)duration.TotalHours, 2, MidpointRounding.AwayFromZero);
}

public sealed record PauseView(Instant From, Instant? Until, string? Reason);

/// <summary>One reading; figures as they are shown, verdicts compare unrounded ones.</summary>
/// <param name="RatePerDaySeconds">Seconds gained per day of true time; absent for a stopped watch.</param>
/// <param name="PlusMinusSeconds">Expanded uncertainty (k = 2) of the rate.</param>
/// <param name="SettledAfterHours">For an inconclusive reading: elapsed hours after which it would be settled.</param>
public sealed record ReadingView(
    Instant At, WearVerdict Verdict, decimal ElapsedHours, decimal WearHours, decimal? RatePerDaySeconds, decimal? PlusMinusSeconds, bool MeanOfDays, decimal? SettledAfterHours)
{
    public static ReadingView Of(WearReading reading) => new(
        reading.At,
        reading.Verdict,
        CheckView.Hours(reading.Elapsed),
        CheckView.Hours(reading.Wear),
        reading.RatePerDaySeconds is { } rate ? Math.Round(rate, 1, MidpointRounding.AwayFromZero) : null,
        reading.PlusMinusSeconds is { } plusMinus ? WearArithmetic.PrintedPlusMinus(plusMinus) : null,
        reading.MeanOfDays,
        reading.SettledAfter is { } settled ? CheckView.Hours(settled) : null);
}
