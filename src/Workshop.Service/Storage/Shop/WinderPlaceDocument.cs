using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage.Shop;

/// <summary>Which way a winder turns.</summary>
public enum WinderTurns
{
    Both,
    Clockwise,
    AntiClockwise,
}

/// <summary>One place on a winder, where one watch is worn by a machine.</summary>
public sealed record WinderPlaceDocument : IShopDocument
{
    public string? Id { get; init; }

    [StringLength(100, MinimumLength = 1)]
    public string? Name { get; init; }

    /// <summary>The label stuck on it.</summary>
    [StringLength(20)]
    public string? Label { get; init; }

    [Range(1, 10_000)]
    public int? TurnsPerDay { get; init; }

    public WinderTurns? Turns { get; init; }

    public bool OutOfUse { get; init; }

    [StringLength(1_000)]
    public string? Remark { get; init; }

    string? IShopDocument.OnLabel => Label;

    public IEnumerable<Fault> Faults(DocumentCheck check) => [];
}
