using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;
using Workshop.Core.Timekeeping.Quantities;

namespace Workshop.Core.Timekeeping;

/// <summary>The shop's figures about rates.</summary>
public sealed record TimekeepingRules
{
    public static TimekeepingRules Usual { get; } = new();

    /// <summary>How a day on the wrist is spent; a rate on the wrist is predicted by it.</summary>
    public WearProfile WearProfile { get; init; } = WearProfile.Usual;

    /// <summary>Words of the shop's own for positions, and what they mean; small and capital letters are the same.</summary>
    public ImmutableSortedDictionary<string, PositionAlias> PositionAliases { get; init; } = ImmutableSortedDictionary<string, PositionAlias>.Empty;

    /// <summary>The kind of tolerance where neither the kind of work nor the calibre names one. Common practice.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string UsualTolerance { get; init; } = "modern-automatic";

    /// <summary>When figures of a set are asked back.</summary>
    public PlausibilityRules Plausibility { get; init; } = PlausibilityRules.Usual;

    /// <summary>Between the least and the greatest amplitude there must be so much before a rate is put against it, degrees. Own choice.</summary>
    [Range(1, 180)]
    public decimal AmplitudeApartLeastDegrees { get; init; } = 20;

    /// <summary>What is wrong besides the limits of each member.</summary>
    public IEnumerable<Fault> Faults(string pointer) =>
        WearProfile.Faults($"{pointer}/wearProfile")
            .Concat(PositionWords.Faults(PositionAliases, $"{pointer}/positionAliases"))
            .Concat(Plausibility.Faults($"{pointer}/plausibility"));
}

/// <summary>Beyond these figures the bench is asked whether it meant what it told; nothing is changed or refused. Common practice.</summary>
public sealed record PlausibilityRules
{
    public static PlausibilityRules Usual { get; } = new();

    /// <summary>Beyond it the balance knocks, or the lift angle is wrong; degrees.</summary>
    [Range(180, Amplitude.Most)]
    public decimal AmplitudeMostDegrees { get; init; } = 330;

    [Range(LiftAngle.Least, LiftAngle.Most)]
    public decimal LiftAngleLeastDegrees { get; init; } = 44;

    [Range(LiftAngle.Least, LiftAngle.Most)]
    public decimal LiftAngleMostDegrees { get; init; } = 56;

    /// <summary>Vibrations an hour that watches usually have.</summary>
    [Length(1, 40)]
    public ImmutableArray<int> UsualVibrationsPerHour { get; init; } = [18_000, 19_800, 21_600, 25_200, 28_800, 36_000];

    /// <summary>From so many positions on rates that are all alike to the last digit were typed, not measured.</summary>
    [Range(2, 6)]
    public int AlikeFromPositions { get; init; } = 3;

    /// <summary>Amplitude with the dial up against down; further apart points to a pivot or an endstone. Degrees.</summary>
    [Range(1, 180)]
    public decimal FlatApartMostDegrees { get; init; } = 20;

    /// <summary>A rate beyond it either way, together with a low amplitude, is magnetism or coils that touch; seconds a day.</summary>
    [Range(10, DailyRate.AtMost)]
    public decimal RateBeyondSeconds { get; init; } = 300;

    /// <summary>Amplitude with the dial upright that is low together with such a rate, degrees.</summary>
    [Range(1, Amplitude.Most)]
    public decimal LowVerticalDegrees { get; init; } = 200;

    /// <summary>Full wind is read from so many minutes after winding, past the top of the spring …</summary>
    [Range(0, 600)]
    public decimal FullWindFromMinutes { get; init; } = 15;

    /// <summary>… until so many.</summary>
    [Range(0, 600)]
    public decimal FullWindUntilMinutes { get; init; } = 60;

    /// <summary>A day after full wind is read from so many hours …</summary>
    [Range(1, 200)]
    public decimal OneDayFromHours { get; init; } = 23;

    /// <summary>… until so many.</summary>
    [Range(1, 200)]
    public decimal OneDayUntilHours { get; init; } = 25;

    /// <summary>How far a watch is wound so long after full wind.</summary>
    /// <returns>null where it is neither full wind nor a day.</returns>
    public WindState? WindAfter(decimal hours) =>
        hours * 60 >= FullWindFromMinutes && hours * 60 <= FullWindUntilMinutes ? WindState.Full
        : hours >= OneDayFromHours && hours <= OneDayUntilHours ? WindState.OneDay
        : null;

    internal IEnumerable<Fault> Faults(string pointer)
    {
        (string Member, decimal Least, decimal Most)[] ranges =
        [
            ("liftAngleLeastDegrees", LiftAngleLeastDegrees, LiftAngleMostDegrees),
            ("fullWindFromMinutes", FullWindFromMinutes, FullWindUntilMinutes),
            ("oneDayFromHours", OneDayFromHours, OneDayUntilHours),
        ];
        foreach (var range in ranges.Where(range => range.Least > range.Most))
        {
            yield return new Fault($"{pointer}/{range.Member}", "The lower bound lies above the upper one");
        }

        foreach (var (i, one) in UsualVibrationsPerHour.Index().Where(one => !new Vibrations(one.Item).IsPossible))
        {
            yield return new Fault($"{pointer}/usualVibrationsPerHour/{i}", "No balance swings so often");
        }
    }
}
