using Workshop.Service.Storage;

namespace Workshop.Service.Features.BenchEvents;

/// <summary>An event as it stands in the table <c>received</c>; moments in microseconds.</summary>
public sealed record StoredReceived
{
    public required string Source { get; init; }

    public required string Id { get; init; }

    public long? Sequence { get; init; }

    public string? DeviceTime { get; init; }

    public required long Received { get; init; }

    public required string State { get; init; }

    /// <summary>In real time.</summary>
    public long? ReleaseAt { get; init; }

    public string? Body { get; init; }

    public string? Answer { get; init; }

    public long? Position { get; init; }

    public long? Outcome { get; init; }
}

/// <summary>Reads what came through the bench door, whatever became of it.</summary>
public sealed class ReceivedStore(Reader reader)
{
    private const string OutcomesSql = """
        select source, id, sequence, device_time as DeviceTime, received, state, release_at as ReleaseAt, body, answer, position, outcome
        from received
        where site = @site
          and source = @source
          and outcome > @after
        order by outcome
        limit @limit
        """;

    private const string ToLookAtSql = """
        select source, id, sequence, device_time as DeviceTime, received, state, release_at as ReleaseAt, body, answer, position, outcome
        from received
        where site = @site
          and state = @state
          and state <> 'accepted'
          and (received, source, id) > (@received, @source, @id)
        order by received, source, id
        limit @limit
        """;

    private const string AcceptedSql = """
        select received.source, received.id, received.sequence, received.device_time as DeviceTime, received.received, received.state,
               received.release_at as ReleaseAt, received.body, received.answer, journal.position, received.outcome
        from journal
        join received on received.site = journal.site
          and received.source = journal.source
          and received.id = journal.id
        where journal.site = @site
          and journal.position > @after
        order by journal.position
        limit @limit
        """;

    /// <summary>Verdicts on events of a source that had been held, in the order in which they were given.</summary>
    public Task<IReadOnlyList<StoredReceived>> Outcomes(string site, string source, long after, int limit, CancellationToken cancel) =>
        reader.Query<StoredReceived>(OutcomesSql, new { site, source, after, limit }, cancel);

    /// <summary>Events that wait or were refused, in order of receipt.</summary>
    public Task<IReadOnlyList<StoredReceived>> ToLookAt(
        string site, ReceivedState state, (long Received, string Source, string Id) after, int limit, CancellationToken cancel) =>
        reader.Query<StoredReceived>(
            ToLookAtSql, new { site, state = Core.Words.Word.Of(state), received = after.Received, source = after.Source, id = after.Id, limit }, cancel);

    /// <summary>Events that were taken in, in the order of the journal.</summary>
    public Task<IReadOnlyList<StoredReceived>> Accepted(string site, long after, int limit, CancellationToken cancel) =>
        reader.Query<StoredReceived>(AcceptedSql, new { site, after, limit }, cancel);
}
