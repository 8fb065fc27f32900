using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Stops;

/// <summary>What can be done to confirm or to exclude a cause.</summary>
public enum StopTest
{
    /// <summary>Turn the hands through midnight by the crown, slowly, and feel.</summary>
    ThroughMidnight,

    /// <summary>Follow the hands with a loupe from the side while they pass each other, dial and crystal.</summary>
    HandsPassing,

    /// <summary>Chronograph on, on the timing instrument, while the minute counter jumps.</summary>
    CounterJumping,

    /// <summary>From stopped, on the winder; then see how long it runs.</summary>
    WindingTrial,

    /// <summary>Open, and look at train, escapement and screws.</summary>
    LookAtTheTrain,

    /// <summary>Worn for a week, read every day.</summary>
    WeekOfWear,
}

/// <summary>A test, what it takes, and what it costs. Figures are common practice without a published source.</summary>
/// <param name="Minutes">Of somebody's hands.</param>
/// <param name="ElapsedHours">Until it has an answer, where that is longer.</param>
/// <param name="OpensTheCase">Casing, water test and wear check are then to be done again.</param>
public sealed record StopTestCost(
    StopCause Cause, StopTest Test, [property: Range(1, 10_000)] int Minutes, [property: Range(0, 1_000)] int ElapsedHours, bool OpensTheCase);

/// <summary>By what a stopped watch makes one suspect what. Common practice throughout, and the shop's own to change.</summary>
public sealed record StopRules
{
    public static StopRules Usual { get; } = new();

    /// <summary>By the hands: from here on the calendar is suspected.</summary>
    public LocalTime CalendarFrom { get; init; } = new(22, 0);

    /// <summary>By the hands: until here the calendar is suspected.</summary>
    public LocalTime CalendarUntil { get; init; } = new(1, 0);

    /// <summary>Two stops within so many minutes of the hour are at the same place.</summary>
    [Range(0, 15)]
    public int SameMinuteWithin { get; init; } = 2;

    /// <summary>Hours after which a watch that is not wound stops, where nobody has said what its reserve is.</summary>
    [Range(1, 1_000)]
    public decimal ReserveHoursLeast { get; init; } = 38;

    [Range(1, 1_000)]
    public decimal ReserveHoursMost { get; init; } = 42;

    /// <summary>Where the reserve is stated, so many hours below and above it.</summary>
    [Range(0, 100)]
    public decimal AboutTheStatedHours { get; init; } = 4;

    /// <summary>After so many hours, up to <see cref="EarlyHoursMost"/>, escapement and dirt are suspected.</summary>
    [Range(0, 100)]
    public decimal EarlyHoursLeast { get; init; } = 1;

    [Range(0, 100)]
    public decimal EarlyHoursMost { get; init; } = 6;

    /// <summary>How much a stop that nothing else explains counts for what comes and goes, where something else would explain it; ours, for want of a usual figure.</summary>
    [Range(0.01, 1)]
    public decimal ComesAndGoes { get; init; } = 0.25m;

    /// <summary>Below so many found causes of a calibre they are too few to say anything.</summary>
    [Range(1, 1_000)]
    public int FewCauses { get; init; } = 5;

    /// <summary>The test of each suspicion.</summary>
    [Length(1, 20)]
    public ImmutableArray<StopTestCost> Tests { get; init; } =
    [
        new(StopCause.Calendar, StopTest.ThroughMidnight, 10, 0, false),
        new(StopCause.HandsOrTooth, StopTest.HandsPassing, 15, 0, false),
        new(StopCause.MinuteCounter, StopTest.CounterJumping, 10, 0, false),
        new(StopCause.Winding, StopTest.WindingTrial, 10, 60, false),
        new(StopCause.EscapementOrDirt, StopTest.LookAtTheTrain, 30, 0, true),
        new(StopCause.Intermittent, StopTest.WeekOfWear, 35, 168, false),
    ];

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (ReserveHoursLeast > ReserveHoursMost)
        {
            yield return new Fault($"{pointer}/reserveHoursMost", "The most is no less than the least");
        }

        if (EarlyHoursLeast > EarlyHoursMost)
        {
            yield return new Fault($"{pointer}/earlyHoursMost", "The most is no less than the least");
        }

        foreach (var (i, one) in Tests.Index())
        {
            if (one.Cause is StopCause.Other or StopCause.Unknown)
            {
                yield return new Fault($"{pointer}/tests/{i}/cause", "Nobody can test for what has no name");
            }
            else if (Tests.Take(i).Any(before => before.Cause == one.Cause))
            {
                yield return new Fault($"{pointer}/tests/{i}/cause", "Each cause has one test");
            }
        }
    }
}
