using Workshop.Core.Journal;

namespace Workshop.Core.Shop;

/// <summary>
/// A document of the shop was saved; the entry stands in the stream <c>shop</c>, whose version is therefore the version of the
/// shop's rules.
/// </summary>
public sealed record ShopDocumentSaved : WorkshopEvent
{
    public required string Kind { get; init; }

    public required string Id { get; init; }

    /// <summary>The document's own version, 1, 2, 3 …</summary>
    public required long Version { get; init; }
}
