using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using NodaTime;
using Workshop.Core.Pieces;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Jobs;

/// <summary>Something handed in with the watch, counted before the customer's eyes.</summary>
public sealed record Accessory
{
    public required PieceKind Kind { get; init; }

    [Range(1, 500)]
    public int Count { get; init; } = 1;

    [StringLength(500)]
    public string? Note { get; init; }
}

/// <summary>A declared value that was replaced by another one.</summary>
/// <param name="Source">Who replaced it.</param>
public sealed record EarlierValue(long AmountMinor, string Currency, Instant Until, string Note, string Source);

/// <summary>The intake part of a job as its row keeps it.</summary>
public sealed record IntakeSheet
{
    public required IntakeMembers Members { get; init; }

    /// <summary>As counted at intake; each is a piece of the job from then on.</summary>
    public ImmutableArray<Accessory> Accessories { get; init; } = [];

    public ImmutableArray<EarlierValue> EarlierValues { get; init; } = [];

    /// <summary>Nobody named the kind of work.</summary>
    public bool VariantAssumed { get; init; }

    public string Write() => JsonSerializer.Serialize(this, WorkshopJson.Options);

    /// <summary>Reads what a row keeps; a job that began otherwise has an empty one.</summary>
    public static IntakeSheet Read(string text) =>
        text == "{}" ? new IntakeSheet { Members = new IntakeMembers() } : JsonSerializer.Deserialize<IntakeSheet>(text, WorkshopJson.Options)!;
}

/// <summary>The intake part, for the desk; its version is what a change needs as If-Match.</summary>
public sealed record IntakeView
{
    public long? DeclaredValueMinor { get; init; }

    public string? Currency { get; init; }

    public ImmutableArray<EarlierValue> EarlierValues { get; init; } = [];

    public IntakeWishes? Wishes { get; init; }

    public string? Condition { get; init; }

    public ImmutableArray<PlaceCondition> ConditionGrid { get; init; } = [];

    public ArrivalNotes? Arrival { get; init; }

    public string? OwnNumber { get; init; }

    public string? LabelScannedBack { get; init; }

    public string? Remarks { get; init; }

    public IntakeTerms? Terms { get; init; }

    /// <summary>What became of the fixed day when this was asked; absent where none is fixed, and in mere reading.</summary>
    public FixedDateView? FixedDate { get; init; }

    public ImmutableArray<Accessory> Accessories { get; init; } = [];

    public bool VariantAssumed { get; init; }

    public required long Version { get; init; }

    public static IntakeView Of(IntakeSheet sheet, long version, FixedDateView? fixedDate = null) => new()
    {
        DeclaredValueMinor = sheet.Members.DeclaredValueMinor,
        Currency = sheet.Members.Currency,
        EarlierValues = sheet.EarlierValues,
        Wishes = sheet.Members.Wishes,
        Condition = sheet.Members.Condition,
        ConditionGrid = sheet.Members.ConditionGrid,
        Arrival = sheet.Members.Arrival,
        OwnNumber = sheet.Members.OwnNumber,
        LabelScannedBack = sheet.Members.LabelScannedBack,
        Remarks = sheet.Members.Remarks,
        Terms = sheet.Members.Terms,
        FixedDate = fixedDate,
        Accessories = sheet.Accessories,
        VariantAssumed = sheet.VariantAssumed,
        Version = version,
    };
}
