using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using Dapper;
using NodaTime;
using NodaTime.Text;
using Workshop.Core.Parties;
using Workshop.Core.Search;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Features.Customers;

/// <summary>A customer as the table keeps one.</summary>
public sealed record StoredCustomer
{
    public required string Id { get; init; }

    public required string Name { get; init; }

    public string? Telephone { get; init; }

    /// <summary>E.164 with a +, or digits alone.</summary>
    public string? TelephoneNormalised { get; init; }

    public string? Email { get; init; }

    public string? Address { get; init; }

    public string? Language { get; init; }

    /// <summary>A list of <see cref="CustomerConsent"/> as JSON; an empty object where nobody was ever asked.</summary>
    public required string Consents { get; init; }

    public required string Contact { get; init; }

    public string? ContactBy { get; init; }

    /// <summary>YYYY-MM-DD.</summary>
    public string? DeceasedOn { get; init; }

    /// <summary>A list of <see cref="CustomerAddress"/> as JSON, by the day they hold from.</summary>
    public string Addresses { get; init; } = "[]";

    /// <summary>A list of <see cref="PartyWay"/> as JSON.</summary>
    public string Unreachable { get; init; } = "[]";

    /// <summary>Microseconds.</summary>
    public required long Created { get; init; }

    public required long Version { get; init; }

    public ImmutableArray<CustomerAddress> ReadAddresses() => JsonSerializer.Deserialize<ImmutableArray<CustomerAddress>>(Addresses, WorkshopJson.Options);

    public ImmutableArray<PartyWay> ReadUnreachable() => JsonSerializer.Deserialize<ImmutableArray<PartyWay>>(Unreachable, WorkshopJson.Options);

    /// <summary>The address on a day: the newest that holds from then or before, else the one without a day.</summary>
    public string? AddressOn(LocalDate day) => ReadAddresses().LastOrDefault(one => one.ValidFrom <= day)?.Address ?? Address;

    /// <summary>Whether they were asked how the house may write to them.</summary>
    public bool SaidHowToWrite => ReadConsents().Any(one => one.Kind == ConsentKind.Messages);

    public ImmutableArray<CustomerConsent> ReadConsents() =>
        Consents == "{}" ? [] : JsonSerializer.Deserialize<ImmutableArray<CustomerConsent>>(Consents, WorkshopJson.Options);
}

/// <summary>The table <c>customer</c>. Personal data lives here and nowhere else.</summary>
public static class CustomerStore
{
    private const string FindSql = """
        select id, name, telephone, telephone_normalised, email, address, language, consents, contact, contact_by, deceased_on, addresses, unreachable, created, version
        from customer
        where site = @site
          and id = @id
        """;

    private const string ListSql = """
        select id, name, telephone, telephone_normalised, email, address, language, consents, contact, contact_by, deceased_on, addresses, unreachable, created, version
        from customer
        where site = @site
          and id < @before
        order by id desc
        limit @limit
        """;

    private const string AddSql = """
        insert into customer (
            site, id, name, telephone, telephone_normalised, telephone_reversed, email, address, language, consents, contact, contact_by, deceased_on, addresses, unreachable,
            gram_version, created, version)
        values (
            @site, @id, @name, @telephone, @telephone_normalised, @telephone_reversed, @email, @address, @language, @consents, @contact, @contact_by, @deceased_on, @addresses, @unreachable,
            @gram_version, @now, 1)
        """;

    private const string ChangeSql = """
        update customer
        set name = @name,
            telephone = @telephone,
            telephone_normalised = @telephone_normalised,
            telephone_reversed = @telephone_reversed,
            email = @email,
            address = @address,
            language = @language,
            consents = @consents,
            contact = @contact,
            contact_by = @contact_by,
            deceased_on = @deceased_on,
            addresses = @addresses,
            unreachable = @unreachable,
            gram_version = @gram_version,
            version = version + 1
        where site = @site
          and id = @id
        """;

    private const string SetUnreachableSql = """
        update customer
        set unreachable = @unreachable,
            version = version + 1
        where site = @site
          and id = @id
        """;

    private const string ForgetTelephoneSql = """
        update customer
        set telephone_normalised = null,
            telephone_reversed = null
        where site = @site
          and id = @id
        """;

    public static StoredCustomer? Find(DbConnection connection, string site, string id) =>
        connection.QueryFirstOrDefault<StoredCustomer>(FindSql, new { site, id });

    public static StoredCustomer? Find(Turn turn, string id) => turn.QueryFirst<StoredCustomer>(FindSql, new { site = turn.Site, id });

    /// <summary>Newest first: ids sort by when they were made.</summary>
    public static IReadOnlyList<StoredCustomer> List(DbConnection connection, string site, string before, int limit) =>
        connection.Query<StoredCustomer>(ListSql, new { site, before, limit }).AsList();

    public static void Add(Turn turn, string id, CustomerDetails details) => Write(turn, AddSql, id, details);

    /// <summary>Its version counts up by one.</summary>
    /// <returns>false: there is no such customer.</returns>
    public static bool Change(Turn turn, string id, CustomerDetails details) => Write(turn, ChangeSql, id, details) == 1;

    /// <summary>Something came back by these ways.</summary>
    public static void SetUnreachable(Turn turn, string id, ImmutableArray<PartyWay> ways) =>
        turn.Execute(SetUnreachableSql, new { site = turn.Site, id, unreachable = JsonSerializer.Serialize(ways, WorkshopJson.Options) });

    /// <summary>No name and no number leads to the customer any more; whoever erases a customer calls it in the same turn.</summary>
    public static void ForgetHowToFind(Turn turn, string id)
    {
        GramTable.Forget(turn, GramTable.OfNames, id);
        turn.Execute(ForgetTelephoneSql, new { site = turn.Site, id });
    }

    private static int Write(Turn turn, string sql, string id, CustomerDetails details)
    {
        var telephone = Telephone.Normalised(details.Telephone, turn.Rules.Intake.Country);
        var today = turn.Rules.Calendar.DateOf(turn.Now);
        var rows = turn.Execute(sql, new
        {
            site = turn.Site,
            id,
            name = details.Name?.Trim() ?? "",
            telephone = Said(details.Telephone),
            telephone_normalised = telephone,
            telephone_reversed = GramTable.Reversed(telephone),
            email = Said(details.Email),
            address = Said(details.Address),
            language = Said(details.Language),
            consents = JsonSerializer.Serialize(details.Consents.Select(one => one with { SaidOn = one.SaidOn ?? today }), WorkshopJson.Options),
            contact = Word.Of(details.Contact),
            contact_by = details.ContactBy is { } by ? Word.Of(by) : null,
            deceased_on = details.DeceasedOn is { } day ? LocalDatePattern.Iso.Format(day) : null,
            addresses = JsonSerializer.Serialize(details.Addresses.OrderBy(one => one.ValidFrom), WorkshopJson.Options),
            unreachable = JsonSerializer.Serialize(details.Unreachable ?? [], WorkshopJson.Options),
            gram_version = FoldedText.Version,
            now = Microseconds.Of(turn.Now),
        });
        if (rows == 1)
        {
            GramTable.Put(turn, GramTable.OfNames, id, GramTable.OfName(details.Name));
        }

        return rows;
    }

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
