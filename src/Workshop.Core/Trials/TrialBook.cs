using System.Collections.Immutable;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping;

namespace Workshop.Core.Trials;

/// <summary>One day of a trial as it was told.</summary>
/// <param name="RatePerDaySeconds">Seconds gained over the day of true time.</param>
public sealed record TrialDay(EventId Id, string Trial, int Day, Position Position, decimal TemperatureCelsius, decimal RatePerDaySeconds)
{
    /// <summary>False where position or temperature were not the sequence's: kept, and counted as missing.</summary>
    public bool LikeSequence => TrialSequence.IsLike(Day, Position, TemperatureCelsius);

    /// <summary>The same day again, with the same figures.</summary>
    public bool Says(TrialDayRecorded told) =>
        Trial == told.Trial && Day == told.Day && Position == told.Position && TemperatureCelsius == told.TemperatureCelsius && RatePerDaySeconds == told.RatePerDaySeconds;
}

/// <summary>The days of every trial of a job; each day once.</summary>
public sealed record TrialBook
{
    /// <summary>By trial and day.</summary>
    public ImmutableArray<TrialDay> Days { get; init; } = [];

    public TrialDay? Find(string trial, int day) => Days.FirstOrDefault(one => one.Trial == trial && one.Day == day);

    /// <summary>The days of one trial in their order; none where nobody has told of it.</summary>
    public ImmutableArray<TrialDay> Of(string trial) => [.. Days.Where(one => one.Trial == trial)];

    /// <summary>What was told first stays until something is told in its place; the gate asks for that.</summary>
    public TrialBook Apply(Entry entry) => entry.Event switch
    {
        TrialDayRecorded told when Find(told.Trial, told.Day)?.Says(told) != true => this with
        {
            Days =
            [
                .. Days.Where(one => (one.Trial, one.Day) != (told.Trial, told.Day))
                    .Append(new TrialDay(entry.Id, told.Trial, told.Day, told.Position, told.TemperatureCelsius, told.RatePerDaySeconds))
                    .OrderBy(one => one.Trial, StringComparer.Ordinal)
                    .ThenBy(one => one.Day),
            ],
        },
        _ => this,
    };
}

/// <summary>A trial as it can be read: its criteria, or the days that stand in their way.</summary>
/// <param name="MissingDays">Days that nobody has told of.</param>
/// <param name="UnlikeSequence">Days that were told, under another position or temperature.</param>
public sealed record TrialResult(ImmutableArray<int> MissingDays, ImmutableArray<int> UnlikeSequence, ImmutableArray<decimal> Rates)
{
    /// <summary>One day too few is no trial: there are no figures of a part of it.</summary>
    public bool Complete => MissingDays.IsEmpty && UnlikeSequence.IsEmpty;

    /// <summary>Of the days of one trial.</summary>
    public static TrialResult Of(ImmutableArray<TrialDay> days) => new(
        [.. Enumerable.Range(1, TrialSequence.Days).Except(days.Select(day => day.Day))],
        [.. days.Where(day => !day.LikeSequence).Select(day => day.Day).Order()],
        [.. days.OrderBy(day => day.Day).Select(day => day.RatePerDaySeconds)]);

    /// <returns>null where a day is missing or unlike the sequence.</returns>
    public ImmutableArray<TrialFigure>? Figures(TrialCategory category) => Complete ? TrialCriteria.Of(Rates, category) : null;
}
