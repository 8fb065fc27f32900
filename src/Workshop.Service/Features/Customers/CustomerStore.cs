using System.Data.Common;
using Dapper;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Customers;

/// <summary>A customer as the table keeps one.</summary>
public sealed record StoredCustomer
{
    public required string Id { get; init; }

    public required string Name { get; init; }

    public string? Telephone { get; init; }

    public string? Email { get; init; }

    public string? Address { get; init; }

    public string? Language { get; init; }

    /// <summary>Microseconds.</summary>
    public required long Created { get; init; }

    public required long Version { get; init; }
}

/// <summary>The table <c>customer</c>. Personal data lives here and nowhere else.</summary>
public static class CustomerStore
{
    private const string FindSql = """
        select id, name, telephone, email, address, language, created, version
        from customer
        where site = @site
          and id = @id
        """;

    private const string AddSql = """
        insert into customer (site, id, name, telephone, telephone_normalised, email, address, language, consents, created, version)
        values (@site, @id, @name, @telephone, @telephone_normalised, @email, @address, @language, '{}', @now, 1)
        """;

    private const string ChangeSql = """
        update customer
        set name = @name,
            telephone = @telephone,
            telephone_normalised = @telephone_normalised,
            email = @email,
            address = @address,
            language = @language,
            version = version + 1
        where site = @site
          and id = @id
        """;

    public static StoredCustomer? Find(DbConnection connection, string site, string id) =>
        connection.QueryFirstOrDefault<StoredCustomer>(FindSql, new { site, id });

    public static StoredCustomer? Find(Turn turn, string id) => turn.QueryFirst<StoredCustomer>(FindSql, new { site = turn.Site, id });

    public static void Add(Turn turn, string id, CustomerDetails details) => Write(turn, AddSql, id, details);

    /// <summary>Its version counts up by one.</summary>
    /// <returns>false: there is no such customer.</returns>
    public static bool Change(Turn turn, string id, CustomerDetails details) => Write(turn, ChangeSql, id, details) == 1;

    private static int Write(Turn turn, string sql, string id, CustomerDetails details) => turn.Execute(sql, new
    {
        site = turn.Site,
        id,
        name = details.Name?.Trim() ?? "",
        telephone = Said(details.Telephone),
        telephone_normalised = Telephone.Key(details.Telephone),
        email = Said(details.Email),
        address = Said(details.Address),
        language = Said(details.Language),
        now = Microseconds.Of(turn.Now),
    });

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
