using Microsoft.AspNetCore.Http.HttpResults;
using Workshop.Service.Http.Answers;
using Workshop.Service.Http.Description;
using Workshop.Service.Http.Keys;
using Workshop.Service.Http.Refusals;
using Workshop.Service.Storage;
using Workshop.Service.Storage.Shop;

namespace Workshop.Service.Features.Shop;

/// <summary>
/// The shop's own data. Every kind has the same addresses: the list, one, its versions, one version, and PUT; they differ by the record
/// that is read and written.
/// </summary>
public static class ShopEndpoints
{
    public static void MapShop(this IEndpointRouteBuilder routes)
    {
        routes.MapOnly<SettingsDocument>("Settings", "how the shop presents itself",
            """{ "shopName": "The Watch Workshop at Vennlowe", "telephone": "+44 1632 960100", "email": "desk@example.com" }""");
        routes.MapOnly<RulesDocument>("Rules", "the shop's rules: strengths of gates and figures of the trade",
            """{ "gates": { "needs/case-strip": "note" }, "secondPersonAtFinalControl": true, "handOffTakenWithin": "PT2H", "agenda": { "deviceSilentAfter": "PT8H", "withFirmWorkingDays": 10, "backUpOlderThan": "PT36H", "fluidLife": { "clean": { "warnDays": 21, "lastDays": 28 } } } }""");
        routes.MapOnlyRead<CalendarDocument>("Calendar", "when the shop is open: zone, hours, closures, public holidays", CalendarEndpoints.Example).MapCalendar();
        routes.MapKind<VariantDocument>("Variant", "Variants", "a kind of work", ShopDocuments.Default(ShopRulesReader.Variant, "x-partial-repair"));
        routes.MapKind<BenchDocument>("Bench", "Benches", "a bench", """{ "id": "bench-2", "name": "Movements, by the stove", "skills": [ "chronographs" ], "outOfUse": false }""");
        routes.MapKind<CalibreDocument>("Calibre", "Calibres", "a calibre",
            """{ "id": "tirvalle-41", "maker": "Tirvalle", "kind": "automatic", "vibrationsPerHour": 28800, "liftAngleDegrees": 52, "powerReserveHours": 42, "calendar": true }""");
        routes.MapKind<FirmDocument>("Firm", "Firms", "an outside firm", """{ "id": "bellmere-dials", "name": "Bellmere Dials", "does": [ "dials" ], "usualWorkingDays": 15 }""");
        routes.MapKind<CleaningMachineDocument>("CleaningMachine", "CleaningMachines", "a cleaning machine",
            """{ "id": "machine-1", "name": "Three rinses, water-based cleaner", "kind": "movement", "places": 6, "jars": [ { "jar": "clean", "fluid": "ammoniated" }, { "jar": "rinse-1", "fluid": "petroleum-rinse" }, { "jar": "rinse-2", "fluid": "petroleum-rinse" }, { "jar": "rinse-3", "fluid": "alcohol" } ], "outOfUse": false }""");
        routes.MapKind<ProgrammeDocument>("Programme", "Programmes", "a cleaning programme", ShopDocuments.Default(ShopRulesReader.Programme, "gentle"));
        routes.MapKind<CageDocument>("Cage", "Cages", "a numbered cage of metal mesh", """{ "id": "cage-07", "number": "7", "machineKind": "movement", "open": false, "meshMillimetres": 0.4 }""");
        routes.MapKind<WinderPlaceDocument>("WinderPlace", "WinderPlaces", "a place on a winder",
            """{ "id": "winder-1-3", "name": "Winder 1, third place", "turnsPerDay": 800, "turns": "both", "outOfUse": false }""");
        routes.MapKind<FluidBatchDocument>("FluidBatch", "FluidBatches", "a filling of a jar",
            """{ "id": "m1-clean-12", "fluid": "ammoniated", "machine": "machine-1", "jar": "clean", "filledOn": "2026-03-02", "litres": 1.2 }""");

        routes.MapKind<LettersDocument>("Letter", "Letters", "the shop's own words at a moment",
            """{ "id": "ready-to-collect", "en": { "subject": "Your {{ watch }} is ready", "text": "Your {{ watch }} is ready. We close at six." } }""");

        const string Person = """{ "id": "mara", "name": "Mara Vonlanthen", "manager": false, "work": "watchmaker, movements", "skills": [ "chronographs" ] }""";
        var people = routes.MapRead<PersonDocument>("Person", "People", "somebody of the house", Person);
        people.MapPut("{id}", SavePerson.Handle)
            .WithName("savePerson")
            .WithSummary("Save somebody of the house; whoever leaves keeps nothing")
            .WithProblems(ProblemCatalogue.StillHolds)
            .WithProblems([.. GateProblems.All])
            .WithExample(Person, Saved("mara", Person))
            .RequireOperation(Operation.EditShop);

        // A device is read with its pairing (the feature Devices); what the shop says of it is saved here.
        const string Device = """{ "id": "bench-2", "name": "The tablet by the stove", "bench": "bench-2", "silentAfter": "PT4H" }""";
        var devices = Group<DeviceDocument>(routes);
        devices.MapSave<DeviceDocument>("{id}", "Device", "a device", "bench-2", Device);
        devices.MapVersions<DeviceDocument>("Device", "a device", Device);
    }

    private static void MapKind<T>(this IEndpointRouteBuilder routes, string one, string many, string words, string example) where T : class, IShopDocument =>
        routes.MapRead<T>(one, many, words, example).MapSave<T>("{id}", one, words, IdIn(example), example);

    private static RouteGroupBuilder MapRead<T>(this IEndpointRouteBuilder routes, string one, string many, string words, string example) where T : class, IShopDocument
    {
        var group = Group<T>(routes);
        group.MapList(async (page, caller, reader, cancel) => await ReadDocument.All<T>(page, caller, reader, cancel))
            .Answers<Results<Paged<ListedDocument<T>>, ProblemHttpResult>>()
            .WithName($"list{many}")
            .WithSummary($"Every one, {words} a line")
            .WithExample(answer: $$"""{ "items": [ { "id": "{{IdIn(example)}}", "version": 1, "savedAt": "2026-03-02T09:14:03Z", "document": {{example}} } ] }""")
            .RequireOperation(Operation.ReadShop);
        group.MapOne(async (id, on, caller, reader, rules, cancel) => await ReadDocument.One<T>(id, on, caller, reader, rules, cancel))
            .Answers<Results<Seen<T>, ProblemHttpResult>>()
            .WithName($"read{one}")
            .WithSummary($"Read {words}, as it is or as it was on a day")
            .WithProblems(ProblemCatalogue.NoSuchThing, ProblemCatalogue.BadFields)
            .WithExample(answer: example)
            .RequireOperation(Operation.ReadShop);
        group.MapVersions<T>(one, words, example);
        return group;
    }

    private static void MapVersions<T>(this RouteGroupBuilder group, string one, string words, string example) where T : class, IShopDocument
    {
        group.MapVersionsOfOne(async (id, page, caller, reader, cancel) => await ReadDocument.Versions<T>(id, page, caller, reader, cancel))
            .Answers<Results<Paged<DocumentVersion>, ProblemHttpResult>>()
            .WithName($"list{one}Versions")
            .WithSummary($"Every version of {words}, the newest first")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: VersionsExample)
            .RequireOperation(Operation.ReadShop);
        group.MapVersionOfOne(async (id, version, caller, reader, cancel) => await ReadDocument.Version<T>(id, version, caller, reader, cancel))
            .Answers<Results<Seen<T>, ProblemHttpResult>>()
            .WithName($"read{one}Version")
            .WithSummary($"Read {words} as one version said it")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: example)
            .RequireOperation(Operation.ReadShop);
    }

    private static void MapSave<T>(this RouteGroupBuilder group, string pattern, string one, string words, string id, string example) where T : class, IShopDocument =>
        group.MapSaveOne(pattern, async (id, sent, seen, caller, writer, cancel) => await SaveDocument.Handle<T>(id, sent, seen, caller, writer, cancel))
            .Takes<T>()
            .Answers<Results<Seen<SavedDocument<T>>, Made<SavedDocument<T>>, ProblemHttpResult>>()
            .WithName($"save{one}")
            .WithSummary($"Save {words}, whole")
            .WithExample(example, Saved(id, example))
            .RequireOperation(Operation.EditShop);

    private static void MapOnly<T>(this IEndpointRouteBuilder routes, string one, string words, string example) where T : class, IShopDocument =>
        routes.MapOnlyRead<T>(one, words, example)
            .MapSaveTheOnlyOne(async (sent, seen, caller, writer, cancel) => await SaveDocument.Handle<T>(ShopDocuments.Only, sent, seen, caller, writer, cancel))
            .Takes<T>()
            .Answers<Results<Seen<SavedDocument<T>>, Made<SavedDocument<T>>, ProblemHttpResult>>()
            .WithName($"save{one}")
            .WithSummary($"Save {words}, whole")
            .WithProblems([.. typeof(T) == typeof(RulesDocument) ? [ProblemCatalogue.GateIsFixed] : Array.Empty<ProblemKind>()])
            .WithExample(example, Saved(ShopDocuments.Only, example))
            .RequireOperation(Operation.EditShop);

    private static RouteGroupBuilder MapOnlyRead<T>(this IEndpointRouteBuilder routes, string one, string words, string example) where T : class, IShopDocument
    {
        var group = Group<T>(routes);
        group.MapTheOnlyOne(async (on, caller, reader, rules, cancel) => await ReadDocument.One<T>(ShopDocuments.Only, on, caller, reader, rules, cancel))
            .Answers<Results<Seen<T>, ProblemHttpResult>>()
            .WithName($"read{one}")
            .WithSummary($"Read {words}, as it is or as it was on a day")
            .WithProblems(ProblemCatalogue.NoSuchThing, ProblemCatalogue.BadFields)
            .WithExample(answer: example)
            .RequireOperation(Operation.ReadShop);
        group.MapVersionsOfTheOnlyOne(async (page, caller, reader, cancel) => await ReadDocument.Versions<T>(ShopDocuments.Only, page, caller, reader, cancel))
            .Answers<Results<Paged<DocumentVersion>, ProblemHttpResult>>()
            .WithName($"list{one}Versions")
            .WithSummary($"Every version of {words}, the newest first")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: VersionsExample)
            .RequireOperation(Operation.ReadShop);
        group.MapVersionOfTheOnlyOne(async (version, caller, reader, cancel) => await ReadDocument.Version<T>(ShopDocuments.Only, version, caller, reader, cancel))
            .Answers<Results<Seen<T>, ProblemHttpResult>>()
            .WithName($"read{one}Version")
            .WithSummary($"Read {words} as one version said it")
            .WithProblems(ProblemCatalogue.NoSuchThing)
            .WithExample(answer: example)
            .RequireOperation(Operation.ReadShop);
        return group;
    }

    private static RouteGroupBuilder Group<T>(IEndpointRouteBuilder routes) where T : class, IShopDocument => routes.MapGroup($"/v1/{ShopKinds.Of<T>().Path}").WithTags("Shop");

    private const string VersionsExample = """{ "items": [ { "version": 2, "savedAt": "2026-03-09T08:30:00Z", "source": "/desk/office", "rulesVersion": 31 } ] }""";

    private static string Saved(string id, string example) =>
        $$"""{ "id": "{{id}}", "version": 2, "savedAt": "2026-03-09T08:30:00Z", "rulesVersion": 31, "remarks": [], "document": {{example}} }""";

    private static string IdIn(string example) => System.Text.Json.JsonElement.Parse(example).GetProperty("id").GetString()!;
}
