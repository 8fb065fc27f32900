using System.ComponentModel.DataAnnotations;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage.Shop;

/// <summary>What the shop wants to know of a device besides its pairing.</summary>
public sealed record DeviceDocument : IShopDocument
{
    /// <summary>The middle part of its source: <c>/devices/&lt;id&gt;/…</c>.</summary>
    public string? Id { get; init; }

    [StringLength(100, MinimumLength = 1)]
    public string? Name { get; init; }

    /// <summary>The bench it stands at.</summary>
    [StringLength(60)]
    public string? Bench { get; init; }

    /// <summary>Open hours of the shop after which its silence is worth a look; the shop's usual time where left out. <c>PT0S</c>: never.</summary>
    public Duration? SilentAfter { get; init; }

    [StringLength(1_000)]
    public string? Remark { get; init; }

    public IEnumerable<Fault> Faults(DocumentCheck check)
    {
        if (Bench is { } bench && !check.Has(ShopRulesReader.Bench, bench))
        {
            yield return new Fault("/bench", "There is no such bench");
        }

        if (SilentAfter < Duration.Zero)
        {
            yield return new Fault("/silentAfter", "This is less than nothing");
        }
    }
}
