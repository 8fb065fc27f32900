using System.Collections.Immutable;
using Workshop.Core.Intake;
using Workshop.Core.Words;

namespace Workshop.Core.Timekeeping;

/// <summary>What is odd about the figures of a set. It is kept as it was told.</summary>
public enum RateDoubtKind
{
    /// <summary>The balance knocks, or the lift angle is wrong.</summary>
    AmplitudeHigh,

    /// <summary>Above what the tolerance calls usual, though not too much; a note.</summary>
    AmplitudeAboveUsual,

    LiftAngleUnusual,
    LiftAngleUnlikeCalibre,
    VibrationsUnusual,
    VibrationsUnlikeCalibre,

    /// <summary>All rates are the same to the last digit: typed, not measured.</summary>
    RatesAlike,

    /// <summary>Dial up against dial down: a pivot or an endstone.</summary>
    FlatAmplitudesApart,

    /// <summary>Very fast or slow with a low amplitude: magnetism, or coils that touch.</summary>
    FarOffAndWeak,

    /// <summary>The wind state that was told is not that of the hours told with it.</summary>
    WindUnlikeHours,

    /// <summary>A quartz watch measured over another stretch than its module corrects itself over.</summary>
    SampleMeaningless,
}

/// <summary>One odd figure.</summary>
/// <param name="Figure">As measured, in the unit of its kind.</param>
/// <param name="Limit">What it was compared with.</param>
public sealed record RateDoubt(RateDoubtKind Kind, decimal? Figure = null, decimal? Limit = null, Position? At = null)
{
    /// <summary>False: shown, and nobody is asked.</summary>
    public bool Asks => Kind != RateDoubtKind.AmplitudeAboveUsual;

    /// <summary>In one line for a small display.</summary>
    public Phrase Line() => Kind switch
    {
        RateDoubtKind.AmplitudeHigh => Phrase.Of("{0}° {1}: knocking, or the lift angle?", Plain(Figure), At!),
        RateDoubtKind.AmplitudeAboveUsual => Phrase.Of("{0}° {1} is above the usual {2}°", Plain(Figure), At!, Plain(Limit)),
        RateDoubtKind.LiftAngleUnusual => Phrase.Of("Lift angle {0}°: is that right?", Plain(Figure)),
        RateDoubtKind.LiftAngleUnlikeCalibre => Phrase.Of("Lift angle {0}°; the calibre has {1}°. Which?", Plain(Figure), Plain(Limit)),
        RateDoubtKind.VibrationsUnusual => Phrase.Of("{0} vibrations an hour: is that right?", Plain(Figure)),
        RateDoubtKind.VibrationsUnlikeCalibre => Phrase.Of("{0} an hour; the calibre has {1}. Which?", Plain(Figure), Plain(Limit)),
        RateDoubtKind.RatesAlike => Phrase.Of("All rates alike: typed, not measured?"),
        RateDoubtKind.FlatAmplitudesApart => Phrase.Of("Dial up and down {0}° apart: pivot, endstone?", Plain(Figure)),
        RateDoubtKind.FarOffAndWeak => Phrase.Of("{0} s/d, weak: magnetism, touching coils?", Figure is { } rate ? Words.Figure.Signed(rate) : ""),
        RateDoubtKind.WindUnlikeHours => Phrase.Of("Wound {0} h ago: another wind than told?", new Figure(Figure ?? 0, "0.##")),
        RateDoubtKind.SampleMeaningless => Phrase.Of("Quartz: measure over the module's own window"),
        _ => throw new InvalidOperationException($"There is no line for {Kind}."),
    };

    private static Figure Plain(decimal? figure) => new(figure ?? 0, "0.#");
}

/// <summary>Looks for odd figures. Asks back, and changes nothing.</summary>
public static class RateDoubts
{
    public static ImmutableArray<RateDoubt> Of(RateSet set, TimekeepingRules rules) =>
        set.Terms is { Kind: CalibreKind.Quartz } or { Tolerance.Quartz: not null } ? [.. OfQuartz(set)] : [.. OfBalance(set, set.Terms, rules.Plausibility)];

    /// <summary>A quartz module corrects itself once in its window; over any other stretch the rate means nothing.</summary>
    public static bool SampleIsMeaningless(RateSet set) =>
        set.Terms?.Tolerance?.Quartz is { WindowSeconds: { IsEmpty: false } windows } && !(set.Told.SampleSeconds is { } sample && windows.Any(window => window == sample));

    private static IEnumerable<RateDoubt> OfQuartz(RateSet set)
    {
        // One who does not say over how long is not asked at the bench: the verdict lacks it.
        if (set.Told.SampleSeconds is { } sample && SampleIsMeaningless(set))
        {
            yield return new RateDoubt(RateDoubtKind.SampleMeaningless, sample);
        }
    }

    private static IEnumerable<RateDoubt> OfBalance(RateSet set, RateTerms? terms, PlausibilityRules rules)
    {
        var readings = set.Readings;
        foreach (var reading in readings.Where(one => one.AmplitudeDegrees > rules.AmplitudeMostDegrees))
        {
            yield return new RateDoubt(RateDoubtKind.AmplitudeHigh, reading.AmplitudeDegrees, rules.AmplitudeMostDegrees, reading.Position);
        }

        if (terms?.Tolerance?.FlatFullDegrees?.Most is { } usual)
        {
            foreach (var reading in readings.Where(one => one.Position is Position.DialUp or Position.DialDown && one.AmplitudeDegrees > usual && one.AmplitudeDegrees <= rules.AmplitudeMostDegrees))
            {
                yield return new RateDoubt(RateDoubtKind.AmplitudeAboveUsual, reading.AmplitudeDegrees, usual, reading.Position);
            }
        }

        if (set.LiftAngleDegrees is { } lift)
        {
            if (terms?.LiftAngleDegrees is { } known ? lift != known : lift < rules.LiftAngleLeastDegrees || lift > rules.LiftAngleMostDegrees)
            {
                yield return terms?.LiftAngleDegrees is { } right
                    ? new RateDoubt(RateDoubtKind.LiftAngleUnlikeCalibre, lift, right)
                    : new RateDoubt(RateDoubtKind.LiftAngleUnusual, lift, lift < rules.LiftAngleLeastDegrees ? rules.LiftAngleLeastDegrees : rules.LiftAngleMostDegrees);
            }
        }

        if (set.Told.VibrationsPerHour is { } vibrations)
        {
            if (terms?.VibrationsPerHour is { } known ? vibrations != known : !rules.UsualVibrationsPerHour.Contains(vibrations))
            {
                yield return terms?.VibrationsPerHour is { } right
                    ? new RateDoubt(RateDoubtKind.VibrationsUnlikeCalibre, vibrations, right)
                    : new RateDoubt(RateDoubtKind.VibrationsUnusual, vibrations);
            }
        }

        if (readings.Length >= rules.AlikeFromPositions && readings.DistinctBy(one => one.RatePerDaySeconds).Count() == 1)
        {
            yield return new RateDoubt(RateDoubtKind.RatesAlike, readings[0].RatePerDaySeconds);
        }

        if (Amplitude(Position.DialUp) is { } up && Amplitude(Position.DialDown) is { } down && Math.Abs(up - down) > rules.FlatApartMostDegrees)
        {
            yield return new RateDoubt(RateDoubtKind.FlatAmplitudesApart, Math.Abs(up - down), rules.FlatApartMostDegrees);
        }

        if (readings.Any(one => one.Position is not (Position.DialUp or Position.DialDown) && one.AmplitudeDegrees < rules.LowVerticalDegrees)
            && readings.MaxBy(one => Math.Abs(one.RatePerDaySeconds)) is { } farthest && Math.Abs(farthest.RatePerDaySeconds) > rules.RateBeyondSeconds)
        {
            yield return new RateDoubt(RateDoubtKind.FarOffAndWeak, farthest.RatePerDaySeconds, rules.RateBeyondSeconds, farthest.Position);
        }

        if (set.Told is { WindState: WindState.Full or WindState.OneDay, HoursSinceFullWind: { } hours } && rules.WindAfter(hours) != set.Told.WindState)
        {
            yield return new RateDoubt(RateDoubtKind.WindUnlikeHours, hours);
        }

        decimal? Amplitude(Position position) => readings.FirstOrDefault(one => one.Position == position)?.AmplitudeDegrees;
    }
}
