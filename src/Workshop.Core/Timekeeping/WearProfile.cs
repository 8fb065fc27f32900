using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Core.Timekeeping;

/// <summary>How many hours of a day a worn watch spends in each position. A weight, so that the hours need not make 24.</summary>
public sealed record WearProfile
{
    [Range(0, 24)]
    public decimal DialUpHours { get; init; }

    [Range(0, 24)]
    public decimal DialDownHours { get; init; }

    [Range(0, 24)]
    public decimal CrownUpHours { get; init; }

    [Range(0, 24)]
    public decimal CrownDownHours { get; init; }

    [Range(0, 24)]
    public decimal CrownLeftHours { get; init; }

    [Range(0, 24)]
    public decimal CrownRightHours { get; init; }

    /// <summary>Lying by night, at a desk and on the move by day, on the left wrist with its crown at three; a guess of ours, in want of a common practice.</summary>
    public static WearProfile Usual { get; } = new() { DialUpHours = 11, DialDownHours = 1, CrownUpHours = 2, CrownDownHours = 6, CrownLeftHours = 3, CrownRightHours = 1 };

    /// <summary>Hours in a position.</summary>
    public decimal HoursIn(Position position) => position switch
    {
        Position.DialUp => DialUpHours,
        Position.DialDown => DialDownHours,
        Position.CrownUp => CrownUpHours,
        Position.CrownDown => CrownDownHours,
        Position.CrownLeft => CrownLeftHours,
        Position.CrownRight => CrownRightHours,
        _ => throw new ArgumentOutOfRangeException(nameof(position)),
    };

    /// <summary>What is wrong in a profile besides the limits of each member.</summary>
    public IEnumerable<Fault> Faults(string pointer)
    {
        var hours = Enum.GetValues<Position>().Sum(HoursIn);
        if (hours is <= 0 or > 24)
        {
            yield return new Fault(pointer, "A day has more than no hours and at most 24");
        }
    }
}

/// <summary>The rate a watch would have on a wrist that spends its day as a profile says.</summary>
/// <param name="RatePerDaySeconds">Mean of the rates measured, by the hours of each position; seconds gained per day, unrounded.</param>
/// <param name="HoursCovered">Hours of the profile that lie in positions that were measured.</param>
/// <param name="Missing">Positions of the profile that were not measured; the prediction leaves their hours out.</param>
public sealed record PredictedRate(decimal RatePerDaySeconds, decimal HoursCovered, ImmutableArray<Position> Missing)
{
    /// <summary>Of a set; a position measured again counts with its last reading.</summary>
    /// <returns>null where no hour of the profile lies in a position that was measured.</returns>
    public static PredictedRate? Of(IEnumerable<RateReading> readings, WearProfile profile)
    {
        var rates = PositionPattern.LastRates(readings);
        var covered = rates.Keys.Sum(profile.HoursIn);
        return covered == 0 ? null : new PredictedRate(
            rates.Sum(one => one.Value * profile.HoursIn(one.Key)) / covered, covered, [.. Enum.GetValues<Position>().Where(position => profile.HoursIn(position) > 0 && !rates.ContainsKey(position))]);
    }
}
