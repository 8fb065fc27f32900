using System.Data.Common;
using System.Security.Cryptography;
using Dapper;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.PublicPages;

/// <summary>A link to a job's page as the table keeps one. Moments in microseconds.</summary>
public sealed record StoredLink
{
    public required string Site { get; init; }

    public required string Id { get; init; }

    public required string Job { get; init; }

    public required string View { get; init; }

    public required long Created { get; init; }

    /// <summary>Who made it.</summary>
    public required string Source { get; init; }

    public long? Revoked { get; init; }

    /// <summary>The letter it stands in; null for one that was made by itself.</summary>
    public string? Letter { get; init; }

    public Label Label => Label.Read(Job);

    public PublicView Shows => Word.Read<PublicView>(View) ?? PublicView.Status;
}

/// <summary>A letter about a job.</summary>
internal sealed record LetterAbout
{
    public required string Job { get; init; }

    public required string Letter { get; init; }
}

/// <summary>The tables <c>public_link</c>, <c>letter_link_key</c> and <c>public_try</c>.</summary>
public static class PublicLinkStore
{
    private const int KeyBytes = 32;

    private const string AddSql = """
        insert into public_link (site, id, hash, job, view, created, source, revoked, letter)
        values (@site, @id, @hash, @job, @view, @created, @source, null, @letter)
        on conflict (hash) do nothing
        """;

    private const string OfHashSql = """
        select site, id, job, view, created, source, revoked, letter
        from public_link
        where hash = @hash
          and revoked is null
        """;

    private const string OfIdSql = """
        select site, id, job, view, created, source, revoked, letter
        from public_link
        where site = @site
          and id = @id
        """;

    private const string OfJobSql = """
        select site, id, job, view, created, source, revoked, letter
        from public_link
        where site = @site
          and job = @job
        order by created, id
        """;

    private const string RevokeSql = """
        update public_link
        set revoked = @now
        where site = @site
          and id = @id
          and job = @job
          and revoked is null
        """;

    private const string RevokeMadeSql = """
        update public_link
        set revoked = @now
        where site = @site
          and job = @job
          and letter is null
          and revoked is null
        """;

    private const string RevokeInLetterSql = """
        update public_link
        set revoked = @now
        where site = @site
          and job = @job
          and letter = @letter
          and revoked is null
        """;

    private const string LettersToSql = """
        select distinct job, letter
        from letter
        where site = @site
          and customer = @customer
        order by job, letter
        """;

    private const string KeySql = """
        select secret
        from letter_link_key
        where site = @site
        """;

    private const string DrawKeySql = """
        insert into letter_link_key (site, secret, created)
        values (@site, @secret, @created)
        """;

    private const string TriesSql = """
        select tries
        from public_try
        where site = @site
          and link = @link
          and day = @day
        """;

    private const string CountTrySql = """
        insert into public_try (site, link, day, tries)
        values (@site, @link, @day, 1)
        on conflict (site, link, day) do update
        set tries = public_try.tries + 1
        """;

    private const string ForgetTriesSql = """
        delete from public_try
        where site = @site
          and link = @link
          and day < @day
        """;

    /// <summary>Adds a link, unless there is one with this hash: that one stays as it is, revoked too.</summary>
    /// <param name="letter">The letter it stands in.</param>
    public static void Add(Turn turn, string id, byte[] hash, Label job, PublicView view, string source, string? letter = null) => turn.Execute(
        AddSql, new { site = turn.Site, id, hash, job = job.ToString(), view = Word.Of(view), created = Microseconds.Of(turn.Now), source, letter });

    /// <summary>What the tokens in the site's letters are derived from; drawn when it is first needed.</summary>
    public static byte[] LetterKey(Turn turn)
    {
        if (turn.QueryFirst<byte[]>(KeySql, new { site = turn.Site }) is { } known)
        {
            return known;
        }

        var drawn = RandomNumberGenerator.GetBytes(KeyBytes);
        turn.Execute(DrawKeySql, new { site = turn.Site, secret = drawn, created = Microseconds.Of(turn.Now) });
        return drawn;
    }

    /// <summary>The link of a token's hash; null for one that nobody made, and for one that was revoked.</summary>
    public static StoredLink? OfHash(DbConnection connection, byte[] hash) => connection.QueryFirstOrDefault<StoredLink>(OfHashSql, new { hash });

    public static StoredLink? OfId(Turn turn, string id) => turn.QueryFirst<StoredLink>(OfIdSql, new { site = turn.Site, id });

    /// <summary>All links of a job, revoked ones too, the oldest first.</summary>
    public static IReadOnlyList<StoredLink> OfJob(DbConnection connection, string site, Label job) =>
        connection.Query<StoredLink>(OfJobSql, new { site, job = job.ToString() }).AsList();

    /// <returns>false: there is no such link of this job, or it is revoked already.</returns>
    public static bool Revoke(Turn turn, Label job, string id) => turn.Execute(RevokeSql, new { site = turn.Site, id, job = job.ToString(), now = Microseconds.Of(turn.Now) }) == 1;

    /// <summary>Revokes the links of a job that stand in no letter.</summary>
    public static void RevokeMade(Turn turn, Label job) => turn.Execute(RevokeMadeSql, new { site = turn.Site, job = job.ToString(), now = Microseconds.Of(turn.Now) });

    /// <summary>Revokes the links in all letters to a customer.</summary>
    public static void RevokeInLettersTo(Turn turn, string customer)
    {
        foreach (var written in turn.Query<LetterAbout>(LettersToSql, new { site = turn.Site, customer }))
        {
            turn.Execute(RevokeInLetterSql, new { site = turn.Site, job = written.Job, letter = written.Letter, now = Microseconds.Of(turn.Now) });
        }
    }

    /// <summary>Wrong tries at the second factor on a day.</summary>
    public static long Tries(Turn turn, string link, LocalDate day) => turn.QueryFirst<long?>(TriesSql, new { site = turn.Site, link, day = LocalDatePattern.Iso.Format(day) }) ?? 0;

    /// <summary>Counts a wrong try; those of earlier days are forgotten.</summary>
    public static void CountTry(Turn turn, string link, LocalDate day)
    {
        var key = new { site = turn.Site, link, day = LocalDatePattern.Iso.Format(day) };
        turn.Execute(ForgetTriesSql, key);
        turn.Execute(CountTrySql, key);
    }
}
