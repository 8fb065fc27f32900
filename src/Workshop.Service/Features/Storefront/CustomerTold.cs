using System.Collections.Immutable;
using System.Text.Json;
using NodaTime;
using Workshop.Service.Features.Customers;
using Workshop.Service.Features.Jobs;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Orders;

namespace Workshop.Service.Features.Storefront;

/// <summary>One thing told of a customer.</summary>
/// <param name="By">The event that told it: it decides between two of one moment.</param>
public sealed record ToldMember(Instant From, string By, JsonElement Value);

/// <summary>
/// What a storefront told of a customer, member by member, each with the moment it holds from. The newest that has begun holds, in whatever
/// order they were heard; one that begins later waits for its day.
/// </summary>
public sealed record CustomerTold
{
    public ImmutableSortedDictionary<string, ImmutableArray<ToldMember>> Members { get; init; } = ImmutableSortedDictionary<string, ImmutableArray<ToldMember>>.Empty;

    /// <summary>What was last written to the customer: a member that somebody at the desk put right is not put wrong again.</summary>
    public ImmutableSortedDictionary<string, JsonElement> Written { get; init; } = ImmutableSortedDictionary<string, JsonElement>.Empty;

    public CustomerTold With(string member, ToldMember told)
    {
        var all = Members.GetValueOrDefault(member, []);
        return all.Any(one => one.From == told.From && one.By == told.By) ? this
            : this with { Members = Members.SetItem(member, [.. all.Add(told).OrderBy(one => one.From).ThenBy(one => one.By, StringComparer.Ordinal)]) };
    }

    public JsonElement? At(string member, Instant now) =>
        Members.GetValueOrDefault(member, []).LastOrDefault(one => one.From <= now)?.Value;

    /// <summary>When something begins to hold next.</summary>
    public Instant? BeginsAfter(Instant now) => Members.Values.SelectMany(all => all).Where(one => one.From > now).Select(one => (Instant?)one.From).Min();
}

/// <summary>The table <c>storefront_customer</c>, and the customers of the house behind it.</summary>
public static class StorefrontCustomers
{
    private const string FindSql = """
        select storefront, ref, customer_id, told
        from storefront_customer
        where site = @site
          and storefront = @storefront
          and ref = @customer
        """;

    private const string SaveSql = """
        insert into storefront_customer (site, storefront, ref, customer_id, told, begins)
        values (@site, @storefront, @customer, @customer_id, @told, @begins)
        on conflict (site, storefront, ref) do update set
            customer_id = excluded.customer_id,
            told = excluded.told,
            begins = excluded.begins
        """;

    private const string BegunSql = """
        select storefront, ref, customer_id, told
        from storefront_customer
        where site = @site
          and begins is not null
          and begins <= @now
        order by begins
        limit 100
        """;

    private const string ForgetSql = """
        update storefront_customer
        set told = '{"members":{},"written":{}}',
            begins = null
        where site = @site
          and storefront = @storefront
          and ref = @customer
        """;

    private const string OfCustomerSql = """
        select storefront, ref, customer_id, told
        from storefront_customer
        where site = @site
          and customer_id = @customer_id
        """;

    /// <summary>The house's id of a storefront's customer; null where there is none yet.</summary>
    public static string? IdOf(Turn turn, string storefront, string customer) => Find(turn, storefront, customer)?.CustomerId;

    /// <summary>All that storefronts told of a customer goes: messages word for word, addresses of orders, words about watches. What was ordered and paid stays.</summary>
    public static void ForgetAllOf(Turn turn, string customerId)
    {
        foreach (var known in turn.Query<Row>(OfCustomerSql, new { site = turn.Site, customer_id = customerId }))
        {
            MessageStore.Forget(turn, known.Storefront, known.Ref);
            OrderStore.Forget(turn, known.Storefront, known.Ref);
            turn.Execute(ForgetSql, new { site = turn.Site, storefront = known.Storefront, customer = known.Ref });
        }

        ArrivalStore.ForgetWords(turn, customerId);
    }

    /// <summary>Takes in what was told.</summary>
    /// <param name="from">From when on it holds.</param>
    /// <param name="whole">What is left out is told to be nothing; false where it stays as it was.</param>
    /// <param name="mayBegin">The customer is made where there is none yet: there is an order.</param>
    /// <returns>The house's id; null where there is none.</returns>
    public static string? Hear(Turn turn, string storefront, ToldCustomer told, string? address, Instant from, string by, bool whole, bool mayBegin)
    {
        var before = Find(turn, storefront, told.Ref);
        var known = before?.Read() ?? new CustomerTold();
        foreach (var (member, value) in Members(told, address, whole))
        {
            known = known.With(member, new ToldMember(from, by, value));
        }

        return Write(turn, storefront, told.Ref, before?.CustomerId, known, mayBegin);
    }

    /// <summary>What was told to hold from a day on that has come by now.</summary>
    public static void Begin(Turn turn)
    {
        foreach (var row in turn.Query<Row>(BegunSql, new { site = turn.Site, now = Microseconds.Of(turn.Now) }))
        {
            Write(turn, row.Storefront, row.Ref, row.CustomerId, row.Read(), mayBegin: false);
        }
    }

    private static IEnumerable<(string Member, JsonElement Value)> Members(ToldCustomer told, string? address, bool whole)
    {
        (string, object?)[] all =
        [
            ("name", told.Name), ("email", told.Email), ("telephone", told.Telephone), ("address", told.Address ?? address), ("language", told.Language), ("consents", told.Consents),
        ];
        return all.Where(one => whole || one.Item2 is not null).Select(one => (one.Item1, JsonSerializer.SerializeToElement(one.Item2, WorkshopJson.Options)));
    }

    private static string? Write(Turn turn, string storefront, string customer, string? id, CustomerTold told, bool mayBegin)
    {
        // Another one that the same person has at another storefront is another matter: nobody is put together with somebody by a machine.
        var stored = id is null ? null : CustomerStore.Find(turn, id);
        var now = told.Members.Keys.Select(member => (member, value: told.At(member, turn.Now))).Where(one => one.value is not null)
            .ToImmutableSortedDictionary(one => one.member, one => one.value!.Value, StringComparer.Ordinal);
        if (stored is not null || mayBegin)
        {
            var changed = now.Where(one => !told.Written.TryGetValue(one.Key, out var written) || written.GetRawText() != one.Value.GetRawText()).ToDictionary();
            if (stored is null)
            {
                id = DeskCommand.NewId(turn);
                CustomerStore.Add(turn, id, Details(new CustomerDetails(), now));
            }
            else if (changed.Count > 0)
            {
                CustomerStore.Change(turn, id!, Details(DetailsOf(stored), changed));
            }

            told = told with { Written = now };
        }

        turn.Execute(SaveSql, new
        {
            site = turn.Site,
            storefront,
            customer,
            customer_id = id,
            told = JsonSerializer.Serialize(told, WorkshopJson.Options),
            begins = Microseconds.Of(told.BeginsAfter(turn.Now)),
        });
        return id;
    }

    private static CustomerDetails Details(CustomerDetails before, IReadOnlyDictionary<string, JsonElement> told)
    {
        string? Text(string member, string? known) => told.TryGetValue(member, out var value) ? value.ValueKind == JsonValueKind.String ? value.GetString() : null : known;
        return before with
        {
            Name = Text("name", before.Name),
            Email = Text("email", before.Email),
            Telephone = Text("telephone", before.Telephone),
            Address = Text("address", before.Address),
            Language = Text("language", before.Language),
            Consents = told.TryGetValue("consents", out var consents)
                ? consents.ValueKind == JsonValueKind.Array ? consents.Deserialize<ImmutableArray<CustomerConsent>>(WorkshopJson.Options) : before.Consents
                : before.Consents,
        };
    }

    private static CustomerDetails DetailsOf(StoredCustomer stored)
    {
        var view = CustomerView.Of(stored);
        return new CustomerDetails
        {
            Name = view.Name,
            Telephone = view.Telephone,
            Email = view.Email,
            Address = view.Address,
            Language = view.Language,
            Consents = view.Consents,
            Contact = view.Contact,
            ContactBy = view.ContactBy,
            DeceasedOn = view.DeceasedOn,
        };
    }

    private static Row? Find(Turn turn, string storefront, string customer) => turn.QueryFirst<Row>(FindSql, new { site = turn.Site, storefront, customer });

    private sealed record Row
    {
        public required string Storefront { get; init; }

        public required string Ref { get; init; }

        public string? CustomerId { get; init; }

        public required string Told { get; init; }

        public CustomerTold Read() => JsonSerializer.Deserialize<CustomerTold>(Told, WorkshopJson.Options)!;
    }
}
