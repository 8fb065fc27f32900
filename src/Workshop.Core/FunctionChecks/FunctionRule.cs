using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Timekeeping;
using Workshop.Core.Words;

namespace Workshop.Core.FunctionChecks;

/// <summary>Times by the hands, bounds included; over midnight where the second is the earlier one.</summary>
/// <param name="From">The first time that counts.</param>
/// <param name="Until">The last time that counts.</param>
public sealed record HandTimes(LocalTime From, LocalTime Until)
{
    public bool Holds(LocalTime time) => From <= Until ? time >= From && time <= Until : time >= From || time <= Until;
}

/// <summary>Which watches have a function.</summary>
public enum FittedTo
{
    /// <summary>Every watch.</summary>
    Every,

    /// <summary>Every watch that is wound.</summary>
    Mechanical,
    Automatic,
    Calendar,
    Chronograph,

    /// <summary>Only some, and nobody knows before it is said.</summary>
    Some,
}

/// <summary>
/// What is right for a function, and to which stage the watch goes back where it is not. What is absent is not judged by figures: hand and ear
/// decide. Limits inclusive. Common practice of the trade without a published source, and a shop's own to change.
/// </summary>
public sealed record FunctionRule
{
    public required WatchFunction Function { get; init; }

    public required FittedTo FittedTo { get; init; }

    /// <summary>Where it is put right.</summary>
    public required Stage BackTo { get; init; }

    /// <summary>When a calendar may begin to change.</summary>
    public HandTimes? Began { get; init; }

    /// <summary>When a calendar is to have changed.</summary>
    public HandTimes? Done { get; init; }

    /// <summary>Seconds of the chronograph at which a counter jumps.</summary>
    public Bounds? Seconds { get; init; }

    /// <summary>Seconds of the chronograph at which a counter that does not jump has moved on.</summary>
    public Bounds? MovedSeconds { get; init; }

    [Range(0, 1_440)]
    public decimal? MinutesMost { get; init; }

    [Range(0, 60)]
    public decimal? GraduationsMost { get; init; }

    [Range(0, 50)]
    public decimal? TurnsLeast { get; init; }

    /// <summary>So many tries, and all of them right.</summary>
    [Range(1, 1_000)]
    public int? Tries { get; init; }

    /// <summary>What the figures say; null where none of them is judged, or nothing that is judged was told.</summary>
    public bool? ByFigures(FunctionChecked told)
    {
        var value = told.Value;
        bool?[] said =
        [
            Began is { } from && value?.Began is { } began ? from.Holds(began) : null,
            Done is { } until && value?.Done is { } done ? until.Holds(done) : null,
            Seconds is { } seconds && value?.Seconds is { } read ? Holds(seconds, read) : null,
            MovedSeconds is { } moving && value?.MovedSeconds is { } moved ? Holds(moving, moved) : null,
            MinutesMost is { } minutes && value?.Minutes is { } off ? Math.Abs(off) <= minutes : null,
            GraduationsMost is { } graduations && value?.Graduations is { } stands ? Math.Abs(stands) <= graduations : null,
            TurnsLeast is { } turns && value?.Turns is { } turned ? turned >= turns : null,
            Tries is { } tries && told.Trials is { } trials ? Right(trials, tries) : null,
        ];
        var known = said.OfType<bool>().ToArray();
        return known.Length == 0 ? null : known.All(one => one);
    }

    private static bool Holds(Bounds bounds, decimal read) => !(read < bounds.Least) && !(read > bounds.Most);

    // One that failed is one too many, however few were tried; all right are only enough when there were enough of them.
    private static bool? Right(TriedTimes trials, int tries) => trials.Right < trials.Tried ? false : trials.Tried >= tries ? true : null;

    /// <summary>What is wrong with it as a rule.</summary>
    public IEnumerable<Fault> Faults(string pointer)
    {
        if (!StageTable.CanBeStarted(BackTo) || BackTo is Stage.Settlement or Stage.ReturnUnrepaired or Stage.FinalControl or Stage.ReserveAndFunctions)
        {
            yield return new Fault($"{pointer}/backTo", Phrase.Of("Nothing is sent back to '{0}'.", BackTo));
        }

        foreach (var (member, bounds) in ((string, Bounds?)[])[("seconds", Seconds), ("movedSeconds", MovedSeconds)])
        {
            if (bounds is { Least: { } least, Most: { } most } && least > most)
            {
                yield return new Fault($"{pointer}/{member}", "The most is no less than the least");
            }
        }
    }
}

/// <summary>What functions a watch has to show, and what is right.</summary>
public sealed record FunctionRules
{
    /// <summary>Tries that the trade asks for. Common practice.</summary>
    private const int TenTries = 10;

    public static FunctionRules Usual { get; } = new();

    /// <summary>By the hands: the fast setting of a calendar is not used between these, while the calendar moves. Common practice.</summary>
    public HandTimes NoQuickCorrection { get; init; } = new(new LocalTime(20, 0), new LocalTime(3, 0));

    [Length(1, 50)]
    public ImmutableArray<FunctionRule> Functions { get; init; } =
    [
        new() { Function = WatchFunction.DateInstant, FittedTo = FittedTo.Calendar, BackTo = Stage.DialAndHands, Done = Times(23, 55, 0, 5) },
        new() { Function = WatchFunction.DateSemiInstant, FittedTo = FittedTo.Calendar, BackTo = Stage.DialAndHands, Began = Times(22, 30, 23, 45), Done = Times(22, 30, 0, 10) },
        new() { Function = WatchFunction.DateDragging, FittedTo = FittedTo.Calendar, BackTo = Stage.DialAndHands, Began = Times(21, 0, 22, 30), Done = Times(21, 0, 0, 45) },
        new() { Function = WatchFunction.DayAndDate, FittedTo = FittedTo.Some, BackTo = Stage.DialAndHands, MinutesMost = 15, Done = Times(21, 0, 3, 0) },
        new() { Function = WatchFunction.QuickCorrection, FittedTo = FittedTo.Calendar, BackTo = Stage.DialAndHands },
        new() { Function = WatchFunction.ChronographStart, FittedTo = FittedTo.Chronograph, BackTo = Stage.Rebuild, GraduationsMost = 0.5m },
        new() { Function = WatchFunction.ChronographStop, FittedTo = FittedTo.Chronograph, BackTo = Stage.Rebuild, Tries = TenTries },
        new() { Function = WatchFunction.ChronographReset, FittedTo = FittedTo.Chronograph, BackTo = Stage.Inspection, GraduationsMost = 0.25m, Tries = TenTries },
        new() { Function = WatchFunction.MinuteCounter, FittedTo = FittedTo.Chronograph, BackTo = Stage.Rebuild, Seconds = new Bounds(59, 61), MovedSeconds = new Bounds(58, 60) },
        new() { Function = WatchFunction.HourCounter, FittedTo = FittedTo.Some, BackTo = Stage.Rebuild, MinutesMost = 2 },
        new() { Function = WatchFunction.Flyback, FittedTo = FittedTo.Some, BackTo = Stage.Rebuild, Tries = TenTries },
        new() { Function = WatchFunction.Split, FittedTo = FittedTo.Some, BackTo = Stage.Rebuild, Tries = TenTries },
        new() { Function = WatchFunction.PusherForce, FittedTo = FittedTo.Chronograph, BackTo = Stage.Rebuild },
        new() { Function = WatchFunction.WindingAndSetting, FittedTo = FittedTo.Every, BackTo = Stage.Rebuild, TurnsLeast = 2 },
        new() { Function = WatchFunction.CannonPinion, FittedTo = FittedTo.Every, BackTo = Stage.DialAndHands },
        new() { Function = WatchFunction.Rotor, FittedTo = FittedTo.Automatic, BackTo = Stage.Rebuild },
    ];

    public FunctionRule? Of(WatchFunction function) => Functions.FirstOrDefault(rule => rule.Function == function);

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        foreach (var (i, rule) in Functions.Index())
        {
            if (Functions.Take(i).Any(before => before.Function == rule.Function))
            {
                yield return new Fault($"{pointer}/functions/{i}/function", "Each function has one rule");
            }

            foreach (var fault in rule.Faults($"{pointer}/functions/{i}"))
            {
                yield return fault;
            }
        }
    }

    private static HandTimes Times(int fromHour, int fromMinute, int untilHour, int untilMinute) =>
        new(new LocalTime(fromHour, fromMinute), new LocalTime(untilHour, untilMinute));
}
