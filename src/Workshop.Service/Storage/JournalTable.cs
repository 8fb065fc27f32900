using System.Collections.Immutable;
using System.Data;
using System.Data.Common;
using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Service.Storage;

/// <summary>An event's data as its sender wrote it, for the entry of the same identity.</summary>
public sealed record AsSent
{
    public required EventId Id { get; init; }

    /// <summary>The text of <c>data</c>, byte for byte.</summary>
    public required string Data { get; init; }

    /// <summary>The device's own running number.</summary>
    public long? Sequence { get; init; }

    /// <summary>The device's own time, as it wrote it.</summary>
    public string? DeviceTime { get; init; }
}

/// <summary>One row of the journal, as it stands there.</summary>
public sealed record JournalRow
{
    public required string Site { get; init; }

    public required long Position { get; init; }

    public required string Stream { get; init; }

    public required long StreamVersion { get; init; }

    public required string Source { get; init; }

    public required string Id { get; init; }

    public long? Sequence { get; init; }

    public string? DeviceTime { get; init; }

    public required long Received { get; init; }

    public required long Effective { get; init; }

    public required string OrderSource { get; init; }

    public required long OrderSequence { get; init; }

    public string? Person { get; init; }

    public required string Type { get; init; }

    public required long Schema { get; init; }

    public required string Data { get; init; }

    public byte[]? Salt { get; init; }

    public required byte[] Digest { get; init; }

    public required string Judged { get; init; }

    public required string Disposition { get; init; }

    public required string Flags { get; init; }

    public required long RulesVersion { get; init; }

    public string? CausedBySource { get; init; }

    public string? CausedById { get; init; }

    public required byte[] Hash { get; init; }

    /// <summary>The row as the rules of the workshop know it.</summary>
    public Entry ToEntry() => JournalTable.EntryOf(
        Position, StreamVersion, Source, Id, Received, Effective, OrderSource, OrderSequence, Type, Data, Judged, Disposition, Flags, RulesVersion, CausedBySource, CausedById, Sequence);

    /// <summary>What the chain covers of it.</summary>
    public ChainLink ToLink() => new()
    {
        Site = Site,
        Position = Position,
        Stream = Stream,
        StreamVersion = StreamVersion,
        Source = Source,
        Id = Id,
        Effective = Effective,
        Type = Type,
        Disposition = Disposition,
        Digest = Digest,
        Judged = Judged,
    };
}

/// <summary>The table <c>journal</c>: what happened, written once and never changed.</summary>
internal static class JournalTable
{
    private const string InsertEntrySql = """
        insert into journal (
            site, position, stream, stream_version, source, id, sequence, device_time, received, effective, order_source, order_sequence,
            person, type, schema, data, salt, digest, judged, disposition, flags, rules_version, caused_by_source, caused_by_id, hash)
        values (
            @site, @position, @stream, @stream_version, @source, @id, @sequence, @device_time, @received, @effective, @order_source, @order_sequence,
            @person, @type, @schema, @data, @salt, @digest, @judged, @disposition, @flags, @rules_version, @caused_by_source, @caused_by_id, @hash)
        """;

    private const string StreamSql = """
        select position, stream_version, source, id, received, effective, order_source, order_sequence,
               type, data, judged, disposition, flags, rules_version, caused_by_source, caused_by_id, sequence
        from journal
        where site = @site
          and stream = @stream
        """;

    private const string LastVersionSql = """
        select coalesce(max(stream_version), 0)
        from journal
        where site = @site
          and stream = @stream
        """;

    /// <summary>The version of what <c>data</c> holds; a later shape of the same type counts up.</summary>
    private const long Schema = 1;

    public static readonly HotSql InsertEntry = new(InsertEntrySql,
        ("site", DbType.String), ("position", DbType.Int64), ("stream", DbType.String), ("stream_version", DbType.Int64),
        ("source", DbType.String), ("id", DbType.String), ("sequence", DbType.Int64), ("device_time", DbType.String),
        ("received", DbType.Int64), ("effective", DbType.Int64), ("order_source", DbType.String), ("order_sequence", DbType.Int64),
        ("person", DbType.String), ("type", DbType.String), ("schema", DbType.Int64), ("data", DbType.String), ("salt", DbType.Binary),
        ("digest", DbType.Binary), ("judged", DbType.String), ("disposition", DbType.String), ("flags", DbType.String),
        ("rules_version", DbType.Int64), ("caused_by_source", DbType.String), ("caused_by_id", DbType.String), ("hash", DbType.Binary));

    public static readonly HotSql Stream = new(StreamSql, ("site", DbType.String), ("stream", DbType.String));

    public static readonly HotSql LastVersion = new(LastVersionSql, ("site", DbType.String), ("stream", DbType.String));

    /// <summary>Writes one entry and gives its hash.</summary>
    public static byte[] Insert(HotStatements statements, string site, StreamEntry one, AsSent? sent, ReadOnlySpan<byte> previousHash, byte[] salt)
    {
        var entry = one.Entry;
        var own = sent is not null && sent.Id == entry.Id ? sent : null;
        var data = own?.Data ?? EventCodec.Write(entry.Event);
        var judged = EventCodec.WriteJudged(entry.Judged);
        var digest = ChainHash.Digest(salt, data);
        var link = new ChainLink
        {
            Site = site,
            Position = entry.Position,
            Stream = one.Stream,
            StreamVersion = entry.StreamVersion,
            Source = entry.Id.Source,
            Id = entry.Id.Id,
            Effective = Microseconds.Of(entry.Effective),
            Type = entry.Event.Type,
            Disposition = Word.Of(entry.Disposition),
            Digest = digest,
            Judged = judged,
        };
        var hash = ChainHash.Next(previousHash, link);

        statements.Write(InsertEntry,
            site, entry.Position, one.Stream, entry.StreamVersion, entry.Id.Source, entry.Id.Id, own?.Sequence ?? entry.Sequence, own?.DeviceTime,
            Microseconds.Of(entry.Received), link.Effective, entry.Place.OrderSource, entry.Place.OrderSequence,
            entry.Person, link.Type, Schema, data, salt, digest, judged, link.Disposition, string.Join(' ', entry.Flags),
            entry.RulesVersion, entry.CausedBy?.Source, entry.CausedBy?.Id, hash);
        return hash;
    }

    /// <summary>All entries of a stream, in the order of their places.</summary>
    public static ImmutableArray<Entry> Read(DbDataReader reader)
    {
        var entries = new List<Entry>();
        while (reader.Read())
        {
            entries.Add(EntryOf(
                reader.GetInt64(0), reader.GetInt64(1), reader.GetString(2), reader.GetString(3), reader.GetInt64(4), reader.GetInt64(5),
                reader.GetString(6), reader.GetInt64(7), reader.GetString(8), reader.GetString(9), reader.GetString(10), reader.GetString(11),
                reader.GetString(12), reader.GetInt64(13), TextOrNull(reader, 14), TextOrNull(reader, 15), reader.IsDBNull(16) ? null : reader.GetInt64(16)));
        }

        entries.Sort((one, other) => one.Place.CompareTo(other.Place));
        return [.. entries];
    }

    public static Entry EntryOf(
        long position, long streamVersion, string source, string id, long received, long effective, string orderSource, long orderSequence,
        string type, string data, string judged, string disposition, string flags, long rulesVersion, string? causedBySource, string? causedById, long? sequence)
    {
        var kept = EventCodec.ReadJudged(judged);
        return new Entry
        {
            Id = new EventId(source, id),
            Place = new Place(Microseconds.Read(effective), orderSource, orderSequence, position, kept.InsteadOf?.Position),
            StreamVersion = streamVersion,
            Received = Microseconds.Read(received),
            Event = EventCodec.ReadKept(type, data),
            Judged = kept,
            Disposition = Word.Read<Disposition>(disposition) ?? throw new InvalidDataException($"The journal holds the disposition '{disposition}'."),
            Flags = FlagList.Read(flags),
            RulesVersion = rulesVersion,
            CausedBy = causedBySource is not null && causedById is not null ? new EventId(causedBySource, causedById) : null,
            Sequence = sequence,
        };
    }

    private static string? TextOrNull(DbDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetString(column);
}
