using System.Collections.Immutable;
using System.Data;
using System.Globalization;
using NodaTime;
using Workshop.Core.Sources;

namespace Workshop.Service.Storage;

/// <summary>What is remembered of a source from one event to the next.</summary>
public sealed record SourceState
{
    public required string Source { get; init; }

    public SequenceBook Sequence { get; init; } = SequenceBook.New;

    public DeviceClock Clock { get; init; } = DeviceClock.Unknown;

    /// <summary>The latest effective time of its entries: what has a higher number than all of them lies behind it. Null before the first.</summary>
    public Instant? JudgedUntil { get; init; }

    /// <summary>Verdicts given after an event had been held.</summary>
    public long Outcomes { get; init; }

    public Instant? Heard { get; init; }

    /// <summary>Events that wait now; counted when the source is first looked at, then kept up.</summary>
    public int Held { get; init; }
}

/// <summary>The table <c>source</c>, and what a source has in the tables of events.</summary>
internal static class SourceTable
{
    private const string FindSql = """
        select next_sequence, clock_samples, heard, clock_error, not_awaited, judged_until, outcomes
        from source
        where site = @site
          and source = @source
        """;

    private const string CountHeldSql = """
        select count(*)
        from received
        where site = @site
          and source = @source
          and state = 'held'
        """;

    private const string SaveSql = """
        insert into source (site, source, next_sequence, clock_samples, heard, clock_error, not_awaited, judged_until, outcomes)
        values (@site, @source, @next_sequence, @clock_samples, @heard, @clock_error, @not_awaited, @judged_until, @outcomes)
        on conflict (site, source) do update set
            next_sequence = excluded.next_sequence,
            clock_samples = excluded.clock_samples,
            heard = excluded.heard,
            clock_error = excluded.clock_error,
            not_awaited = excluded.not_awaited,
            judged_until = excluded.judged_until,
            outcomes = excluded.outcomes
        """;

    // An entry that took another's place stands at that one's time, which says nothing about its own number.
    private const string BelowSql = """
        select effective
        from journal
        where site = @site
          and source = @source
          and sequence < @sequence
          and order_sequence = sequence
        order by sequence desc
        limit 1
        """;

    private const string AboveSql = """
        select effective
        from journal
        where site = @site
          and source = @source
          and sequence > @sequence
          and order_sequence = sequence
        order by sequence
        limit 1
        """;

    private static readonly HotSql FindOne = new(FindSql, ("site", DbType.String), ("source", DbType.String));

    private static readonly HotSql CountHeld = new(CountHeldSql, ("site", DbType.String), ("source", DbType.String));

    private static readonly HotSql SaveOne = new(SaveSql,
        ("site", DbType.String), ("source", DbType.String), ("next_sequence", DbType.Int64), ("clock_samples", DbType.String), ("heard", DbType.Int64),
        ("clock_error", DbType.Int64), ("not_awaited", DbType.String), ("judged_until", DbType.Int64), ("outcomes", DbType.Int64));

    private static readonly HotSql Below = new(BelowSql, ("site", DbType.String), ("source", DbType.String), ("sequence", DbType.Int64));

    private static readonly HotSql Above = new(AboveSql, ("site", DbType.String), ("source", DbType.String), ("sequence", DbType.Int64));

    public static SourceState Find(HotStatements statements, string site, string source)
    {
        SourceState? state = null;
        using (var reader = statements.Read(FindOne, site, source))
        {
            if (reader.Read())
            {
                state = new SourceState
                {
                    Source = source,
                    Sequence = new SequenceBook { Next = reader.GetInt64(0), NotAwaited = ReadRanges(reader.GetString(4)) },
                    Clock = new DeviceClock { Samples = ReadSamples(reader.GetString(1)), Error = reader.IsDBNull(3) ? null : ReadDuration(reader.GetInt64(3)) },
                    Heard = reader.IsDBNull(2) ? null : Microseconds.Read(reader.GetInt64(2)),
                    JudgedUntil = reader.IsDBNull(5) ? null : Microseconds.Read(reader.GetInt64(5)),
                    Outcomes = reader.GetInt64(6),
                };
            }
        }

        if (state is null)
        {
            return new SourceState { Source = source };
        }

        using var count = statements.Read(CountHeld, site, source);
        return count.Read() ? state with { Held = checked((int)count.GetInt64(0)) } : state;
    }

    public static void Save(HotStatements statements, string site, SourceState state) => statements.Write(SaveOne,
        site, state.Source, state.Sequence.Next, string.Join(' ', state.Clock.Samples.Select(Of)), Microseconds.Of(state.Heard),
        state.Clock.Error is { } error ? Of(error) : null,
        string.Join(' ', state.Sequence.NotAwaited.Select(range => $"{range.From}-{range.To}")), Microseconds.Of(state.JudgedUntil), state.Outcomes);

    /// <summary>The effective times of the entries whose numbers come next below and above one; null where there is none.</summary>
    public static (Instant? Below, Instant? Above) Neighbours(HotStatements statements, string site, string source, long sequence) =>
        (Effective(statements, Below, site, source, sequence), Effective(statements, Above, site, source, sequence));

    private static Instant? Effective(HotStatements statements, HotSql which, string site, string source, long sequence)
    {
        using var reader = statements.Read(which, site, source, sequence);
        return reader.Read() ? Microseconds.Read(reader.GetInt64(0)) : null;
    }

    private static ImmutableArray<Duration> ReadSamples(string text) => [.. Words(text).Select(word => ReadDuration(long.Parse(word, CultureInfo.InvariantCulture)))];

    private static ImmutableArray<SequenceRange> ReadRanges(string text) => [.. Words(text).Select(word => word.Split('-')).Select(ends =>
        new SequenceRange(long.Parse(ends[0], CultureInfo.InvariantCulture), long.Parse(ends[1], CultureInfo.InvariantCulture)))];

    private static string[] Words(string text) => text.Split(' ', StringSplitOptions.RemoveEmptyEntries);

    private static long Of(Duration duration) => (long)Math.Floor(duration.TotalTicks / 10);

    private static Duration ReadDuration(long microseconds) => Duration.FromTicks(checked(microseconds * 10));
}
