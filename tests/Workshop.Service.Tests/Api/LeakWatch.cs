using System.Data.Common;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Dapper;

namespace Workshop.Service.Tests.Api;

/// <summary>
/// Everything a house knows and no customer, storefront, log or metric may: names, addresses, numbers, people, benches, firms, suppliers,
/// values, and whatever anybody wrote down for the house alone. It is read from the database itself, so that a field that comes later is
/// watched without anybody remembering. <see cref="AssertClean"/> is for any text that goes out.
/// </summary>
public sealed partial class LeakWatch
{
    private const string PeopleSql = """
        select name, telephone, telephone_normalised as telephoneNormalised, email, address
        from customer
        """;

    private const string WatchesSql = """
        select case_serial as caseSerial, movement_number as movementNumber
        from watch
        """;

    private const string DocumentsSql = """
        select kind, id, document
        from shop_document
        where kind in ('people', 'firm', 'bench', 'cage', 'cleaning-machine', 'fluid-batch', 'device', 'winder-place')
        """;

    private const string EntriesSql = """
        select type, source, data
        from journal
        where stream like 'job/%'
        """;

    private const string IntakesSql = """
        select intake
        from job
        """;

    // Members of events whose text is written for the house, whoever writes it and in whatever event.
    private static readonly string[] Private =
        ["reason", "note", "text", "condition", "remarks", "witness", "lot", "to", "from", "holder", "wearer", "winderPlace", "cage", "bench", "of", "address", "reference", "supplier", "ownNumber"];

    // Of these the text is meant to be read outside, or is a word of a closed list.
    private static readonly string[] ForCustomers = ["quote.sent", "promise.given", "promise.moved"];

    private readonly List<(string What, string Text)> secrets = [];

    private LeakWatch()
    {
    }

    /// <summary>How many different things are looked for.</summary>
    public int Watched => secrets.Count;

    /// <summary>Members that a page may have at all, by path, <c>[]</c> for each element: the view <c>status</c>.</summary>
    public static IReadOnlySet<string> StatusPaths { get; } = Paths(
        "reference asOf version language shop shop.name shop.telephone shop.email shop.openingHours shop.openingHours[].day shop.openingHours[].opens shop.openingHours[].closes",
        "watch watch.kind watch.maker watch.model stage since next waitingOn waitingFor partExpectedOn promise promise.by promise.mostLikely promise.was promise.movedOn promise.reason",
        "done done[].stage done[].on decision decision.quote decision.validThrough accessories accessories[].kind accessories[].count photos photos[].address photos[].takenOn notes notes[].at notes[].text",
        "tested tested.ratePerDaySeconds tested.plusMinus tested.overHours tested.waterResistance ready ready.since ready.collectWithin shipment shipment.carrier shipment.number shipment.sentOn shipment.deliveredOn",
        "warranty warranty[].line warranty[].lastDay warranty[].words claim claim.state claim.covered claim.words links links.answer links.wearReport links.claim");

    /// <summary>What <c>status-and-amounts</c> adds.</summary>
    public static IReadOnlySet<string> AmountPaths { get; } = Paths("amounts amounts.currency amounts.quotedMinor amounts.approvedMinor amounts.paidMinor amounts.dueMinor amounts.refundMinor");

    /// <summary>What <c>decide</c> adds.</summary>
    public static IReadOnlySet<string> QuotePaths { get; } = Paths(
        "quote quote.n quote.version quote.validThrough quote.lines quote.lines[].id quote.lines[].text quote.lines[].kind quote.lines[].amountMinor quote.lines[].taxMinor quote.lines[].optional quote.lines[].recommended",
        "quote.totalMinor quote.taxMinor quote.currency quote.notCovered quote.ifRefused quote.ifRefused.feeMinor quote.ifRefused.choices quote.durationWorkingDays quote.supplementary quote.consentText quote.newest");

    /// <summary>All that a house has written down so far.</summary>
    public static LeakWatch Of(DbConnection connection)
    {
        var watch = new LeakWatch();
        foreach (var one in connection.Query<CustomerRow>(PeopleSql))
        {
            watch.Look("a customer's name", one.Name);
            watch.Look("a customer's telephone", one.Telephone);
            watch.Look("a customer's telephone", one.TelephoneNormalised?.TrimStart('+'));
            watch.Look("a customer's e-mail", one.Email);
            watch.Look("a customer's address", one.Address);
        }

        foreach (var one in connection.Query<WatchRow>(WatchesSql))
        {
            watch.Look("a serial", one.CaseSerial);
            watch.Look("a serial", one.MovementNumber);
        }

        foreach (var (kind, id, document) in connection.Query<DocumentRow>(DocumentsSql).Select(row => (row.Kind, row.Id, row.Document)))
        {
            watch.Look($"{kind} by id", id);
            watch.Look($"{kind} by name", JsonElement.Parse(document) is { ValueKind: JsonValueKind.Object } whole && whole.TryGetProperty("name", out var name) && name.ValueKind == JsonValueKind.String ? name.GetString() : null);
        }

        foreach (var row in connection.Query<EntryRow>(EntriesSql))
        {
            watch.Look("who said it", row.Source);
            var data = JsonElement.Parse(row.Data);
            if (!ForCustomers.Contains(row.Type) && !(data.TryGetProperty("audience", out var audience) && audience.ValueKind == JsonValueKind.String && audience.GetString() == "customer"))
            {
                watch.LookInto(row.Type, data);
            }
        }

        foreach (var intake in connection.Query<string>(IntakesSql).Where(text => text != "{}"))
        {
            var members = JsonElement.Parse(intake).GetProperty("members");
            watch.LookInto("intake", members);
            if (members.TryGetProperty("declaredValueMinor", out var value) && value.ValueKind == JsonValueKind.Number)
            {
                watch.Look("a declared value", value.GetInt64().ToString(CultureInfo.InvariantCulture));
            }
        }

        return watch;
    }

    /// <summary>Looks for one thing more.</summary>
    public LeakWatch Besides(string what, string text)
    {
        Look(what, text);
        return this;
    }

    /// <summary>What of it stands in a text, as whole words.</summary>
    /// <param name="except">Texts of the house that this very answer may hold: a name of the shop that a person shares.</param>
    public IReadOnlyList<string> FindIn(string text, params string[] except) =>
    [
        .. secrets.Where(secret => text.Contains(secret.Text, StringComparison.OrdinalIgnoreCase) && !except.Contains(secret.Text, StringComparer.OrdinalIgnoreCase) && AsWords(secret.Text, text))
            .Select(secret => $"{secret.What}: {secret.Text}"),
    ];

    public void AssertClean(string text, string where, params string[] except)
    {
        var found = FindIn(text, except);
        Assert.True(found.Count == 0, $"{where} holds {string.Join("; ", found)}\n{text}");
    }

    /// <summary>The page has no member but those it may have.</summary>
    public static void AssertPaths(JsonElement page, params IReadOnlySet<string>[] allowed)
    {
        var foreign = PathsOf(page, "").Where(path => allowed.All(set => !set.Contains(path))).Distinct().ToArray();
        Assert.True(foreign.Length == 0, $"members that no customer is shown: {string.Join(", ", foreign)}");
    }

    private static IEnumerable<string> PathsOf(JsonElement value, string at) => value.ValueKind switch
    {
        JsonValueKind.Object => value.EnumerateObject().SelectMany(member =>
            PathsOf(member.Value, at.Length == 0 ? member.Name : $"{at}.{member.Name}").Prepend(at.Length == 0 ? member.Name : $"{at}.{member.Name}")),
        JsonValueKind.Array => value.EnumerateArray().SelectMany(one => PathsOf(one, $"{at}[]")),
        _ => [],
    };

    private void LookInto(string type, JsonElement value)
    {
        switch (value.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (var member in value.EnumerateObject())
                {
                    if (member.Value.ValueKind == JsonValueKind.String && Private.Contains(member.Name))
                    {
                        Look($"{type} {member.Name}", member.Value.GetString());
                    }
                    else
                    {
                        LookInto(type, member.Value);
                    }
                }

                break;
            case JsonValueKind.Array:
                foreach (var one in value.EnumerateArray())
                {
                    LookInto(type, one);
                }

                break;
        }
    }

    // What has one or two letters, and words that everybody uses, are no secret.
    private void Look(string what, string? text)
    {
        if (text?.Trim() is { Length: >= 4 } secret && !Common().IsMatch(secret) && !When().IsMatch(secret) && secrets.All(one => !one.Text.Equals(secret, StringComparison.OrdinalIgnoreCase)))
        {
            secrets.Add((what, secret));
        }
    }

    private static bool AsWords(string secret, string text) => Regex.IsMatch(text, $@"(?<![\p{{L}}\p{{Nd}}]){Regex.Escape(secret)}(?![\p{{L}}\p{{Nd}}])", RegexOptions.IgnoreCase);

    private static HashSet<string> Paths(params string[] lines) => [.. lines.SelectMany(line => line.Split(' '))];

    // A stage, a kind of piece: words of closed lists, which are no private text although they stand in members of these names.
    [GeneratedRegex("^(takedown|cleaning|inspection|rebuild|regulation|case-strip|case-work|gaskets|dial-and-hands|casing|customer|diagnosis|settlement|final-control|water-test|wear-check|reserve-and-functions|clear|none-seen|intact|running|stopped|good|case|wrist|rest|winder)$")]
    private static partial Regex Common();

    [GeneratedRegex("^[0-9]{4}-[0-9]{2}-[0-9]{2}(T.*)?$")]
    private static partial Regex When();

    private sealed record CustomerRow
    {
        public string? Name { get; init; }

        public string? Telephone { get; init; }

        public string? TelephoneNormalised { get; init; }

        public string? Email { get; init; }

        public string? Address { get; init; }
    }

    private sealed record WatchRow
    {
        public string? CaseSerial { get; init; }

        public string? MovementNumber { get; init; }
    }

    private sealed record DocumentRow
    {
        public required string Kind { get; init; }

        public required string Id { get; init; }

        public required string Document { get; init; }
    }

    private sealed record EntryRow
    {
        public required string Type { get; init; }

        public required string Source { get; init; }

        public required string Data { get; init; }
    }
}
