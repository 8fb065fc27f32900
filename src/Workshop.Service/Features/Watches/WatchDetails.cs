using System.ComponentModel.DataAnnotations;
using System.Diagnostics.CodeAnalysis;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.WaterTests;

namespace Workshop.Service.Features.Watches;

/// <summary>Facts about the movement, said at intake.</summary>
public sealed record CalibreFacts
{
    [StringLength(100)]
    public string? Name { get; init; }

    public CalibreKind? Kind { get; init; }

    /// <summary>Half swings in an hour, for example 28800.</summary>
    [Range(3_600, 720_000)]
    public int? VibrationsPerHour { get; init; }

    [Range(20, 90)]
    public decimal? LiftAngleDegrees { get; init; }

    [Range(1, 2_000)]
    public decimal? PowerReserveHours { get; init; }

    [Range(0, 200)]
    public int? Jewels { get; init; }
}

/// <summary>What watch it is: a few words are enough, anything more helps.</summary>
public sealed record WatchDetails
{
    /// <summary>Watches with a balance are not older.</summary>
    private const int OldestYear = 1500;

    [StringLength(100)]
    public string? Maker { get; init; }

    [StringLength(100)]
    public string? Model { get; init; }

    [StringLength(100)]
    public string? Reference { get; init; }

    /// <summary>As engraved; compared without blanks, hyphens, dots and case.</summary>
    [StringLength(60)]
    public string? CaseSerial { get; init; }

    [StringLength(60)]
    public string? MovementNumber { get; init; }

    /// <summary>A few words: what it looks like, what it does or does not.</summary>
    [StringLength(2_000)]
    public string? Words { get; init; }

    public CalibreFacts? Calibre { get; init; }

    /// <summary>Where on the dial the crown sits, 1 to 12; nine on a left-hand one. It says what a position told by the mark that is up means.</summary>
    [Range(1, 12)]
    public int? CrownHour { get; init; }

    public int? MadeInYear { get; init; }

    /// <summary>Luminous paint on dial or hands; absent when nobody looked.</summary>
    public bool? LuminousPaint { get; init; }

    /// <summary>What the dial and hands look like.</summary>
    [StringLength(1_000)]
    public string? DialRemarks { get; init; }

    /// <summary>Water has entered, or a cell leaks: corrosion counts in days.</summary>
    public bool? WaterOrLeakInside { get; init; }

    /// <summary>What the glass over the dial is of; absent when nobody looked.</summary>
    public CrystalMaterial? Crystal { get; init; }

    /// <summary>What it is rated for, as written on the watch; bar.</summary>
    [Range(0.1, 1_500)]
    public decimal? WaterRatingBar { get; init; }

    /// <summary>A diver's watch.</summary>
    public bool? Diver { get; init; }

    public IEnumerable<Fault> Faults(string pointer, LocalDate today)
    {
        if (!Says(Maker) && !Says(Model) && !Says(Reference) && !Says(CaseSerial) && !Says(MovementNumber) && !Says(Words) && !Says(Calibre?.Name))
        {
            yield return new Fault(pointer, "A few words about the watch are needed");
        }

        if (MadeInYear is { } year && (year < OldestYear || year > today.Year))
        {
            yield return new Fault($"{pointer}/madeInYear", $"This is no year from {OldestYear} to {today.Year}");
        }
    }

    private static bool Says([NotNullWhen(true)] string? text) => !string.IsNullOrWhiteSpace(text);
}

/// <summary>What of a watch's details has no column of its own; nothing searches by it.</summary>
public sealed record WatchFacts
{
    public string? Words { get; init; }

    public CalibreFacts? Calibre { get; init; }

    public int? CrownHour { get; init; }

    public int? MadeInYear { get; init; }

    public bool? LuminousPaint { get; init; }

    public string? DialRemarks { get; init; }

    public bool? WaterOrLeakInside { get; init; }

    public CrystalMaterial? Crystal { get; init; }

    public decimal? WaterRatingBar { get; init; }

    public bool? Diver { get; init; }

    public static WatchFacts Of(WatchDetails details) => new()
    {
        Words = details.Words,
        Calibre = details.Calibre,
        CrownHour = details.CrownHour,
        MadeInYear = details.MadeInYear,
        LuminousPaint = details.LuminousPaint,
        DialRemarks = details.DialRemarks,
        WaterOrLeakInside = details.WaterOrLeakInside,
        Crystal = details.Crystal,
        WaterRatingBar = details.WaterRatingBar,
        Diver = details.Diver,
    };
}
