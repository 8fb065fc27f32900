using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using Dapper;
using Workshop.Beats.Listening;
using Workshop.Core.Labels;
using Workshop.Core.Recordings;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Recordings;

/// <summary>What was heard in a recording, and by what it was listened to.</summary>
/// <param name="LiftAngleTold">The lift angle was told with the recording; else it is the calibre's.</param>
/// <param name="Clock">The calibration that counted; null where none is known.</param>
public sealed record HeardRecording(Reading Reading, bool LiftAngleTold, ClockThatCounted? Clock);

/// <summary>A calibration of a recorder's clock, as it counted for a reading.</summary>
/// <param name="Saved">Microseconds; which of the device's calibrations it is.</param>
public sealed record ClockThatCounted(string Device, long Saved, double Ppm, double UncertaintyPpm, NodaTime.LocalDate MeasuredOn);

/// <summary>That a recording has come, and what was heard in it; the sound itself lies beside the database. Moments in microseconds.</summary>
public sealed record StoredRecording
{
    public required string Sha256 { get; init; }

    public required long Bytes { get; init; }

    public required double Seconds { get; init; }

    /// <summary>Samples a second.</summary>
    public required long SampleRate { get; init; }

    public required long Bits { get; init; }

    public required long Channels { get; init; }

    public required string Told { get; init; }

    public required string State { get; init; }

    /// <summary>How often listening was begun.</summary>
    public required long Tries { get; init; }

    public string? Failure { get; init; }

    public string? Reading { get; init; }

    public required long Received { get; init; }

    public long? Listened { get; init; }

    /// <summary>When its file was removed, its time being over.</summary>
    public long? Removed { get; init; }

    public required string Source { get; init; }

    public RecordingTold ReadTold() => JsonSerializer.Deserialize<RecordingTold>(Told, WorkshopJson.Options)!;

    public HeardRecording? ReadHeard() => Reading is null ? null : JsonSerializer.Deserialize<HeardRecording>(Reading, WorkshopJson.Options);

    public RecordingState StateRead => Word.Read<RecordingState>(State) ?? RecordingState.Failed;
}

/// <summary>A recording of a job by its name.</summary>
public sealed record RecordingKey
{
    public required string Job { get; init; }

    public required string Sha256 { get; init; }
}

/// <summary>The table <c>recording</c>. What waits to be listened to is a row of it, and nothing else.</summary>
public static class RecordingStore
{
    private const string FindSql = """
        select sha256, bytes, seconds, sample_rate, bits, channels, told, state, tries, failure, reading, received, listened, removed, source
        from recording
        where site = @site
          and job = @job
          and sha256 = @sha256
        """;

    private const string OfJobSql = """
        select sha256, bytes, seconds, sample_rate, bits, channels, told, state, tries, failure, reading, received, listened, removed, source
        from recording
        where site = @site
          and job = @job
        order by received, sha256
        """;

    private const string WaitingSql = """
        select job, sha256
        from recording
        where site = @site
          and state = 'waiting'
        order by received, job, sha256
        limit @limit
        """;

    // Told anew it is listened to anew, with as many tries as at first; it came when it came first.
    private const string PutSql = """
        insert into recording (site, job, sha256, bytes, seconds, sample_rate, bits, channels, told, state, tries, received, source)
        values (@site, @job, @sha256, @bytes, @seconds, @sample_rate, @bits, @channels, @told, 'waiting', 0, @received, @source)
        on conflict (site, job, sha256) do update
        set told = excluded.told,
            state = 'waiting',
            tries = 0,
            failure = null,
            reading = null,
            analyser_version = null,
            listened = null,
            removed = null,
            source = excluded.source
        """;

    private const string BeginSql = """
        update recording
        set tries = tries + 1
        where site = @site
          and job = @job
          and sha256 = @sha256
          and state = 'waiting'
        """;

    private const string HearSql = """
        update recording
        set state = 'listened',
            failure = null,
            reading = @reading,
            analyser_version = @analyser_version,
            listened = @now
        where site = @site
          and job = @job
          and sha256 = @sha256
        """;

    private const string FailSql = """
        update recording
        set state = 'failed',
            failure = @failure,
            reading = null,
            analyser_version = null,
            listened = @now
        where site = @site
          and job = @job
          and sha256 = @sha256
        """;

    private const string AgainSql = """
        update recording
        set state = 'waiting',
            tries = 0,
            failure = null
        where site = @site
          and job = @job
          and sha256 = @sha256
        """;

    // Only what is over long enough can be due; whether the job is over, and since when, is looked at one by one.
    private const string OldSql = """
        select recording.job, recording.sha256
        from recording
        join job on job.site = recording.site
          and job.label = recording.job
          and job.closed = 1
        where recording.site = @site
          and recording.removed is null
          and recording.received < @before
        order by recording.received, recording.job, recording.sha256
        limit @limit offset @skip
        """;

    private const string RemoveSql = """
        update recording
        set removed = @now
        where site = @site
          and job = @job
          and sha256 = @sha256
        """;

    public static StoredRecording? Find(DbConnection connection, string site, Label job, string sha256) =>
        connection.QueryFirstOrDefault<StoredRecording>(FindSql, new { site, job = job.ToString(), sha256 });

    public static StoredRecording? Find(Turn turn, Label job, string sha256) =>
        turn.QueryFirst<StoredRecording>(FindSql, new { site = turn.Site, job = job.ToString(), sha256 });

    /// <summary>A job's recordings, in the order in which they came.</summary>
    public static ImmutableArray<StoredRecording> OfJob(DbConnection connection, string site, Label job) =>
        [.. connection.Query<StoredRecording>(OfJobSql, new { site, job = job.ToString() })];

    /// <summary>What waits to be listened to, longest first.</summary>
    public static ImmutableArray<RecordingKey> Waiting(DbConnection connection, string site, int limit) =>
        [.. connection.Query<RecordingKey>(WaitingSql, new { site, limit })];

    /// <summary>What may be over long enough.</summary>
    public static ImmutableArray<RecordingKey> Old(Turn turn, long before, int limit, int skip) =>
        [.. turn.Query<RecordingKey>(OldSql, new { site = turn.Site, before, limit, skip })];

    /// <summary>A recording waits from now on.</summary>
    public static void Put(Turn turn, Label job, StoredRecording one) => turn.Execute(PutSql, new
    {
        site = turn.Site,
        job = job.ToString(),
        sha256 = one.Sha256,
        bytes = one.Bytes,
        seconds = one.Seconds,
        sample_rate = one.SampleRate,
        bits = one.Bits,
        channels = one.Channels,
        told = one.Told,
        received = one.Received,
        source = one.Source,
    });

    /// <returns>false: it does not wait any more.</returns>
    public static bool Begin(Turn turn, Label job, string sha256) => turn.Execute(BeginSql, new { site = turn.Site, job = job.ToString(), sha256 }) == 1;

    public static void Hear(Turn turn, Label job, string sha256, HeardRecording heard) => turn.Execute(HearSql, new
    {
        site = turn.Site,
        job = job.ToString(),
        sha256,
        reading = JsonSerializer.Serialize(heard, WorkshopJson.Stored),
        analyser_version = (long)heard.Reading.AnalyserVersion,
        now = Microseconds.Of(turn.Now),
    });

    public static void Fail(Turn turn, Label job, string sha256, ListeningFailure why) =>
        turn.Execute(FailSql, new { site = turn.Site, job = job.ToString(), sha256, failure = Word.Of(why), now = Microseconds.Of(turn.Now) });

    /// <summary>It is listened to anew; what was heard before stays shown until then.</summary>
    public static void Again(Turn turn, Label job, string sha256) => turn.Execute(AgainSql, new { site = turn.Site, job = job.ToString(), sha256 });

    public static void Remove(Turn turn, Label job, string sha256) =>
        turn.Execute(RemoveSql, new { site = turn.Site, job = job.ToString(), sha256, now = Microseconds.Of(turn.Now) });
}
