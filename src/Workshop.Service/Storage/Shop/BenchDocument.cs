using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage.Shop;

/// <summary>A place where work is done; jobs lie there, and a device may stand there.</summary>
public sealed record BenchDocument : IShopDocument
{
    public string? Id { get; init; }

    [StringLength(100, MinimumLength = 1)]
    public string? Name { get; init; }

    /// <summary>The label stuck on it.</summary>
    [StringLength(20)]
    public string? Label { get; init; }

    /// <summary>What can be done there, in the shop's own words, for example <c>chronographs</c>.</summary>
    [Length(0, 30)]
    public ImmutableArray<string> Skills { get; init; } = [];

    /// <summary>Nobody works there any more; it stays readable for what was done there.</summary>
    public bool OutOfUse { get; init; }

    [StringLength(1_000)]
    public string? Remark { get; init; }

    string? IShopDocument.OnLabel => Label;

    public IEnumerable<Fault> Faults(DocumentCheck check) => [];
}
