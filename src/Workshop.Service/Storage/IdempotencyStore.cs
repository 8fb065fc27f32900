using System.Security.Cryptography;
using NodaTime;

namespace Workshop.Service.Storage;

/// <summary>The answer to a request, as it was first given.</summary>
public sealed record KeptAnswer(int Status, string Headers, string Body);

/// <summary>What is known of an <c>Idempotency-Key</c>.</summary>
public enum IdempotencyState
{
    /// <summary>Nobody used it; it is running now.</summary>
    New,

    /// <summary>The first request with it has not been answered.</summary>
    Running,

    /// <summary>Answered; the answer is given again.</summary>
    Finished,

    /// <summary>It was used with another payload.</summary>
    OtherPayload,
}

/// <param name="Answer">With <see cref="IdempotencyState.Finished"/>.</param>
public readonly record struct IdempotencyFinding(IdempotencyState State, KeptAnswer? Answer = null);

/// <summary>Remembers by api key and <c>Idempotency-Key</c> what was asked and answered, so that asking again makes nothing twice.</summary>
public static class IdempotencyStore
{
    /// <summary>A tablet may be away for three weeks.</summary>
    public static readonly Duration Kept = Duration.FromDays(35);

    private const string FindSql = """
        select digest, state, status, headers, body
        from idempotency
        where site = @site
          and api_key = @api_key
          and idempotency_key = @key
          and expires > @now
        """;

    private const string BeginSql = """
        insert into idempotency (site, api_key, idempotency_key, digest, state, status, headers, body, created, expires)
        values (@site, @api_key, @key, @digest, 'running', null, null, null, @now, @expires)
        on conflict (site, api_key, idempotency_key) do update set
            digest = excluded.digest,
            state = excluded.state,
            status = null,
            headers = null,
            body = null,
            created = excluded.created,
            expires = excluded.expires
        """;

    private const string FinishSql = """
        update idempotency
        set state = 'finished',
            status = @status,
            headers = @headers,
            body = @body
        where site = @site
          and api_key = @api_key
          and idempotency_key = @key
        """;

    private const string AbandonSql = """
        delete from idempotency
        where site = @site
          and api_key = @api_key
          and idempotency_key = @key
          and state = 'running'
        """;

    private const string ForgetRunningSql = """
        delete from idempotency
        where site = @site
          and state = 'running'
          and created < @before
        """;

    private const string SweepSql = """
        delete from idempotency
        where site = @site
          and expires <= @now
        """;

    /// <summary>What is known of a key; a new one is running from now on.</summary>
    /// <param name="digest">SHA-256 of the payload.</param>
    public static IdempotencyFinding Begin(Turn turn, string apiKey, string key, byte[] digest)
    {
        var now = Microseconds.Of(turn.Now);
        if (turn.QueryFirst<Row>(FindSql, new { site = turn.Site, api_key = apiKey, key, now }) is { } row)
        {
            return !CryptographicOperations.FixedTimeEquals(row.Digest, digest) ? new(IdempotencyState.OtherPayload)
                : row.State == "running" ? new(IdempotencyState.Running)
                : new(IdempotencyState.Finished, new KeptAnswer((int)row.Status!.Value, row.Headers!, row.Body!));
        }

        turn.Execute(BeginSql, new { site = turn.Site, api_key = apiKey, key, digest, now, expires = Microseconds.Of(turn.Now + Kept) });
        return new(IdempotencyState.New);
    }

    /// <summary>Keeps the answer. In the turn that does the work it is kept together with it.</summary>
    public static void Finish(Turn turn, string apiKey, string key, KeptAnswer answer) =>
        turn.Execute(FinishSql, new { site = turn.Site, api_key = apiKey, key, status = answer.Status, headers = answer.Headers, body = answer.Body });

    /// <summary>Nothing came of it (a fault of ours): the next request with this key begins anew.</summary>
    public static void Abandon(Turn turn, string apiKey, string key) =>
        turn.Execute(AbandonSql, new { site = turn.Site, api_key = apiKey, key });

    /// <summary>After a crash: what still runs by its row was cut off before its answer was kept.</summary>
    /// <returns>How many there were.</returns>
    public static int ForgetRunning(Turn turn, Instant before) =>
        turn.Execute(ForgetRunningSql, new { site = turn.Site, before = Microseconds.Of(before) });

    /// <returns>How many keys were forgotten because their time was over.</returns>
    public static int Sweep(Turn turn) => turn.Execute(SweepSql, new { site = turn.Site, now = Microseconds.Of(turn.Now) });

    private sealed record Row
    {
        public required byte[] Digest { get; init; }

        public required string State { get; init; }

        public long? Status { get; init; }

        public string? Headers { get; init; }

        public string? Body { get; init; }
    }
}
