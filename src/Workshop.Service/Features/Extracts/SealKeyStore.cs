using System.Data.Common;
using System.Security.Cryptography;
using Dapper;
using Org.BouncyCastle.Crypto.Parameters;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Extracts;

/// <summary>A key as it is kept: 32 bytes each (RFC 8032). Moments in microseconds.</summary>
public sealed record SealKey
{
    public required string Site { get; init; }

    /// <summary>The first sixteen characters of the SHA-256 of the public key, in hexadecimal.</summary>
    public required string Id { get; init; }

    public required byte[] PrivateKey { get; init; }

    public required byte[] PublicKey { get; init; }

    public required long Created { get; init; }

    public long? Retired { get; init; }
}

/// <summary>The table <c>seal_key</c>. One key of a site seals; those before it only check.</summary>
public static class SealKeyStore
{
    private const string NewestSql = """
        select site, id, private_key, public_key, created, retired
        from seal_key
        where site = @site
          and retired is null
        """;

    private const string OfIdSql = """
        select site, id, private_key, public_key, created, retired
        from seal_key
        where id = @id
        """;

    private const string ListSql = """
        select site, id, private_key, public_key, created, retired
        from seal_key
        order by created, id
        """;

    private const string AddSql = """
        insert into seal_key (site, id, private_key, public_key, created, retired)
        values (@site, @id, @private_key, @public_key, @created, null)
        """;

    private const string RetireSql = """
        update seal_key
        set retired = @now
        where site = @site
          and retired is null
        """;

    /// <summary>The key that seals now; the first one is made when it is first needed.</summary>
    public static SealKey Current(Turn turn) => turn.QueryFirst<SealKey>(NewestSql, new { site = turn.Site }) ?? Make(turn);

    /// <summary>Retires the key that sealed until now, and makes another.</summary>
    public static SealKey Replace(Turn turn)
    {
        turn.Execute(RetireSql, new { site = turn.Site, now = Microseconds.Of(turn.Now) });
        return Make(turn);
    }

    public static SealKey? OfId(DbConnection connection, string id) => connection.QueryFirstOrDefault<SealKey>(OfIdSql, new { id });

    /// <summary>Of all sites, the oldest first; what is read of them is public.</summary>
    public static IReadOnlyList<SealKey> List(DbConnection connection) => connection.Query<SealKey>(ListSql).AsList();

    private static SealKey Make(Turn turn)
    {
        var secret = RandomNumberGenerator.GetBytes(Ed25519PrivateKeyParameters.KeySize);
        var open = new Ed25519PrivateKeyParameters(secret).GeneratePublicKey().GetEncoded();
        var key = new SealKey { Site = turn.Site, Id = Convert.ToHexStringLower(SHA256.HashData(open))[..16], PrivateKey = secret, PublicKey = open, Created = Microseconds.Of(turn.Now) };
        turn.Execute(AddSql, new { site = key.Site, id = key.Id, private_key = key.PrivateKey, public_key = key.PublicKey, created = key.Created });
        return key;
    }
}
