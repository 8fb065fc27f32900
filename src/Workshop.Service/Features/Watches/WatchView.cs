using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.WaterTests;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Watches;

/// <summary>A watch, as whoever works at it may know it: nothing in here says whose it is.</summary>
public sealed record WatchView
{
    public required string Id { get; init; }

    public string? Maker { get; init; }

    public string? Model { get; init; }

    public string? Reference { get; init; }

    public string? CaseSerial { get; init; }

    public string? MovementNumber { get; init; }

    public string? Words { get; init; }

    public CalibreFacts? Calibre { get; init; }

    public int? CrownHour { get; init; }

    public int? MadeInYear { get; init; }

    public bool? LuminousPaint { get; init; }

    public string? DialRemarks { get; init; }

    public bool? WaterOrLeakInside { get; init; }

    public CrystalMaterial? Crystal { get; init; }

    /// <summary>As written on the watch; bar.</summary>
    public decimal? WaterRatingBar { get; init; }

    public bool? Diver { get; init; }

    public static WatchView Of(StoredWatch stored)
    {
        var facts = stored.ReadFacts();
        return new WatchView
        {
            Id = stored.Id,
            Maker = stored.Maker,
            Model = stored.Model,
            Reference = stored.Reference,
            CaseSerial = stored.CaseSerial,
            MovementNumber = stored.MovementNumber,
            Words = facts.Words,
            Calibre = facts.Calibre,
            CrownHour = facts.CrownHour,
            MadeInYear = facts.MadeInYear,
            LuminousPaint = facts.LuminousPaint,
            DialRemarks = facts.DialRemarks,
            WaterOrLeakInside = facts.WaterOrLeakInside,
            Crystal = facts.Crystal,
            WaterRatingBar = facts.WaterRatingBar,
            Diver = facts.Diver,
        };
    }
}

/// <summary>A watch with its life in this house.</summary>
/// <param name="Customer">The id of whoever brought it last.</param>
/// <param name="Jobs">Newest first.</param>
public sealed record WatchLife(WatchView Watch, string? Customer, ImmutableArray<JobOfWatch> Jobs);

/// <summary>A watch in a list.</summary>
/// <param name="Customer">The id of whoever brought it last.</param>
public sealed record WatchLine(WatchView Watch, string? Customer);

/// <summary>One of a watch's jobs.</summary>
public sealed record JobOfWatch(string Label, string? Variant, string? Stage, Instant? TakenInAt, bool InHouse, bool Closed)
{
    public static JobOfWatch Of(WatchJobRow row) =>
        new(row.Label, row.Variant, row.Stage, Microseconds.Read(row.TakenInAt), row.InHouse == 1, row.Closed == 1);
}
