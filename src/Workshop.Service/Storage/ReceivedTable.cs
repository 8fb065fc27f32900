using System.Data;
using System.Data.Common;
using NodaTime;
using Workshop.Core.Words;

namespace Workshop.Service.Storage;

/// <summary>What became of an event at the door.</summary>
public enum ReceivedState
{
    /// <summary>A lower sequence of its source is missing.</summary>
    Held,

    /// <summary>Applied or noted.</summary>
    Accepted,
    Refused,
}

/// <summary>An event as it came to the door, whatever became of it: the memory that gives the same verdict to the same event.</summary>
public sealed record ReceivedEvent
{
    public required EventId Id { get; init; }

    /// <summary>Over the content as JSON values.</summary>
    public required byte[] Digest { get; init; }

    /// <summary>The event as sent; null once it is accepted, since the journal has it.</summary>
    public string? Body { get; init; }

    public long? Sequence { get; init; }

    /// <summary>The device's own time, as it wrote it.</summary>
    public string? DeviceTime { get; init; }

    public required Instant Received { get; init; }

    /// <summary>The id of the key that spoke.</summary>
    public string? ApiKey { get; init; }

    public required ReceivedState State { get; init; }

    public Instant? ReleaseAt { get; init; }

    /// <summary>For one that waits: the language in which its verdict will be said.</summary>
    public string? Language { get; init; }

    /// <summary>The answer as first given.</summary>
    public string? Answer { get; init; }

    /// <summary>Where it stands in the journal.</summary>
    public long? Position { get; init; }

    /// <summary>The number of its verdict among those given later, for an event that had been held.</summary>
    public long? Outcome { get; init; }
}

/// <summary>The table <c>received</c>.</summary>
internal static class ReceivedTable
{
    private const string FindSql = """
        select digest, body, sequence, device_time, received, api_key, state, release_at, answer, position, outcome, language
        from received
        where site = @site
          and source = @source
          and id = @id
        """;

    private const string SaveSql = """
        insert into received (site, source, id, digest, body, sequence, device_time, received, api_key, state, release_at, answer, position, outcome, language)
        values (@site, @source, @id, @digest, @body, @sequence, @device_time, @received, @api_key, @state, @release_at, @answer, @position, @outcome, @language)
        on conflict (site, source, id) do update set
            body = excluded.body,
            state = excluded.state,
            release_at = excluded.release_at,
            answer = excluded.answer,
            position = excluded.position,
            outcome = excluded.outcome,
            language = excluded.language
        """;

    private const string FirstHeldSql = """
        select id
        from received
        where site = @site
          and source = @source
          and state = 'held'
        order by sequence, id
        limit 1
        """;

    private static readonly HotSql FindOne = new(FindSql, ("site", DbType.String), ("source", DbType.String), ("id", DbType.String));

    private static readonly HotSql FirstHeldOne = new(FirstHeldSql, ("site", DbType.String), ("source", DbType.String));

    private static readonly HotSql SaveOne = new(SaveSql,
        ("site", DbType.String), ("source", DbType.String), ("id", DbType.String), ("digest", DbType.Binary), ("body", DbType.String),
        ("sequence", DbType.Int64), ("device_time", DbType.String), ("received", DbType.Int64), ("api_key", DbType.String),
        ("state", DbType.String), ("release_at", DbType.Int64), ("answer", DbType.String), ("position", DbType.Int64), ("outcome", DbType.Int64), ("language", DbType.String));

    public static ReceivedEvent? Find(HotStatements statements, string site, EventId id)
    {
        using var reader = statements.Read(FindOne, site, id.Source, id.Id);
        return reader.Read() ? Read(reader, id) : null;
    }

    /// <summary>The held event of a source with the lowest number; null where none waits.</summary>
    public static ReceivedEvent? FirstHeld(HotStatements statements, string site, string source)
    {
        string id;
        using (var reader = statements.Read(FirstHeldOne, site, source))
        {
            if (!reader.Read())
            {
                return null;
            }

            id = reader.GetString(0);
        }

        return Find(statements, site, new EventId(source, id));
    }

    public static void Save(HotStatements statements, string site, ReceivedEvent one) => statements.Write(SaveOne,
        site, one.Id.Source, one.Id.Id, one.Digest, one.Body, one.Sequence, one.DeviceTime, Microseconds.Of(one.Received), one.ApiKey,
        Word.Of(one.State), Microseconds.Of(one.ReleaseAt), one.Answer, one.Position, one.Outcome, one.Language);

    private static ReceivedEvent Read(DbDataReader reader, EventId id) => new()
    {
        Id = id,
        Digest = reader.GetFieldValue<byte[]>(0),
        Body = reader.IsDBNull(1) ? null : reader.GetString(1),
        Sequence = reader.IsDBNull(2) ? null : reader.GetInt64(2),
        DeviceTime = reader.IsDBNull(3) ? null : reader.GetString(3),
        Received = Microseconds.Read(reader.GetInt64(4)),
        ApiKey = reader.IsDBNull(5) ? null : reader.GetString(5),
        State = Word.Read<ReceivedState>(reader.GetString(6)) ?? throw new InvalidDataException($"'{reader.GetString(6)}' is no state of a received event."),
        ReleaseAt = reader.IsDBNull(7) ? null : Microseconds.Read(reader.GetInt64(7)),
        Answer = reader.IsDBNull(8) ? null : reader.GetString(8),
        Position = reader.IsDBNull(9) ? null : reader.GetInt64(9),
        Outcome = reader.IsDBNull(10) ? null : reader.GetInt64(10),
        Language = reader.IsDBNull(11) ? null : reader.GetString(11),
    };
}
