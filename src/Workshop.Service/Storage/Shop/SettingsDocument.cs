using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage.Shop;

/// <summary>How the shop presents itself: what customers and letters are told of it. Figures of the trade are rules.</summary>
public sealed record SettingsDocument : IShopDocument
{
    [StringLength(200, MinimumLength = 1)]
    public string? ShopName { get; init; }

    [StringLength(1_000)]
    public string? Address { get; init; }

    [StringLength(50)]
    public string? Telephone { get; init; }

    [StringLength(254)]
    [RegularExpression(@"[^@\s]+@[^@\s]+")]
    public string? Email { get; init; }

    public IEnumerable<Fault> Faults(DocumentCheck check) => [];
}
