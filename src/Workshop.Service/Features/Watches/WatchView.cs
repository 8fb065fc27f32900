using System.Collections.Immutable;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Watches;
using Workshop.Core.WaterTests;
using Workshop.Core.Words;
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
/// <param name="Owners">As they were told, the first one first; none where nobody said.</param>
/// <param name="RegisterHit">What a register of stolen watches says; for managers alone.</param>
public sealed record WatchLife(WatchView Watch, string? Customer, ImmutableArray<JobOfWatch> Jobs, ImmutableArray<OwnerView> Owners, RegisterHitView? RegisterHit);

/// <summary>An owner of a watch, by the id of their record.</summary>
/// <param name="Until">The day the next one had it; absent for the present owner.</param>
public sealed record OwnerView(string Customer, LocalDate From, LocalDate? Until, HowOwned How)
{
    public static ImmutableArray<OwnerView> Of(IReadOnlyList<StoredOwner> owners) =>
    [
        .. owners.Select((one, i) => new OwnerView(
            one.CustomerId, Day(one), i + 1 < owners.Count ? Day(owners[i + 1]) : null, Enum.GetValues<HowOwned>().First(how => Word.Of(how) == one.How))),
    ];

    private static LocalDate Day(StoredOwner one) => LocalDatePattern.Iso.Parse(one.FromDay).Value;
}

/// <summary>What a register of stolen watches says of one.</summary>
/// <param name="ClearedAt">When a manager has cleared it; absent while it stands.</param>
public sealed record RegisterHitView(string Register, string? Text, Instant ToldAt, Instant? ClearedAt, string? Reason)
{
    public static RegisterHitView? Of(StoredRegisterHit? hit) =>
        hit is null ? null : new(hit.Register, hit.Text, Microseconds.Read(hit.ToldAt), Microseconds.Read(hit.ClearedAt), hit.Reason);
}

/// <summary>A watch in a list.</summary>
/// <param name="Customer">The id of whoever brought it last.</param>
public sealed record WatchLine(WatchView Watch, string? Customer);

/// <summary>One of a watch's jobs.</summary>
public sealed record JobOfWatch(string Label, string? Variant, string? Stage, Instant? TakenInAt, bool InHouse, bool Closed)
{
    public static JobOfWatch Of(WatchJobRow row) =>
        new(row.Label, row.Variant, row.Stage, Microseconds.Read(row.TakenInAt), row.InHouse == 1, row.Closed == 1);
}
