using System.Collections.Frozen;
using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;
using Workshop.Core.WearChecks;

namespace Workshop.Core.Timekeeping;

/// <summary>The positions a rate set must have, so that a mean over it can be compared with another's.</summary>
public enum PositionSet
{
    /// <summary>Dial up, dial down, crown down.</summary>
    Three,

    /// <summary>Dial up, dial down, crown up, crown down, crown left: the five of ISO 3159, from memory.</summary>
    Five,

    /// <summary>All.</summary>
    Six,
}

/// <summary>A range of a measured quantity, bounds included; open where one is absent.</summary>
public readonly record struct Bounds(decimal? Least, decimal? Most);

/// <summary>How far the amplitude may drop when the chronograph runs, degrees, by the kind of its clutch.</summary>
public sealed record AmplitudeDrop(decimal Lateral, decimal Vertical, decimal Unknown);

/// <summary>Limits of a chronograph while it runs; each against the same watch with it stopped, or as it stands.</summary>
public sealed record RunningTolerance
{
    public PositionSet Positions { get; init; } = PositionSet.Six;

    /// <summary>Seconds a day between the means, running and stopped.</summary>
    [Range(0, 1_000)]
    public decimal? MeanWithinOfStoppedSeconds { get; init; }

    [Range(0, 1_000)]
    public decimal? SpreadFullSeconds { get; init; }

    public AmplitudeDrop? AmplitudeDropMostDegrees { get; init; }

    [Range(0, 360)]
    public decimal? VerticalFullLeastDegrees { get; init; }

    [Range(0, 360)]
    public decimal? VerticalOneDayLeastDegrees { get; init; }

    [Range(0, 100)]
    public decimal? BeatErrorMostMilliseconds { get; init; }

    /// <summary>The positions themselves.</summary>
    public ImmutableArray<Position> RequiredPositions() => ToleranceKind.PositionsOf(Positions);
}

/// <summary>Limits of a quartz watch: it has no balance, and therefore no figure of one.</summary>
public sealed record QuartzTolerance
{
    public required RateWindow RatePerDaySeconds { get; init; }

    /// <summary>Stretches over which the module corrects itself; a rate over any other is meaningless.</summary>
    [Length(1, 10)]
    public ImmutableArray<int> WindowSeconds { get; init; } = [];

    [Range(0, 1_000)]
    public decimal? CurrentMicroamperesMost { get; init; }

    /// <summary>With the chronograph running.</summary>
    [Range(0, 1_000)]
    public decimal? CurrentChronographMicroamperesMost { get; init; }

    public Bounds? CoilKilohm { get; init; }

    /// <summary>The lowest voltage at which it still runs.</summary>
    public Bounds? LowestVolts { get; init; }

    /// <summary>A fresh silver-oxide cell.</summary>
    [Range(0, 10)]
    public decimal? CellVoltsLeast { get; init; }
}

/// <summary>
/// What is right for a kind of movement: rates in seconds gained per day, amplitudes in degrees, beat error in milliseconds; limits
/// inclusive, unrounded. Figures are common practice of the trade without a published source, and a shop's own to change.
/// </summary>
public sealed record ToleranceKind
{
    [RegularExpression("[a-z0-9][a-z0-9-]{0,39}")]
    public required string Kind { get; init; }

    /// <summary>Positions that must have been measured.</summary>
    public PositionSet? Positions { get; init; }

    /// <summary>Mean rate over the positions at full wind; a worn check is judged by it where the kind of work names no window.</summary>
    public RateWindow? MeanFullPerDaySeconds { get; init; }

    /// <summary>Shown, never judged.</summary>
    [Range(-1_000, 1_000)]
    public decimal? AimPerDaySeconds { get; init; }

    /// <summary>True: agreed with the customer, watch by watch.</summary>
    public bool? ByAgreement { get; init; }

    /// <summary>Highest minus lowest rate over the positions at full wind.</summary>
    [Range(0, 1_000)]
    public decimal? SpreadFullSeconds { get; init; }

    /// <summary>Amplitude with the dial up or down at full wind.</summary>
    public Bounds? FlatFullDegrees { get; init; }

    [Range(0, 360)]
    public decimal? VerticalFullLeastDegrees { get; init; }

    /// <summary>A day after full wind, without winding.</summary>
    [Range(0, 360)]
    public decimal? VerticalOneDayLeastDegrees { get; init; }

    [Range(0, 100)]
    public decimal? BeatErrorMostMilliseconds { get; init; }

    /// <summary>Mean a day after full wind minus mean at full wind.</summary>
    [Range(0, 1_000)]
    public decimal? IsochronismMostSeconds { get; init; }

    /// <summary>For a chronograph that runs.</summary>
    public RunningTolerance? Running { get; init; }

    /// <summary>For a quartz watch, and then nothing of the above.</summary>
    public QuartzTolerance? Quartz { get; init; }

    /// <summary>The window a worn check is judged by.</summary>
    public RateWindow? Worn() => Quartz?.RatePerDaySeconds ?? MeanFullPerDaySeconds;

    /// <summary>The positions themselves; none where nothing is asked.</summary>
    public ImmutableArray<Position> RequiredPositions() => PositionsOf(Positions);

    internal static ImmutableArray<Position> PositionsOf(PositionSet? positions) => positions switch
    {
        PositionSet.Three => [Position.DialUp, Position.DialDown, Position.CrownDown],
        PositionSet.Five => [Position.DialUp, Position.DialDown, Position.CrownUp, Position.CrownDown, Position.CrownLeft],
        PositionSet.Six => [Position.DialUp, Position.DialDown, Position.CrownUp, Position.CrownDown, Position.CrownLeft, Position.CrownRight],
        null => [],
    };

    /// <summary>The kinds a new shop begins with. Common practice.</summary>
    public static ImmutableArray<ToleranceKind> Usual { get; } =
    [
        Mechanical("modern-automatic-fine", PositionSet.Six, -2, 6, 10, 270, 315, 250, 210, 0.3m, 6) with { AimPerDaySeconds = 2 },
        Mechanical("modern-automatic", PositionSet.Six, -4, 10, 15, 265, 315, 240, 200, 0.5m, 10) with { AimPerDaySeconds = 4 },
        Mechanical("modern-chronograph", PositionSet.Six, -4, 12, 20, 265, 310, 240, 200, 0.5m, 12) with
        {
            Running = new RunningTolerance
            {
                MeanWithinOfStoppedSeconds = 8,
                SpreadFullSeconds = 25,
                AmplitudeDropMostDegrees = new AmplitudeDrop(Lateral: 40, Vertical: 25, Unknown: 40),
                VerticalFullLeastDegrees = 210,
                VerticalOneDayLeastDegrees = 180,
                BeatErrorMostMilliseconds = 0.6m,
            },
        },
        Mechanical("hand-wound", PositionSet.Five, -5, 12, 20, 260, 310, 230, 190, 0.6m, 12),
        Mechanical("vintage", PositionSet.Three, -20, 30, 40, 230, 290, 200, 170, 1.0m, 25) with { ByAgreement = true },
        Mechanical("small-movement", PositionSet.Three, -20, 30, 45, 220, 290, 190, 160, 1.0m, 30),
        Mechanical("pin-pallet-or-worn", PositionSet.Three, -60, 60, 60, 180, null, null, null, 1.5m, null) with { ByAgreement = true },
        new ToleranceKind
        {
            Kind = "quartz",
            Quartz = new QuartzTolerance
            {
                RatePerDaySeconds = new RateWindow(-0.5m, 0.5m),
                WindowSeconds = [10, 60],
                CurrentMicroamperesMost = 2.0m,
                CurrentChronographMicroamperesMost = 5.0m,
                CoilKilohm = new Bounds(1, 3),
                LowestVolts = new Bounds(1.1m, 1.3m),
                CellVoltsLeast = 1.55m,
            },
        },
    ];

    /// <summary>By their names.</summary>
    public static FrozenDictionary<string, ToleranceKind> UsualByName { get; } = Usual.ToFrozenDictionary(kind => kind.Kind, StringComparer.Ordinal);

    /// <summary>What is wrong in a list of kinds besides the limits of each member.</summary>
    public static IEnumerable<Fault> Faults(ImmutableArray<ToleranceKind> kinds, string pointer) =>
        kinds.Index().SelectMany(one => one.Item.Faults($"{pointer}/{one.Index}", kinds.Take(one.Index)));

    private IEnumerable<Fault> Faults(string pointer, IEnumerable<ToleranceKind> before)
    {
        if (before.Any(one => one.Kind == Kind))
        {
            yield return new Fault($"{pointer}/kind", $"The kind '{Kind}' is there twice");
        }

        if (MeanFullPerDaySeconds is null == Quartz is null)
        {
            yield return new Fault($"{pointer}/meanFullPerDaySeconds", "A kind has either a mean rate at full wind or the limits of a quartz watch");
        }

        if (Quartz is not null && this != new ToleranceKind { Kind = Kind, Quartz = Quartz })
        {
            yield return new Fault($"{pointer}/quartz", "A quartz watch has no balance: nothing else belongs into its kind");
        }

        (string Member, decimal? Least, decimal? Most)[] ranges =
        [
            ("meanFullPerDaySeconds", MeanFullPerDaySeconds?.Lowest, MeanFullPerDaySeconds?.Highest),
            ("flatFullDegrees", FlatFullDegrees?.Least, FlatFullDegrees?.Most),
            ("quartz/ratePerDaySeconds", Quartz?.RatePerDaySeconds.Lowest, Quartz?.RatePerDaySeconds.Highest),
            ("quartz/coilKilohm", Quartz?.CoilKilohm?.Least, Quartz?.CoilKilohm?.Most),
            ("quartz/lowestVolts", Quartz?.LowestVolts?.Least, Quartz?.LowestVolts?.Most),
        ];
        foreach (var range in ranges.Where(range => range.Least > range.Most))
        {
            yield return new Fault($"{pointer}/{range.Member}", "The lower bound lies above the upper one");
        }
    }

    private static ToleranceKind Mechanical(
        string kind, PositionSet positions, decimal lowest, decimal highest, decimal spread, decimal flatLeast, decimal? flatMost, decimal? vertical, decimal? verticalOneDay, decimal beatError, decimal? isochronism) => new()
        {
            Kind = kind,
            Positions = positions,
            MeanFullPerDaySeconds = new RateWindow(lowest, highest),
            SpreadFullSeconds = spread,
            FlatFullDegrees = new Bounds(flatLeast, flatMost),
            VerticalFullLeastDegrees = vertical,
            VerticalOneDayLeastDegrees = verticalOneDay,
            BeatErrorMostMilliseconds = beatError,
            IsochronismMostSeconds = isochronism,
        };
}
