using System.ComponentModel.DataAnnotations;
using Workshop.Core.Intake;
using Workshop.Core.Journal;
using Workshop.Core.Takedown;
using Workshop.Core.Timekeeping;

namespace Workshop.Service.Storage.Shop;

/// <summary>A movement as its maker built it, as far as the shop has written it down. Absent is not known, never zero.</summary>
public sealed record CalibreDocument : IShopDocument
{
    public string? Id { get; init; }

    [StringLength(100, MinimumLength = 1)]
    public required string Maker { get; init; }

    /// <summary>What the maker calls it.</summary>
    [StringLength(100, MinimumLength = 1)]
    public string? Name { get; init; }

    public required CalibreKind Kind { get; init; }

    /// <summary>Half swings of the balance in an hour.</summary>
    [Range(3_600, 720_000)]
    public int? VibrationsPerHour { get; init; }

    [Range(20, 90)]
    public decimal? LiftAngleDegrees { get; init; }

    /// <summary>Stated by the maker.</summary>
    [Range(1, 2_000)]
    public decimal? PowerReserveHours { get; init; }

    [Range(0, 200)]
    public int? Jewels { get; init; }

    /// <summary>It has a calendar.</summary>
    public bool? Calendar { get; init; }

    /// <summary>Where on the dial the crown sits, 1 to 12; nine on a left-hand one. What the watch's own record says goes before it.</summary>
    [Range(1, 12)]
    public int? CrownHour { get; init; }

    /// <summary>Of a chronograph: how it is coupled to the train.</summary>
    public ClutchKind? Clutch { get; init; }

    /// <summary>The kind of tolerance it is judged by where the kind of work does not say.</summary>
    [StringLength(60)]
    public string? ToleranceKind { get; init; }

    [StringLength(4_000)]
    public string? Remark { get; init; }

    /// <summary>How it comes apart, and what is known of its parts; written by hand, or saved from a takedown.</summary>
    public TakedownPlan? Plan { get; init; }

    public IEnumerable<Fault> Faults(DocumentCheck check) => OfQuartz().Concat(Plan?.Faults("/plan") ?? []);

    private IEnumerable<Fault> OfQuartz()
    {
        if (Kind != CalibreKind.Quartz)
        {
            yield break;
        }

        if (VibrationsPerHour is not null)
        {
            yield return new Fault("/vibrationsPerHour", "A quartz movement has no balance");
        }

        if (LiftAngleDegrees is not null)
        {
            yield return new Fault("/liftAngleDegrees", "A quartz movement has no balance");
        }
    }
}
