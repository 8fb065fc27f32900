using Workshop.Service.Storage;

namespace Workshop.Service.Tests.Simulation.Checkers;

/// <summary>Every message of the outbox was heard at least once, in order within its stream; what was heard twice is the same to the byte; nothing else was heard.</summary>
internal static class ToldOutside
{
    private const string OutboxSql = """
        select position, id, stream, created
        from outbox
        where site = @site
          and done is null
        order by position
        """;

    public static IEnumerable<string> FaultsIn(Evidence evidence, Shopfront front)
    {
        var told = evidence.Rows<Row>(OutboxSql).ToDictionary(row => Outbox.MessageId(House.Site, row.Id, row.Created), StringComparer.Ordinal);
        var heard = front.Heard.GroupBy(one => one.Id, StringComparer.Ordinal).ToDictionary(same => same.Key, same => same.ToArray(), StringComparer.Ordinal);
        foreach (var fault in front.Faults)
        {
            yield return $"ToldOutside: {fault}";
        }

        foreach (var (id, row) in told.Where(one => !heard.ContainsKey(one.Key)))
        {
            yield return $"ToldOutside: {row.Id} at {row.Position} was never heard ({id}).";
        }

        foreach (var id in heard.Keys.Where(id => !told.ContainsKey(id)))
        {
            yield return $"ToldOutside: {id} was heard, and nobody had told it.";
        }

        foreach (var (id, same) in heard.Where(one => one.Value.Select(other => other.Body).Distinct(StringComparer.Ordinal).Count() > 1))
        {
            yield return $"ToldOutside: {id} was heard {same.Length} times, and not always the same.";
        }

        // By when each was heard first.
        foreach (var stream in heard.Where(one => told.ContainsKey(one.Key)).GroupBy(one => told[one.Key].Stream, StringComparer.Ordinal))
        {
            var inOrder = front.Heard.Where(one => told.TryGetValue(one.Id, out var row) && row.Stream == stream.Key).Select(one => one.Sequence).Distinct().ToArray();
            if (!inOrder.SequenceEqual(inOrder.Order()))
            {
                yield return $"ToldOutside: of {stream.Key} was heard {string.Join(' ', inOrder)}.";
            }
        }
    }

    private sealed record Row
    {
        public required long Position { get; init; }

        public required string Id { get; init; }

        public required string Stream { get; init; }

        public required long Created { get; init; }
    }
}

/// <summary>Every event that the storefront told is kept once, and every order has the watches of its newest state.</summary>
internal static class ToldInside
{
    private const string MessagesSql = """
        select id
        from storefront_message
        where site = @site
        """;

    private const string ArrivalsSql = """
        select order_ref || ' ' || state
        from arrival
        where site = @site
          and order_ref is not null
        """;

    public static IEnumerable<string> FaultsIn(Evidence evidence, IReadOnlySet<string> told, IReadOnlyList<string> orders)
    {
        var kept = evidence.Rows<string>(MessagesSql).ToArray();
        foreach (var id in told.Except(kept))
        {
            yield return $"ToldInside: {id} was told and is not kept.";
        }

        foreach (var twice in kept.GroupBy(id => id).Where(same => same.Count() > 1))
        {
            yield return $"ToldInside: {twice.Key} is kept {twice.Count()} times.";
        }

        var arrivals = evidence.Rows<string>(ArrivalsSql).ToLookup(row => row.Split(' ')[0], row => row.Split(' ')[1]);
        foreach (var order in orders)
        {
            var wanted = told.Contains($"{order}-r2") ? 2 : 1;
            if (arrivals[order].Count() != wanted)
            {
                yield return $"ToldInside: order {order} has {arrivals[order].Count()} watches, not {wanted}.";
            }

            if (told.Contains($"{order}-x") && arrivals[order].Contains("expected"))
            {
                yield return $"ToldInside: order {order} was cancelled, and a watch of it is still waited for.";
            }
        }
    }
}
