using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage.Shop;

/// <summary>An outside firm: pieces are given to it, or parts come from it.</summary>
public sealed record FirmDocument : IShopDocument
{
    /// <summary>As holders name it: <c>firms/&lt;id&gt;</c>.</summary>
    public string? Id { get; init; }

    [StringLength(200, MinimumLength = 1)]
    public required string Name { get; init; }

    /// <summary>What it does for the shop, for example <c>polishing</c>, <c>dials</c>, <c>parts</c>.</summary>
    [Length(0, 20)]
    public ImmutableArray<string> Does { get; init; } = [];

    /// <summary>Open days until a piece usually is back, for one that was given without a day.</summary>
    [Range(1, 500)]
    public int? UsualWorkingDays { get; init; }

    [StringLength(50)]
    public string? Telephone { get; init; }

    [StringLength(254)]
    [RegularExpression(@"[^@\s]+@[^@\s]+")]
    public string? Email { get; init; }

    [StringLength(1_000)]
    public string? Address { get; init; }

    [StringLength(1_000)]
    public string? Remark { get; init; }

    public IEnumerable<Fault> Faults(DocumentCheck check) => [];
}
