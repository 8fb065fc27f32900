using System.Data.Common;
using Dapper;
using NodaTime;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Agenda;

/// <summary>A row of the agenda as it stands in the table; moments in microseconds.</summary>
public sealed record StoredAgendaRow
{
    public required string Stream { get; init; }

    public required string Kind { get; init; }

    public required string Ref { get; init; }

    public long? Due { get; init; }

    public long? Task { get; init; }

    public long? Wake { get; init; }

    public required string Level { get; init; }

    public required string Line { get; init; }
}

/// <summary>Reads the table <c>agenda</c>; its rows are written with the jobs they are folded from.</summary>
public sealed class AgendaStore(Reader reader)
{
    // A paused check has no moment: it is listed last, so that nobody forgets it.
    private const string ListSql = """
        select stream, kind, ref, due, task, wake, level, line
        from agenda
        where site = @site
          and coalesce(task, @never) < @before
          and (coalesce(task, @never), stream, kind, ref) > (@after_task, @after_stream, @after_kind, @after_ref)
        order by coalesce(task, @never), stream, kind, ref
        limit @limit
        """;

    private const string AllSql = """
        select stream, kind, ref, due, task, wake, level, line
        from agenda
        where site = @site
        order by stream, kind, ref
        """;

    private const string WakingSql = """
        select stream, kind, ref, due, task, wake, level, line
        from agenda
        where site = @site
          and wake <= @now
        order by wake, stream, kind, ref
        limit @limit
        """;

    private const string NextWakeSql = """
        select min(wake)
        from agenda
        where site = @site
          and wake > @after
        """;

    private const string FirstWakeSql = """
        select min(wake)
        from agenda
        where site = @site
          and wake is not null
        """;

    private const string LooksAgainSql = """
        select job
        from public_word
        where site = @site
          and look_again <= @now
        order by look_again, job
        limit 1
        """;

    private const string SitesSql = """
        select id
        from site
        order by id
        """;

    /// <summary>Later than any task: where rows without a moment stand in the list.</summary>
    public const long Never = long.MaxValue - 1;

    /// <summary>Rows whose task lies before a moment, in order of task.</summary>
    /// <param name="before">Microseconds; <see cref="long.MaxValue"/> for all.</param>
    public Task<IReadOnlyList<StoredAgendaRow>> List(string site, long before, (long Task, string Stream, string Kind, string Ref) after, int limit, CancellationToken cancel) =>
        reader.Query<StoredAgendaRow>(
            ListSql,
            new { site, never = Never, before, after_task = after.Task, after_stream = after.Stream, after_kind = after.Kind, after_ref = after.Ref, limit },
            cancel);

    /// <summary>Every row, by stream.</summary>
    internal static IReadOnlyList<StoredAgendaRow> All(DbConnection connection, string site) => connection.Query<StoredAgendaRow>(AllSql, new { site }).AsList();

    /// <summary>Rows about which something is to be said by now, the oldest first.</summary>
    public Task<IReadOnlyList<StoredAgendaRow>> Waking(string site, long now, int limit, CancellationToken cancel) =>
        reader.Query<StoredAgendaRow>(WakingSql, new { site, now, limit }, cancel);

    /// <summary>The next moment after this one at which something is to be said; null where nothing is.</summary>
    public Task<long?> NextWake(string site, long after, CancellationToken cancel) => reader.QueryFirst<long?>(NextWakeSql, new { site, after }, cancel);

    /// <summary>The first moment at which something is to be said, as this turn sees it; null where nothing is.</summary>
    internal static long? FirstWake(Turn turn) => turn.QueryFirst<long?>(FirstWakeSql, new { site = turn.Site });

    /// <summary>As <see cref="Waking(string, long, int, CancellationToken)"/>, by the turn's own moment.</summary>
    internal static IReadOnlyList<StoredAgendaRow> Waking(Turn turn, int limit) =>
        turn.Query<StoredAgendaRow>(WakingSql, new { site = turn.Site, now = Microseconds.Of(turn.Now), limit });

    /// <summary>Whether there is a watch of which time alone may have changed what is told outside.</summary>
    public async Task<bool> LooksAgain(string site, Instant now, CancellationToken cancel) =>
        await reader.QueryFirst<string>(LooksAgainSql, new { site, now = Microseconds.Of(now) }, cancel) is not null;

    public Task<IReadOnlyList<string>> Sites(CancellationToken cancel) => reader.Query<string>(SitesSql, null, cancel);
}
