using System.Data.Common;
using Dapper;
using NodaTime;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Webhooks;

/// <summary>A message that is the next of its lane at an endpoint.</summary>
public sealed record WaitingMessage
{
    public required long Position { get; init; }

    public required string Id { get; init; }

    public required string Type { get; init; }

    public required string Stream { get; init; }

    public required string Body { get; init; }

    public required long Created { get; init; }

    public required long Attempts { get; init; }

    /// <summary>When its reason passed; it is sent no more.</summary>
    public long? Withdrawn { get; init; }

    public StoredMessage Message => new() { Position = Position, Id = Id, Type = Type, Stream = Stream, Body = Body, Created = Created };
}

/// <summary>An attempt as it was kept; moments of real time in microseconds.</summary>
public sealed record StoredAttempt
{
    public required string Id { get; init; }

    /// <summary>Of the message; 0 for a test.</summary>
    public required long Position { get; init; }

    public required long Attempt { get; init; }

    public required long At { get; init; }

    public long? Status { get; init; }

    public required long DurationMilliseconds { get; init; }

    public string? Error { get; init; }

    public long? NextAttempt { get; init; }

    public string? MessageId { get; init; }

    public string? Type { get; init; }

    public string? Stream { get; init; }

    public long? Created { get; init; }
}

/// <summary>How far an endpoint is behind.</summary>
public sealed record Backlog
{
    public required long Waiting { get; init; }

    public long? NextAttempt { get; init; }
}

/// <summary>The tables <c>webhook_delivery</c> and <c>webhook_attempt</c>: what waits at each endpoint, and every attempt.</summary>
internal static class DeliveryStore
{
    private const string TakeSql = """
        insert into webhook_delivery (site, endpoint, position, lane, state, attempts, next_attempt, not_before, done)
        values (@site, @endpoint, @position, @lane, 'waiting', 0, @now, @not_before, null)
        on conflict (site, endpoint, position) do update
        set state = 'waiting',
            attempts = 0,
            next_attempt = excluded.next_attempt,
            done = null
        """;

    // Whoever is not the first of its lane waits, also for one whose own time has not come.
    private const string NextSql = """
        select delivery.position, message.id, message.type, message.stream, message.body, message.created, delivery.attempts, message.done as withdrawn
        from webhook_delivery as delivery
        join outbox as message
          on message.site = delivery.site
         and message.position = delivery.position
        where delivery.site = @site
          and delivery.endpoint = @endpoint
          and delivery.state = 'waiting'
          and delivery.next_attempt <= @now
          and (delivery.not_before is null or delivery.not_before <= @workshop_now)
          and not exists (
              select 1
              from webhook_delivery as earlier
              where earlier.site = delivery.site
                and earlier.endpoint = delivery.endpoint
                and earlier.state = 'waiting'
                and earlier.lane = delivery.lane
                and earlier.position < delivery.position)
        order by delivery.position
        limit @limit
        """;

    private const string BacklogSql = """
        select count(*) as waiting, min(next_attempt) as next_attempt
        from webhook_delivery
        where site = @site
          and endpoint = @endpoint
          and state = 'waiting'
        """;

    private const string EndSql = """
        update webhook_delivery
        set state = @state,
            attempts = attempts + @attempts,
            done = @now
        where site = @site
          and endpoint = @endpoint
          and position = @position
          and state = 'waiting'
        """;

    private const string LaterSql = """
        update webhook_delivery
        set attempts = @attempts,
            next_attempt = @next_attempt
        where site = @site
          and endpoint = @endpoint
          and position = @position
          and state = 'waiting'
        """;

    private const string AllAtOnceSql = """
        update webhook_delivery
        set attempts = 0,
            next_attempt = 0
        where site = @site
          and endpoint = @endpoint
          and state = 'waiting'
        """;

    private const string ForgetWaitingSql = """
        delete from webhook_delivery
        where site = @site
          and endpoint = @endpoint
          and state = 'waiting'
          and position > @after
        """;

    private const string ForgetAllSql = """
        delete from webhook_delivery
        where site = @site
          and endpoint = @endpoint
        """;

    private const string ForgetAttemptsSql = """
        delete from webhook_attempt
        where site = @site
          and endpoint = @endpoint
        """;

    private const string ForgetOldAttemptsSql = """
        delete from webhook_attempt
        where site = @site
          and at < @before
        """;

    private const string NoteSql = """
        insert into webhook_attempt (site, endpoint, id, position, attempt, at, status, duration_milliseconds, error, next_attempt)
        values (@site, @endpoint, @id, @position, @attempt, @at, @status, @duration_milliseconds, @error, @next_attempt)
        """;

    private const string LogSql = """
        select attempt.id, attempt.position, attempt.attempt, attempt.at, attempt.status, attempt.duration_milliseconds, attempt.error, attempt.next_attempt,
               message.id as message_id, message.type, message.stream, message.created
        from webhook_attempt as attempt
        left join outbox as message
          on message.site = attempt.site
         and message.position = attempt.position
        where attempt.site = @site
          and attempt.endpoint = @endpoint
          and attempt.id < @before
        order by attempt.id desc
        limit @limit
        """;

    /// <summary>A message waits at an endpoint from now on; one that was sent before waits again.</summary>
    public static void Take(Turn turn, string endpoint, StoredMessage message, Instant now) => turn.Execute(TakeSql, new
    {
        site = turn.Site,
        endpoint,
        position = message.Position,

        // What is to be sent at a time of its own keeps nothing else waiting.
        lane = message.NotBefore is null ? message.Stream : $"{message.Stream}/{message.Position}",
        now = Microseconds.Of(now),
        not_before = message.NotBefore,
    });

    /// <summary>The first of each lane whose time has come.</summary>
    /// <param name="now">Real time.</param>
    /// <param name="workshopNow">By the workshop's clock.</param>
    public static IReadOnlyList<WaitingMessage> Next(Turn turn, string endpoint, Instant now, Instant workshopNow, int limit) =>
        turn.Query<WaitingMessage>(NextSql, new { site = turn.Site, endpoint, now = Microseconds.Of(now), workshop_now = Microseconds.Of(workshopNow), limit });

    public static bool AnyNext(DbConnection connection, string site, string endpoint, Instant now, Instant workshopNow) =>
        connection.Query<WaitingMessage>(NextSql, new { site, endpoint, now = Microseconds.Of(now), workshop_now = Microseconds.Of(workshopNow), limit = 1 }).Any();

    public static Backlog Backlog(Turn turn, string endpoint) => turn.QueryFirst<Backlog>(BacklogSql, new { site = turn.Site, endpoint })!;

    public static Backlog Backlog(DbConnection connection, string site, string endpoint) => connection.QueryFirst<Backlog>(BacklogSql, new { site, endpoint });

    /// <summary>It waits no more.</summary>
    public static void End(Turn turn, string endpoint, long position, bool delivered, Instant now) => turn.Execute(
        EndSql, new { site = turn.Site, endpoint, position, state = delivered ? "delivered" : "withdrawn", attempts = delivered ? 1 : 0, now = Microseconds.Of(now) });

    public static void Later(Turn turn, string endpoint, long position, long attempts, Instant next) =>
        turn.Execute(LaterSql, new { site = turn.Site, endpoint, position, attempts, next_attempt = Microseconds.Of(next) });

    /// <summary>Whatever waits is due, and its plan begins anew.</summary>
    public static void AllAtOnce(Turn turn, string endpoint) => turn.Execute(AllAtOnceSql, new { site = turn.Site, endpoint });

    /// <summary>Nothing after a position waits any more: it is taken up anew.</summary>
    public static void ForgetWaitingAfter(Turn turn, string endpoint, long after) => turn.Execute(ForgetWaitingSql, new { site = turn.Site, endpoint, after });

    /// <summary>The endpoint is no more.</summary>
    public static void Forget(Turn turn, string endpoint)
    {
        turn.Execute(ForgetAllSql, new { site = turn.Site, endpoint });
        turn.Execute(ForgetAttemptsSql, new { site = turn.Site, endpoint });
    }

    public static void ForgetAttempts(Turn turn, Instant before) => turn.Execute(ForgetOldAttemptsSql, new { site = turn.Site, before = Microseconds.Of(before) });

    /// <summary>Keeps what came of an attempt.</summary>
    /// <param name="position">0 for a test.</param>
    public static void Note(Turn turn, string endpoint, long position, long number, Attempt attempt, Instant? next) => turn.Execute(NoteSql, new
    {
        site = turn.Site,
        endpoint,

        // Ids sort by when they were made.
        id = Guid.CreateVersion7(attempt.At.ToDateTimeOffset()).ToString(),
        position,
        attempt = number,
        at = Microseconds.Of(attempt.At),
        status = attempt.Status is { } status ? status : (long?)null,
        duration_milliseconds = (long)attempt.Took.TotalMilliseconds,
        error = attempt.Error is { } error ? Word.Of(error) : null,
        next_attempt = Microseconds.Of(next),
    });

    public static IReadOnlyList<StoredAttempt> Log(DbConnection connection, string site, string endpoint, string before, int limit) =>
        connection.Query<StoredAttempt>(LogSql, new { site, endpoint, before, limit }).AsList();
}
