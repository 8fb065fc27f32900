using Workshop.Service.Storage;

namespace Workshop.Service.Features.Changes;

/// <summary>An entry as it stands in the journal; moments in microseconds.</summary>
public sealed record StoredChange
{
    public required long Position { get; init; }

    public required string Stream { get; init; }

    public required long StreamVersion { get; init; }

    public required string Source { get; init; }

    public required string Id { get; init; }

    public required string Type { get; init; }

    public required long Effective { get; init; }

    public required long Received { get; init; }

    public required string Disposition { get; init; }

    public required string Flags { get; init; }
}

/// <summary>Reads the journal of a site in the order in which it was committed.</summary>
public sealed class ChangesStore(Reader reader)
{
    private const string AfterSql = """
        select position, stream, stream_version, source, id, type, effective, received, disposition, flags
        from journal
        where site = @site
          and position > @after
        order by position
        limit @limit
        """;

    /// <summary>Entries after a position. Positions are dense and in order of commit, so that nothing is skipped.</summary>
    public Task<IReadOnlyList<StoredChange>> After(string site, long after, int limit, CancellationToken cancel) =>
        reader.Query<StoredChange>(AfterSql, new { site, after, limit }, cancel);

    /// <summary>What is told outside of a storefront's orders and of the shop, after a position of messages.</summary>
    public Task<IReadOnlyList<StoredMessage>> MessagesAfter(string site, string storefront, long after, int limit, CancellationToken cancel) =>
        reader.Read(connection => Outbox.After(connection, site, storefront, after, limit), cancel);
}
