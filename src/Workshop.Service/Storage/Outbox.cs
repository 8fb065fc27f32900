using NodaTime;

namespace Workshop.Service.Storage;

/// <summary>Something to be told outside, written in the turn that gave rise to it and sent afterwards.</summary>
public sealed record OutboxMessage
{
    /// <summary>What it is about and what caused it, so that the same cause says it once: <c>&lt;type&gt;/&lt;stream&gt;/&lt;cause&gt;</c>.</summary>
    public required string Id { get; init; }

    /// <summary>For example <c>job.ready</c>.</summary>
    public required string Type { get; init; }

    public required string Stream { get; init; }

    /// <summary>JSON.</summary>
    public required string Body { get; init; }

    public Instant? NotBefore { get; init; }
}

/// <summary>The table <c>outbox</c>.</summary>
internal static class Outbox
{
    internal const string PutSql = """
        insert into outbox (site, id, type, stream, body, created, not_before, attempts, next_attempt, done)
        values (@site, @id, @type, @stream, @body, @created, @not_before, 0, null, null)
        on conflict (site, id) do nothing
        """;
}
