using System.Collections.Immutable;
using System.Data.Common;
using Dapper;
using Workshop.Core.Journal;
using Workshop.Core.Shop;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Storage;

/// <summary>A saved version of one of the shop's documents.</summary>
public sealed record ShopDocument
{
    public required string Kind { get; init; }

    public required string Id { get; init; }

    /// <summary>1, 2, 3 …</summary>
    public required long Version { get; init; }

    /// <summary>JSON, as saved.</summary>
    public required string Document { get; init; }

    /// <summary>Microseconds.</summary>
    public required long Saved { get; init; }

    /// <summary>The version of the shop's rules that began with it.</summary>
    public required long RulesVersion { get; init; }
}

/// <summary>That a version of a document was saved; the moment in microseconds.</summary>
public sealed record SavedVersion
{
    public required long Version { get; init; }

    public required long Saved { get; init; }

    public required long RulesVersion { get; init; }

    /// <summary>Who spoke: <c>/desk/…</c>, or the service.</summary>
    public required string Source { get; init; }

    public string? Person { get; init; }
}

/// <summary>
/// The shop's own data: calendar, kinds of work, people, benches, rules, machines. Nothing is overwritten: each save is a new version
/// and an entry in the stream <c>shop</c>, whose version is the version of the shop's rules.
/// </summary>
public static class ShopDocuments
{
    public const string Stream = "shop";

    /// <summary>The id where a kind has one document only (<c>calendar</c>, <c>rules</c>).</summary>
    public const string Only = "main";

    private const string NewestSql = """
        select kind, id, version, document, saved, rules_version
        from shop_document
        where site = @site
          and kind = @kind
          and id = @id
          and rules_version <= @as_of
        order by version desc
        limit 1
        """;

    private const string AtVersionSql = """
        select kind, id, version, document, saved, rules_version
        from shop_document
        where site = @site
          and kind = @kind
          and id = @id
          and version = @version
        """;

    private const string VersionsSql = """
        select kind, id, version, document, saved, rules_version
        from shop_document
        where site = @site
          and kind = @kind
          and id = @id
        order by version desc
        limit @limit
        """;

    private const string AllOfKindSql = """
        select kind, id, version, document, saved, rules_version
        from shop_document
        where site = @site
          and kind = @kind
          and version = (
              select max(newer.version)
              from shop_document as newer
              where newer.site = shop_document.site
                and newer.kind = shop_document.kind
                and newer.id = shop_document.id
                and newer.rules_version <= @as_of)
        order by id
        """;

    private const string InForceSql = """
        select kind, id, version, document, saved, rules_version
        from shop_document
        where site = @site
          and kind = @kind
          and id = @id
          and saved < @before
        order by version desc
        limit 1
        """;

    private const string PageOfKindSql = """
        select kind, id, version, document, saved, rules_version
        from shop_document
        where site = @site
          and kind = @kind
          and id > @after
          and version = (
              select max(newer.version)
              from shop_document as newer
              where newer.site = shop_document.site
                and newer.kind = shop_document.kind
                and newer.id = shop_document.id)
        order by id
        limit @limit
        """;

    // Who saved it stands in the entry that began this version of the rules.
    private const string SavedVersionsSql = """
        select shop_document.version, shop_document.saved, shop_document.rules_version, journal.source, journal.person
        from shop_document
        join journal on journal.site = shop_document.site
          and journal.stream = 'shop'
          and journal.stream_version = shop_document.rules_version
        where shop_document.site = @site
          and shop_document.kind = @kind
          and shop_document.id = @id
          and shop_document.version < @before
        order by shop_document.version desc
        limit @limit
        """;

    private const string SaveSql = """
        insert into shop_document (site, kind, id, version, document, saved, rules_version)
        values (@site, @kind, @id, @version, @document, @saved, @rules_version)
        """;

    public static ShopDocument? Newest(DbConnection connection, string site, string kind, string id = Only, long asOf = long.MaxValue) =>
        connection.QueryFirstOrDefault<ShopDocument>(NewestSql, new { site, kind, id, as_of = asOf });

    public static ShopDocument? AtVersion(DbConnection connection, string site, string kind, string id, long version) =>
        connection.QueryFirstOrDefault<ShopDocument>(AtVersionSql, new { site, kind, id, version });

    /// <summary>The versions of one document, the newest first.</summary>
    public static IReadOnlyList<ShopDocument> Versions(DbConnection connection, string site, string kind, string id, int limit = Reader.LongestPage) =>
        connection.Query<ShopDocument>(VersionsSql, new { site, kind, id, limit }).AsList();

    /// <summary>The newest version of every document of a kind, by id.</summary>
    /// <param name="asOf">The version of the shop's rules that is meant; the newest when left out.</param>
    public static IReadOnlyList<ShopDocument> AllOfKind(DbConnection connection, string site, string kind, long asOf = long.MaxValue) =>
        connection.Query<ShopDocument>(AllOfKindSql, new { site, kind, as_of = asOf }).AsList();

    /// <summary>The version that was in force until a moment.</summary>
    /// <param name="before">Microseconds; what was saved then or later is left out.</param>
    public static ShopDocument? InForce(DbConnection connection, string site, string kind, string id, long before) =>
        connection.QueryFirstOrDefault<ShopDocument>(InForceSql, new { site, kind, id, before });

    /// <summary>The newest version of the documents of a kind, in order of their ids, after one.</summary>
    public static IReadOnlyList<ShopDocument> Page(DbConnection connection, string site, string kind, string after, int limit) =>
        connection.Query<ShopDocument>(PageOfKindSql, new { site, kind, after, limit }).AsList();

    /// <summary>When and by whom each version of a document was saved, the newest first.</summary>
    /// <param name="before">A version; <see cref="long.MaxValue"/> for all.</param>
    public static IReadOnlyList<SavedVersion> SavedVersions(DbConnection connection, string site, string kind, string id, long before, int limit) =>
        connection.Query<SavedVersion>(SavedVersionsSql, new { site, kind, id, before, limit }).AsList();

    /// <summary>The newest version of every document of a kind, by id, as this turn sees it.</summary>
    public static IReadOnlyList<ShopDocument> AllOfKind(Turn turn, string kind) =>
        turn.Query<ShopDocument>(AllOfKindSql, new { site = turn.Site, kind, as_of = long.MaxValue });

    public static ShopDocument? Newest(Turn turn, string kind, string id = Only) =>
        turn.QueryFirst<ShopDocument>(NewestSql, new { site = turn.Site, kind, id, as_of = long.MaxValue });

    /// <summary>Saves a new version of what was found to be right: ask <see cref="Faults"/> first.</summary>
    /// <param name="document">JSON.</param>
    /// <param name="source">Who saves it: <c>/desk/&lt;key&gt;</c>, or the service.</param>
    /// <param name="person">The person of the house, where one is known.</param>
    /// <returns>The version saved.</returns>
    /// <exception cref="ArgumentException">The document cannot be read as one of its kind.</exception>
    public static ShopDocument Put(Turn turn, string kind, string id, string document, string source = EventId.Service, string? person = null)
    {
        if (Faults(turn, kind, id, document) is [var first, ..])
        {
            throw new ArgumentException($"The document {kind}/{id} is wrong at '{first.Pointer}': {first.Detail}", nameof(document));
        }

        return Save(turn, kind, id, document, source, person, turn.Rules.Version);
    }

    /// <summary>Everything that stands against saving this text as a document of its kind.</summary>
    public static ImmutableArray<Fault> Faults(Turn turn, string kind, string id, string document) =>
        ShopKinds.Find(kind) is { } known ? known.Faults(document, CheckFor(turn, id)) : ShopRulesReader.Faults(document);

    /// <summary>What a document of this turn is held against.</summary>
    public static DocumentCheck CheckFor(Turn turn, string id) => new()
    {
        Id = id,
        Rules = turn.Rules,
        Today = turn.Rules.Calendar.DateOf(turn.Now),
        OfKind = kind => AllOfKind(turn, kind),
        NamesOf = turn.NamesOf,
    };

    /// <summary>What a site begins with; one that has been here longer gets what has come since and leaves its own as it is.</summary>
    internal static void PutDefaults(Turn turn)
    {
        var rulesVersion = Newest(turn, ShopRulesReader.Calendar) is null ? 0 : turn.Rules.Version;
        var assembly = typeof(ShopDocuments).Assembly;
        foreach (var name in assembly.GetManifestResourceNames().Where(name => name.StartsWith(DefaultPrefix, StringComparison.Ordinal)).Order(StringComparer.Ordinal))
        {
            var parts = name[DefaultPrefix.Length..].Split('/');
            var id = Path.GetFileNameWithoutExtension(parts[1]);
            if (Newest(turn, parts[0], id) is not null)
            {
                continue;
            }

            Save(turn, parts[0], id, Default(parts[0], id), EventId.Service, person: null, rulesVersion);
        }
    }

    /// <summary>A document as it is shipped.</summary>
    internal static string Default(string kind, string id)
    {
        using var text = new StreamReader(typeof(ShopDocuments).Assembly.GetManifestResourceStream($"{DefaultPrefix}{kind}/{id}.json")!);
        return text.ReadToEnd().TrimEnd();
    }

    private const string DefaultPrefix = "Defaults/";

    // By whichever rules it was saved: a new site has none yet.
    private static ShopDocument Save(Turn turn, string kind, string id, string document, string source, string? person, long rulesVersion)
    {
        var saved = new ShopDocument
        {
            Kind = kind,
            Id = id,
            Version = (Newest(turn, kind, id)?.Version ?? 0) + 1,
            Document = document,
            Saved = Microseconds.Of(turn.Now),
            RulesVersion = turn.NextStreamVersion(Stream),
        };
        // First the document, then the entry: from the entry on the rules are read anew.
        turn.Execute(SaveSql, new
        {
            site = turn.Site,
            kind,
            id,
            version = saved.Version,
            document,
            saved = saved.Saved,
            rules_version = saved.RulesVersion,
        });
        turn.Append([new StreamEntry(Stream, new Entry
        {
            Id = new EventId(source, $"shop.document-saved/{kind}/{id}/{saved.Version}"),
            Place = new Place(turn.Now, source, OrderSequence: 0, turn.NextPosition),
            StreamVersion = saved.RulesVersion,
            Received = turn.Now,
            Event = new ShopDocumentSaved { Kind = kind, Id = id, Version = saved.Version },
            Judged = person is null ? Judged.Nothing : new Judged { Person = person },
            RulesVersion = rulesVersion,
        })]);
        if (rulesVersion > 0 && ShopKinds.Find(kind) is { InAgenda: true })
        {
            turn.RefreshAgendas();
        }
        else if (rulesVersion > 0 && ShopKinds.Find(kind) is { InHouse: true })
        {
            HouseAgenda.Refresh(turn);
        }

        return saved;
    }
}
