using System.Data.Common;
using Dapper;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Letters;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Letters;

/// <summary>How far something to be said has come.</summary>
public enum LetterState
{
    /// <summary>It is to be sent.</summary>
    Wanted,

    /// <summary>It is on its way to the mail server; whether it arrived there is not known yet.</summary>
    Sending,
    Said,
    Dropped,

    /// <summary>The mail server would not have it.</summary>
    Returned,
}

/// <summary>One thing to be said, as the table keeps it; moments in microseconds.</summary>
public sealed record StoredLetter
{
    public required string Id { get; init; }

    /// <summary>The letter it stands in: the id of its first part.</summary>
    public required string Letter { get; init; }

    public required string Job { get; init; }

    public required string Moment { get; init; }

    public required string Occasion { get; init; }

    public required string Customer { get; init; }

    public required string Speaker { get; init; }

    public required string State { get; init; }

    public string? Reason { get; init; }

    public required long Attempts { get; init; }

    public long? NextAttempt { get; init; }

    public long? SaidAt { get; init; }

    /// <summary>When it was given up; null where nobody need tell it otherwise.</summary>
    public long? GivenUp { get; init; }
}

/// <summary>The tables <c>letter</c>, <c>letter_look</c> and <c>letter_reading</c>.</summary>
public sealed class LetterStore(Reader reader)
{
    private const string PutSql = """
        insert into letter (site, id, letter, job, moment, occasion, customer, speaker, state, reason, day, wanted_at, attempts, next_attempt, said_at)
        values (@site, @id, @letter, @job, @moment, @occasion, @customer, @speaker, @state, null, @day, @now, 0, @next_attempt, @said_at)
        on conflict (site, id) do nothing
        """;

    private const string FindSql = """
        select id, letter, job, moment, occasion, customer, speaker, state, reason, attempts, next_attempt, said_at, given_up
        from letter
        where site = @site
          and id = @id
        """;

    private const string TogetherSql = """
        select id, letter, job, moment, occasion, customer, speaker, state, reason, attempts, next_attempt, said_at, given_up
        from letter
        where site = @site
          and letter = @letter
        order by id
        """;

    private const string OfJobSql = """
        select id, letter, job, moment, occasion, customer, speaker, state, reason, attempts, next_attempt, said_at, given_up
        from letter
        where site = @site
          and job = @job
        order by wanted_at, id
        """;

    private const string GivenUpSql = """
        select id, letter, job, moment, occasion, customer, speaker, state, reason, attempts, next_attempt, said_at, given_up
        from letter
        where site = @site
          and given_up is not null
        order by letter, id
        """;

    private const string WaitingSql = """
        select distinct letter
        from letter
        where site = @site
          and next_attempt <= @now
        order by letter
        limit @limit
        """;

    private const string WrittenSql = """
        select count(*)
        from letter
        where site = @site
          and customer = @customer
          and day = @day
          and letter <> @besides
          and state in ('wanted', 'sending', 'said')
        """;

    private const string MoveSql = """
        update letter
        set state = @state,
            reason = @reason,
            day = @day,
            attempts = @attempts,
            next_attempt = @next_attempt,
            said_at = @said_at,
            given_up = @given_up
        where site = @site
          and id = @id
        """;

    private const string LookAtSql = """
        insert into letter_look (site, job, look_at)
        values (@site, @job, @look_at)
        on conflict (site, job) do update set
            look_at = excluded.look_at
        """;

    private const string BeginToLookSql = """
        insert into letter_look (site, job, look_at)
        values (@site, @job, @look_at)
        on conflict (site, job) do nothing
        """;

    private const string LookNoMoreSql = """
        delete from letter_look
        where site = @site
          and job = @job
        """;

    private const string ToLookAtSql = """
        select job
        from letter_look
        where site = @site
          and look_at <= @now
        order by look_at, job
        limit @limit
        """;

    private const string ReadToSql = """
        select position
        from letter_reading
        where site = @site
        """;

    private const string SaveReadToSql = """
        insert into letter_reading (site, position)
        values (@site, @position)
        on conflict (site) do update set
            position = excluded.position
        """;

    private const string NewsSql = """
        select position, stream
        from journal
        where site = @site
          and position > @after
        order by position
        limit @limit
        """;

    public static StoredLetter? Find(Turn turn, string id) => turn.QueryFirst<StoredLetter>(FindSql, new { site = turn.Site, id });

    /// <summary>The parts of one letter.</summary>
    public static IReadOnlyList<StoredLetter> Together(Turn turn, string letter) => turn.Query<StoredLetter>(TogetherSql, new { site = turn.Site, letter });

    public static IReadOnlyList<StoredLetter> Of(DbConnection connection, string site, Label job) =>
        connection.Query<StoredLetter>(OfJobSql, new { site, job = job.ToString() }).AsList();

    /// <summary>What could not be sent and is still to be told, letter by letter.</summary>
    public static IReadOnlyList<StoredLetter> GivenUp(DbConnection connection, string site) => connection.Query<StoredLetter>(GivenUpSql, new { site }).AsList();

    /// <summary>What of it is about one job.</summary>
    public static IReadOnlyList<StoredLetter> GivenUp(Turn turn, Label job) => [.. turn.Query<StoredLetter>(OfJobSql, new { site = turn.Site, job = job.ToString() }).Where(part => part.GivenUp is not null)];

    /// <summary>Whether somebody has, or is about to have, another letter on a day.</summary>
    public static bool IsWrittenTo(Turn turn, string customer, LocalDate day, string besides) =>
        turn.QueryFirst<long>(WrittenSql, new { site = turn.Site, customer, day = Day(day), besides }) > 0;

    public static void Put(Turn turn, string id, string letter, Label job, LetterOccasion one, string customer, LetterSpeaker speaker, LocalDate day) => turn.Execute(PutSql, new
    {
        site = turn.Site,
        id,
        letter,
        job = job.ToString(),
        moment = Word.Of(one.Moment),
        occasion = one.Occasion,
        customer,
        speaker = Word.Of(speaker),
        state = Word.Of(speaker == LetterSpeaker.Workshop ? LetterState.Wanted : LetterState.Said),
        day = Day(day),
        now = Microseconds.Of(turn.Now),
        next_attempt = speaker == LetterSpeaker.Workshop ? Microseconds.Of(turn.Now) : (long?)null,
        said_at = speaker == LetterSpeaker.Workshop ? (long?)null : Microseconds.Of(turn.Now),
    });

    /// <param name="day">The day it goes, or went, or last tried to.</param>
    /// <param name="nextAttempt">Null where nothing is to be done any more.</param>
    /// <param name="givenUp">Every attempt failed, and somebody is to tell it otherwise.</param>
    public static void Move(Turn turn, StoredLetter part, LetterState state, LocalDate day, Instant? nextAttempt = null, string? reason = null, int attempts = 0, bool givenUp = false) => turn.Execute(MoveSql, new
    {
        site = turn.Site,
        id = part.Id,
        state = Word.Of(state),
        reason,
        day = Day(day),
        attempts = part.Attempts + attempts,
        next_attempt = Microseconds.Of(nextAttempt),
        said_at = state == LetterState.Said ? Microseconds.Of(turn.Now) : (long?)null,
        given_up = givenUp ? Microseconds.Of(turn.Now) : (long?)null,
    });

    /// <param name="at">Null where nothing is to come.</param>
    public static void LookAt(Turn turn, string job, Instant? at)
    {
        if (at is { } moment)
        {
            turn.Execute(LookAtSql, new { site = turn.Site, job, look_at = Microseconds.Of(moment) });
        }
        else
        {
            turn.Execute(LookNoMoreSql, new { site = turn.Site, job });
        }
    }

    /// <summary>Looked at now, unless it is known when it is to be.</summary>
    public static void BeginToLookAt(Turn turn, string job) => turn.Execute(BeginToLookSql, new { site = turn.Site, job, look_at = Microseconds.Of(turn.Now) });

    public static IReadOnlyList<Label> ToLookAt(Turn turn, int limit) =>
        [.. turn.Query<string>(ToLookAtSql, new { site = turn.Site, now = Microseconds.Of(turn.Now), limit }).Select(Label.Read)];

    /// <summary>Every job of which the journal has said something since it was last read for letters is to be looked at.</summary>
    /// <returns>How many entries were read; fewer than the limit where there are no more.</returns>
    public static int Follow(Turn turn, int limit)
    {
        var after = turn.QueryFirst<long?>(ReadToSql, new { site = turn.Site }) ?? 0;
        var news = turn.Query<NewEntry>(NewsSql, new { site = turn.Site, after, limit });
        if (news.Count == 0)
        {
            return 0;
        }

        foreach (var job in news.Where(one => one.Stream.StartsWith("job/", StringComparison.Ordinal)).Select(one => one.Stream["job/".Length..]).Distinct(StringComparer.Ordinal))
        {
            LookAt(turn, job, turn.Now);
        }

        turn.Execute(SaveReadToSql, new { site = turn.Site, position = news[^1].Position });
        return news.Count;
    }

    /// <summary>Letters that are to be sent by now.</summary>
    public Task<IReadOnlyList<string>> Waiting(string site, Instant now, int limit, CancellationToken cancel) =>
        reader.Query<string>(WaitingSql, new { site, now = Microseconds.Of(now), limit }, cancel);

    private static string Day(LocalDate day) => $"{day:uuuu-MM-dd}";

    private sealed record NewEntry
    {
        public required long Position { get; init; }

        public required string Stream { get; init; }
    }
}
