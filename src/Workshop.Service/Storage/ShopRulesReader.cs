using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Data.Common;
using System.Text.Json;
using System.Text.Json.Nodes;
using Dapper;
using NodaTime;
using Workshop.Core.Cleaning;
using Workshop.Core.Journal;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Warranties;
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
    public const string CleaningMachine = "cleaning-machine";
    public const string Programme = "programme";
    public const string Cage = "cage";

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
        var variants = ShopDocuments.AllOfKind(connection, site, Variant, asOf).Select(one => ReadVariant(one.Document)).ToArray();
        var calendar = ShopDocuments.Newest(connection, site, Calendar, asOf: asOf) ?? throw new StorageNotReadyException($"The site '{site}' has no calendar; run the sub-command migrate.");
        var shop = JsonSerializer.Deserialize<CalendarDocument>(calendar.Document, WorkshopJson.Options)!;
        return new ShopRules
        {
            Version = asOf == long.MaxValue ? connection.QuerySingle<long>(VersionSql, new { site }) : asOf,
            Calendar = shop.ToCalendar(zone),
            PublicHolidays = HolidaysOfWarranties(rules.Warranties, shop, Microseconds.Read(calendar.Saved).InUtc().Date),
            Routes = variants.ToFrozenDictionary(one => one.Id, one => one.ToRoute()),
            UsualVariants = First(variants.SelectMany(one => one.UsualFor.Select(calibre => (calibre, one.Id)))),
            VariantsOfProducts = First(variants.SelectMany(one => one.Products.Select(product => (new StorefrontProduct(product.Source, product.Product), one.Id)))),
            Tolerances = rules.Tolerances.ToFrozenDictionary(one => one.Kind, StringComparer.Ordinal),
            People = ShopDocuments.AllOfKind(connection, site, People, asOf).ToFrozenDictionary(one => one.Id, one => ReadPerson(one.Id, one.Document)),
            GateStrengths = rules.Gates.ToFrozenDictionary(),
            SecondPersonAtFinalControl = rules.SecondPersonAtFinalControl,
            HandOffTakenWithin = rules.HandOffTakenWithin,
            Intake = rules.Intake,
            Labels = rules.Labels,
            Takedown = rules.Takedown,
            Agenda = rules.Agenda,
            Promises = rules.Promises,
            PublicPages = rules.PublicPages,
            Parts = rules.Parts,
            Insurance = rules.Insurance,
            PersonalData = rules.PersonalData,
            Timekeeping = rules.Timekeeping,
            Recordings = rules.Recordings,
            Functions = rules.Functions,
            Reserve = rules.Reserve,
            Water = rules.Water,
            Stops = rules.Stops,
            Charts = rules.Charts,
            WearChecks = rules.WearChecks,
            Orders = rules.Orders,
            FirmWorkingDays = ShopDocuments.AllOfKind(connection, site, Firm, asOf)
                .Select(one => (one.Id, Days: JsonSerializer.Deserialize<FirmDocument>(one.Document, WorkshopJson.Options)!.UsualWorkingDays))
                .Where(one => one.Days is not null)
                .ToFrozenDictionary(one => one.Id, one => one.Days!.Value),
            Cleaning = rules.Cleaning,
            CleaningRoom = ReadCleaningRoom(connection, site, asOf),
            Money = rules.Money,
            Quotes = rules.Quotes,
            Shipping = rules.Shipping,
            Warranties = rules.Warranties,
            WearReports = rules.WearReports,
            Messages = rules.Messages,
            Benches = [.. ShopDocuments.AllOfKind(connection, site, Bench, asOf).Select(one => one.Id)],
        };
    }

    /// <summary>What stands against saving this as a document of a kind that has no record of its own yet; nothing as long as it is an object.</summary>
    public static ImmutableArray<Fault> Faults(string document)
    {
        try
        {
            JsonSerializer.Deserialize<JsonObject>(document, WorkshopJson.Options);
            return [];
        }
        catch (JsonException error)
        {
            return [JsonFaults.Of(error)];
        }
    }

    /// <summary>Shape: <see cref="VariantDocument"/>.</summary>
    internal static RouteDefinition ReadRoute(string document) => ReadVariant(document).ToRoute();

    internal static VariantDocument ReadVariant(string document) => JsonSerializer.Deserialize<VariantDocument>(document, WorkshopJson.Options)!;

    private static CleaningRoom ReadCleaningRoom(DbConnection connection, string site, long asOf) => new()
    {
        Machines = Documents<CleaningMachineDocument>(connection, site, CleaningMachine, asOf).Where(one => !one.Document.OutOfUse).ToFrozenDictionary(one => one.Id, one => one.Document.ToMachine(one.Id)),
        Programmes = Documents<ProgrammeDocument>(connection, site, Programme, asOf).ToFrozenDictionary(one => one.Id, one => one.Document.ToProgramme(one.Id)),
        Cages = Documents<CageDocument>(connection, site, Cage, asOf).Where(one => !one.Document.OutOfUse).ToFrozenDictionary(one => one.Id, one => one.Document.ToCage(one.Id)),
    };

    private static IEnumerable<(string Id, T Document)> Documents<T>(DbConnection connection, string site, string kind, long asOf) where T : class, IShopDocument =>
        ShopDocuments.AllOfKind(connection, site, kind, asOf).Select(one => (one.Id, JsonSerializer.Deserialize<T>(one.Document, WorkshopJson.Options)!));

    private static ShopPerson ReadPerson(string id, string document)
    {
        var person = JsonSerializer.Deserialize<PersonDocument>(document, WorkshopJson.Options)!;
        return new ShopPerson(id, person.Name, person.Manager, person.Badge, person.LeftOn);
    }

    // The shop's own days, and those of every region that a rule set of warranty names, for the years the calendar was resolved for.
    private static FrozenDictionary<string, ImmutableSortedSet<LocalDate>> HolidaysOfWarranties(WarrantyRules warranties, CalendarDocument shop, LocalDate saved)
    {
        var (from, through) = (shop.ResolvedFrom ?? saved.PlusYears(-CalendarDocument.YearsBack), shop.ResolvedThrough ?? CalendarDocument.ResolvesThrough(saved));
        return warranties.RuleSets.Select(one => one.Roll.Calendar).Distinct()
            .Where(region => HolidayRegions.Find(region) is not null)
            .Select(region => (Region: region, Days: HolidayRegions.DatesOf(region, from.Year, through.Year)))
            .Append((Region: RollRules.ShopCalendar, Days: shop.Holidays))
            .ToFrozenDictionary(one => one.Region, one => one.Days.Select(day => day.Date).ToImmutableSortedSet(), StringComparer.Ordinal);
    }

    // A document of earlier days may say again what another says; the first by name is meant.
    private static FrozenDictionary<TKey, string> First<TKey>(IEnumerable<(TKey Key, string Id)> said) where TKey : notnull =>
        said.DistinctBy(one => one.Key).ToFrozenDictionary(one => one.Key, one => one.Id);
}
