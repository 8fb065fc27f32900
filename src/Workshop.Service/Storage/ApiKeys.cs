using System.Buffers.Text;
using System.Collections.Concurrent;
using System.Data.Common;
using System.Diagnostics;
using System.Security.Cryptography;
using System.Text;
using Dapper;
using NodaTime;

namespace Workshop.Service.Storage;

/// <summary>A key as it is known here; the key itself is known to its holder alone.</summary>
public sealed record ApiKey
{
    public required string Id { get; init; }

    public required string Site { get; init; }

    /// <summary>The first characters of the key, to tell one from another.</summary>
    public required string Prefix { get; init; }

    /// <summary>What it speaks for: <c>/devices/bench-2/1</c>, <c>/desk/…</c>, <c>/storefront/…</c>.</summary>
    public required string Source { get; init; }

    /// <summary><c>bench</c>, <c>desk</c>, <c>manager</c>, <c>storefront</c>, <c>wall</c> or <c>operator</c>.</summary>
    public required string Role { get; init; }

    /// <summary>The bench it stands at, where it stands at one.</summary>
    public string? Bench { get; init; }

    /// <summary>Microseconds, as the two that follow.</summary>
    public required long Created { get; init; }

    public long? Revoked { get; init; }

    /// <summary>To the minute.</summary>
    public long? LastUsed { get; init; }
}

/// <summary>
/// The keys. Each is 32 random bytes; its SHA-256 is kept, which needs no salt nor slowness, since nobody guesses 32 random bytes.
/// Keys are added and revoked in a short transaction of their own, so also beside a running service.
/// </summary>
public sealed class ApiKeys(Database database, Reader reader)
{
    public const string KeyPrefix = "wk_";

    private const int ShownCharacters = 5;

    /// <summary>A key that was revoked elsewhere is refused after this time at the latest.</summary>
    private static readonly TimeSpan Remembered = TimeSpan.FromSeconds(2);

    private const int MostRemembered = 10_000;

    private const string AddSql = """
        insert into api_key (site, id, prefix, hash, source, role, bench, created, revoked, last_used)
        values (@site, @id, @prefix, @hash, @source, @role, @bench, @created, null, null)
        """;

    private const string RevokeSql = """
        update api_key
        set revoked = @now
        where site = @site
          and id = @id
          and revoked is null
        """;

    private const string OfDeviceSql = """
        select site, id, prefix, source, role, bench, created, revoked, last_used
        from api_key
        where site = @site
          and source > @from
          and source < @to
        order by source
        """;

    private const string RevokeDeviceSql = """
        update api_key
        set revoked = @now
        where site = @site
          and source > @from
          and source < @to
          and revoked is null
        """;

    private const string ListSql = """
        select site, id, prefix, source, role, bench, created, revoked, last_used
        from api_key
        where site = @site
        order by created, id
        """;

    private const string FindSql = """
        select site, id, prefix, source, role, bench, created, revoked, last_used
        from api_key
        where hash = @hash
          and revoked is null
        """;

    private const string OfIdSql = """
        select site, id, prefix, source, role, bench, created, revoked, last_used
        from api_key
        where site = @site
          and id = @id
        """;

    private const string UsedSql = """
        update api_key
        set last_used = @at
        where site = @site
          and id = @id
        """;

    private readonly ConcurrentDictionary<string, (ApiKey? Key, long At, long Generation)> remembered = new(StringComparer.Ordinal);
    private long generation;
    private readonly ConcurrentDictionary<(string Site, string Id), Instant> used = new();

    /// <summary>Makes a key, in a turn.</summary>
    /// <returns>What is kept of it, and the key itself, which is shown this once.</returns>
    public static (ApiKey Key, string Secret) Add(Turn turn, string source, string role, string? bench)
    {
        var (key, secret, row) = Make(turn.Site, source, role, bench, turn.Now);
        turn.Execute(AddSql, row);
        return (key, secret);
    }

    /// <summary>Revokes a key, in a turn; call <see cref="Forget"/> when it is over, and it is refused at once here, within seconds elsewhere.</summary>
    /// <returns>false: there is no such key, or it is revoked already.</returns>
    public static bool Revoke(Turn turn, string id) => turn.Execute(RevokeSql, new { site = turn.Site, id, now = Microseconds.Of(turn.Now) }) == 1;

    /// <summary>Every key that a device ever had, under any of its pairing numbers, in a turn.</summary>
    public static IReadOnlyList<ApiKey> OfDevice(Turn turn, string device)
    {
        var (from, to) = SourcesOf(device);
        return turn.Query<ApiKey>(OfDeviceSql, new { site = turn.Site, from, to });
    }

    /// <summary>Revokes whatever keys a device has, in a turn. After the commit: <see cref="Forget"/>.</summary>
    /// <returns>How many were revoked.</returns>
    public static int RevokeDevice(Turn turn, string device)
    {
        var (from, to) = SourcesOf(device);
        return turn.Execute(RevokeDeviceSql, new { site = turn.Site, from, to, now = Microseconds.Of(turn.Now) });
    }

    /// <summary>
    /// What was revoked in a turn is refused from now on. To be called when the turn is over: before the commit a revoked key would be
    /// found and remembered again.
    /// </summary>
    public void Forget()
    {
        // Whoever asked the database before this remembers nothing: their answer may be older than the commit.
        Interlocked.Increment(ref generation);
        remembered.Clear();
    }

    /// <summary>A key by its id, also one that was revoked since: what it said before was taken in.</summary>
    public static ApiKey? OfId(Turn turn, string id) => turn.QueryFirst<ApiKey>(OfIdSql, new { site = turn.Site, id });

    /// <summary>Makes a key beside a running service, in a short transaction of its own.</summary>
    /// <exception cref="StorageUnavailableException">The database took no write for some seconds.</exception>
    public (ApiKey Key, string Secret) Add(string site, string source, string role, string? bench, Instant now)
    {
        var (key, secret, row) = Make(site, source, role, bench, now);
        WriteBeside(AddSql, row);
        return (key, secret);
    }

    /// <summary>Revokes a key beside a running service, in a short transaction of its own.</summary>
    /// <returns>false: there is no such key, or it is revoked already.</returns>
    /// <exception cref="StorageUnavailableException">The database took no write for some seconds.</exception>
    public bool Revoke(string site, string id, Instant now)
    {
        var revoked = WriteBeside(RevokeSql, new { site, id, now = Microseconds.Of(now) }) == 1;
        Forget();
        return revoked;
    }

    public Task<IReadOnlyList<ApiKey>> List(string site, CancellationToken cancel = default) => reader.Query<ApiKey>(ListSql, new { site }, cancel);

    /// <summary>Whose key this is; null for one that nobody has, or that is revoked.</summary>
    public async ValueTask<ApiKey?> Find(string secret, CancellationToken cancel = default)
    {
        var hash = HashOf(secret);
        var name = Convert.ToHexString(hash);
        var present = Interlocked.Read(ref generation);
        if (remembered.TryGetValue(name, out var known) && known.Generation == present && Stopwatch.GetElapsedTime(known.At) < Remembered)
        {
            return known.Key;
        }

        var asked = Stopwatch.GetTimestamp();
        var key = await reader.QueryFirst<ApiKey>(FindSql, new { hash }, cancel);
        if (remembered.Count >= MostRemembered)
        {
            remembered.Clear();
        }

        remembered[name] = (key, asked, present);
        return key;
    }

    /// <summary>Whether a key has not been revoked.</summary>
    public async Task<bool> Holds(string site, string id, CancellationToken cancel = default) =>
        await reader.QueryFirst<ApiKey>(OfIdSql, new { site, id }, cancel) is { Revoked: null };

    /// <summary>Notes that a key was used; it reaches the database with the next <see cref="FlushUse"/>.</summary>
    public void Use(ApiKey key, Instant now) => used[(key.Site, key.Id)] = now;

    /// <summary>Writes when which key was last used; once a minute is enough.</summary>
    public async Task FlushUse(Writer writer, CancellationToken cancel = default)
    {
        foreach (var bySite in used.ToArray().GroupBy(one => one.Key.Site))
        {
            await writer.Turn(bySite.Key, turn =>
            {
                foreach (var ((site, id), at) in bySite)
                {
                    turn.Execute(UsedSql, new { site, id, at = Microseconds.Of(at) });
                }
            }, cancel);
            foreach (var one in bySite)
            {
                used.TryRemove(one);
            }
        }
    }

    // The digit after '/' ends the range: /devices/bench-2/1, /devices/bench-2/2 …, but nothing of bench-21.
    private static (string From, string To) SourcesOf(string device) => ($"/devices/{device}/", $"/devices/{device}0");

    internal static byte[] HashOf(string secret) => SHA256.HashData(Encoding.UTF8.GetBytes(secret));

    private static (ApiKey Key, string Secret, object Row) Make(string site, string source, string role, string? bench, Instant now)
    {
        var secret = KeyPrefix + Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));
        var key = new ApiKey
        {
            Id = Guid.CreateVersion7(now.ToDateTimeOffset()).ToString(),
            Site = site,
            Prefix = secret[..(KeyPrefix.Length + ShownCharacters)],
            Source = source,
            Role = role,
            Bench = bench,
            Created = Microseconds.Of(now),
        };
        return (key, secret, new { site, id = key.Id, prefix = key.Prefix, hash = HashOf(secret), source, role, bench, created = key.Created });
    }

    private int WriteBeside(string sql, object parameters)
    {
        try
        {
            using DbConnection connection = database.OpenShortWriter();
            return connection.Execute(sql, parameters);
        }
        catch (DbException failure) when (Database.SaysUnavailable(failure))
        {
            throw new StorageUnavailableException(failure);
        }
    }
}
