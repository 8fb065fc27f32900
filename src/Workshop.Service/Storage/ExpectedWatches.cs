using System.Collections.Immutable;
using System.Text.Json;
using Workshop.Core.Labels;
using Workshop.Core.Orders;

namespace Workshop.Service.Storage;

/// <summary>What the agenda of the house needs of orders: who is waited for, and what nobody has looked at.</summary>
internal static class ExpectedWatches
{
    private const string WaitedForSql = """
        select label, order_ref, waits_from
        from arrival
        where site = @site
          and state = 'expected'
        order by label
        """;

    // Whoever has more than these on the list has a storefront to put right, and no need of more lines.
    private const string FlaggedSql = """
        select number, type, order_ref, flags, received
        from storefront_message
        where site = @site
          and flagged = 1
          and seen is null
        order by number
        limit 200
        """;

    public static IReadOnlyList<WaitedFor> WaitedFor(Turn turn) =>
        [.. turn.Query<Waited>(WaitedForSql, new { site = turn.Site }).Select(row => new WaitedFor(Label.Read(row.Label), row.OrderRef, Microseconds.Read(row.WaitsFrom)))];

    public static IReadOnlyList<FlaggedMessage> Flagged(Turn turn) =>
    [
        .. turn.Query<Message>(FlaggedSql, new { site = turn.Site }).Select(row => new FlaggedMessage(
            row.Number, row.Type.Length == 0 ? "A message that cannot be read" : row.Type, row.OrderRef,
            JsonSerializer.Deserialize<ImmutableArray<StorefrontFlag>>(row.Flags, WorkshopJson.Options), Microseconds.Read(row.Received))),
    ];

    private sealed record Waited
    {
        public required string Label { get; init; }

        public string? OrderRef { get; init; }

        public required long WaitsFrom { get; init; }
    }

    private sealed record Message
    {
        public required long Number { get; init; }

        public required string Type { get; init; }

        public string? OrderRef { get; init; }

        public required string Flags { get; init; }

        public required long Received { get; init; }
    }
}
