using System.Collections.Concurrent;
using Dapper;
using Workshop.Core.Shop;

namespace Workshop.Service.Storage;

/// <summary>The shop's rules for those who only read; kept until a newer version is saved, by whichever instance.</summary>
public sealed class ShopRulesSource(Reader reader)
{
    private const string NewestVersionSql = """
        select coalesce(max(stream_version), 0)
        from journal
        where site = @site
          and stream = 'shop'
        """;

    private readonly ConcurrentDictionary<string, ShopRules> kept = new(StringComparer.Ordinal);

    public Task<ShopRules> Read(string site, CancellationToken cancel = default) => reader.Read(
        connection =>
        {
            var newest = connection.QuerySingle<long>(NewestVersionSql, new { site });
            return kept.TryGetValue(site, out var rules) && rules.Version == newest ? rules : kept[site] = ShopRulesReader.Read(connection, site);
        },
        cancel);
}
