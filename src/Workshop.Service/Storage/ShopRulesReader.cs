using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using System.Text.Json.Nodes;
using Dapper;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Storage;

/// <summary>Makes the shop's rules out of its documents, and says what is wrong with one before it is saved.</summary>
public static class ShopRulesReader
{
    public const string Calendar = "calendar";
    public const string Variant = "variant";
    public const string People = "people";
    public const string Bench = "bench";
    public const string Rules = "rules";
    public const string Firm = "firm";

    /// <summary>In a route: a need of every required stage earlier in the list.</summary>
    private const string EverythingBefore = "everything-before";

    private const string SiteSql = """
        select time_zone
        from site
        where id = @site
        """;

    private const string VersionSql = """
        select coalesce(max(stream_version), 0)
        from journal
        where site = @site
          and stream = 'shop'
        """;

    /// <summary>The rules in force as this connection sees them.</summary>
    /// <param name="asOf">The version that is meant; the newest when left out.</param>
    public static ShopRules Read(DbConnection connection, string site, long asOf = long.MaxValue)
    {
        var zone = DateTimeZoneProviders.Tzdb[connection.QuerySingle<string>(SiteSql, new { site })];
        var rules = ShopDocuments.Newest(connection, site, Rules, asOf: asOf) is { } saved
            ? JsonSerializer.Deserialize<RulesDocument>(saved.Document, WorkshopJson.Options)!
            : new RulesDocument();
        return new ShopRules
        {
            Version = asOf == long.MaxValue ? connection.QuerySingle<long>(VersionSql, new { site }) : asOf,
            Calendar = ShopDocuments.Newest(connection, site, Calendar, asOf: asOf) is { } calendar
                ? ReadCalendar(calendar.Document, zone)
                : throw new StorageNotReadyException($"The site '{site}' has no calendar; run the sub-command migrate."),
            Routes = ShopDocuments.AllOfKind(connection, site, Variant, asOf).ToFrozenDictionary(one => one.Id, one => ReadRoute(one.Document)),
            People = ShopDocuments.AllOfKind(connection, site, People, asOf).ToFrozenDictionary(one => one.Id, one => ReadPerson(one.Id, one.Document)),
            GateStrengths = rules.Gates.ToFrozenDictionary(),
            SecondPersonAtFinalControl = rules.SecondPersonAtFinalControl,
            HandOffTakenWithin = rules.HandOffTakenWithin,
            Warranties = rules.Warranties,
            Agenda = rules.Agenda,
            FirmWorkingDays = ShopDocuments.AllOfKind(connection, site, Firm, asOf)
                .Select(one => (one.Id, Days: JsonSerializer.Deserialize<FirmDocument>(one.Document, WorkshopJson.Options)!.UsualWorkingDays))
                .Where(one => one.Days is not null)
                .ToFrozenDictionary(one => one.Id, one => one.Days!.Value),
            Benches = [.. ShopDocuments.AllOfKind(connection, site, Bench, asOf).Select(one => one.Id)],
        };
    }

    /// <summary>What stands against saving this as a document of a kind that has no record of its own yet; nothing as long as it is an object.</summary>
    public static ImmutableArray<Fault> Faults(string kind, string id, string document, DateTimeZone zone)
    {
        try
        {
            switch (kind)
            {
                case Calendar:
                    ReadCalendar(document, zone);
                    break;
                case Variant:
                    var route = ReadRoute(document);
                    return [.. (route.Id == id ? ImmutableArray<Fault>.Empty : [new Fault("/id", $"The id of this document is '{id}'.")]), .. route.Warranty.Index().SelectMany(line => line.Item.Faults($"/warranty/{line.Index}"))];
                default:
                    JsonSerializer.Deserialize<JsonObject>(document, WorkshopJson.Options);
                    break;
            }

            return [];
        }
        catch (JsonException error)
        {
            return [JsonFaults.Of(error)];
        }
        catch (ArgumentException error)
        {
            // The calendar's own sentence, without the name of our parameter.
            return [new Fault("", error.Message.Split(" (Parameter", 2)[0])];
        }
    }

    /// <summary>Shape: <c>week {monday: [{opens, closes}] …}</c>, <c>closures [{from, through, reason?}]</c>, <c>extraOpenDays {date: [{opens, closes}]}</c>.</summary>
    internal static ShopCalendar ReadCalendar(string document, DateTimeZone zone)
    {
        var read = JsonSerializer.Deserialize<CalendarDocument>(document, WorkshopJson.Options)!;
        return new ShopCalendar(zone, read.Week, read.Closures, read.ExtraOpenDays);
    }

    /// <summary>Shape: <see cref="RouteDefinition"/>, where a need may be <c>everything-before</c>, with <c>!</c> or without.</summary>
    internal static RouteDefinition ReadRoute(string document)
    {
        var route = JsonSerializer.Deserialize<JsonObject>(document, WorkshopJson.Options)!;
        var before = new List<string>();
        foreach (var stage in (route["stages"] as JsonArray ?? []).OfType<JsonObject>())
        {
            if (stage["needs"] is JsonArray needs)
            {
                stage["needs"] = new JsonArray([.. needs.SelectMany(need => Expanded(need, before))]);
            }

            if (stage["stage"] is JsonValue name && name.TryGetValue<string>(out var word) && stage["optional"]?.GetValueKind() != JsonValueKind.True)
            {
                before.Add(word);
            }
        }

        return route.Deserialize<RouteDefinition>(WorkshopJson.Options)!;
    }

    private static ShopPerson ReadPerson(string id, string document)
    {
        var person = JsonSerializer.Deserialize<PersonDocument>(document, WorkshopJson.Options)!;
        return new ShopPerson(id, person.Name, person.Manager, person.Badge, person.LeftOn);
    }

    private static IEnumerable<JsonNode?> Expanded(JsonNode? need, IEnumerable<string> before) =>
        need is JsonValue value && value.TryGetValue<string>(out var text) && text.TrimEnd('!') == EverythingBefore
            ? before.Select(stage => (JsonNode?)JsonValue.Create(text.EndsWith('!') ? $"{stage}!" : stage))
            : [need?.DeepClone()];

    private sealed record CalendarDocument
    {
        public required Dictionary<IsoDayOfWeek, ImmutableArray<OpenSpan>> Week { get; init; }

        public ImmutableArray<Closure> Closures { get; init; } = [];

        public Dictionary<LocalDate, ImmutableArray<OpenSpan>> ExtraOpenDays { get; init; } = [];
    }
}
