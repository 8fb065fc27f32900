using Workshop.Core.Journal;

namespace Workshop.Core.Parts;

/// <summary>A part of the shop's list, or an order of parts, was saved; what it says stands in its own table, version by version.</summary>
public sealed record StockSaved : WorkshopEvent
{
    /// <summary>The stream these entries stand in.</summary>
    public const string Stream = "stock";

    /// <summary><c>part</c> or <c>part-order</c>.</summary>
    public required string Kind { get; init; }

    public required string Id { get; init; }

    public required long Version { get; init; }
}
