using System.Collections.Immutable;
using System.Text.Json.Nodes;
using NodaTime;
using Workshop.Core.Labels;
using Workshop.Core.Words;
using Workshop.Service.Storage;

namespace Workshop.Service.Demo;

/// <summary>The demo shop's own documents: calendar, people, benches, calibres, cleaning machines with their fluids and programmes.</summary>
internal static class DemoShop
{
    private const string Marked = "DEMO: invented, nothing here is real";

    /// <summary>Two winders of four places.</summary>
    public static readonly ImmutableArray<string> WinderPlaces = [.. from winder in Enumerable.Range(1, 2) from place in Enumerable.Range(1, 4) select $"winder-{winder}-{place}"];

    /// <summary>Saves them all.</summary>
    /// <param name="today">Closures are counted from it.</param>
    public static void Save(Turn turn, LocalDate today)
    {
        Put(turn, ShopRulesReader.Calendar, ShopDocuments.Only, Calendar(today));
        foreach (var bench in DemoTown.Benches)
        {
            Put(turn, ShopRulesReader.Bench, bench.Id, new JsonObject { ["id"] = bench.Id, ["name"] = bench.Name });
            turn.BindLabel(DemoLabels.OfBench(bench), $"benches/{bench.Id}");
        }

        foreach (var person in DemoTown.People)
        {
            Put(turn, ShopRulesReader.People, person.Id, new JsonObject
            {
                ["id"] = person.Id,
                ["name"] = $"{person.Name} (DEMO)",
                ["manager"] = person.Manager,
                ["badge"] = person.Badge,
                ["work"] = person.Work,
                ["bench"] = person.Bench,
            });
            turn.BindLabel(Label.Read(person.Badge), $"people/{person.Id}");
        }

        foreach (var (label, names) in DemoLabels.OfPlacesAndWords)
        {
            turn.BindLabel(label, names);
        }

        foreach (var calibre in DemoTown.Calibres)
        {
            Put(turn, "calibre", calibre.Id, new JsonObject
            {
                ["id"] = calibre.Id,
                ["maker"] = $"{calibre.Maker} (DEMO)",
                ["kind"] = Word.Of(calibre.Kind),
                ["vibrationsPerHour"] = calibre.VibrationsPerHour,
                ["liftAngleDegrees"] = calibre.LiftAngleDegrees,
                ["powerReserveHours"] = calibre.ReserveHours,
                ["calendar"] = calibre.Calendar,
            });
        }

        Put(turn, ShopRulesReader.Rules, ShopDocuments.Only, new JsonObject
        {
            ["insurance"] = new JsonObject
            {
                ["limits"] = new JsonArray(Limit("house", 9_000_000), Limit("outside-safe", 6_000_000), Limit("firms", 500_000), Limit("one-watch", 1_500_000)),
            },
        });
        DemoStock.Fill(turn);

        Put(turn, "settings", ShopDocuments.Only, new JsonObject
        {
            ["shopName"] = DemoTown.ShopName,
            ["address"] = $"3 Lantern Street, {DemoTown.Name} (DEMO)",
            ["telephone"] = "+44 1632 960100",
            ["email"] = "desk@example.com",
        });
        Put(turn, "firm", "bellmere-dials", new JsonObject { ["name"] = "Bellmere Dials (DEMO)", ["does"] = new JsonArray("dials"), ["usualWorkingDays"] = 15 });
        Put(turn, "firm", "demo-gilders", new JsonObject { ["name"] = "The gilders of Vennlowe (DEMO)", ["does"] = new JsonArray("plating", "polishing"), ["usualWorkingDays"] = 10 });
        foreach (var place in WinderPlaces)
        {
            Put(turn, "winder-place", place, new JsonObject { ["name"] = $"Winder {place["winder-".Length..].Replace("-", ", place ", StringComparison.Ordinal)}", ["turnsPerDay"] = 800, ["turns"] = "both" });
        }

        Put(turn, "cleaning-machine", "machine-1", Machine("machine-1", "Three rinses, water-based cleaner", "ammoniated"));
        Put(turn, "cleaning-machine", "machine-2", Machine("machine-2", "Three rinses, cleaner without water", "waterless"));
        for (var cage = 1; cage <= 12; cage++)
        {
            Put(turn, ShopRulesReader.Cage, $"cage-{cage:00}", new JsonObject { ["number"] = $"{cage}", ["meshMillimetres"] = 0.4, ["remark"] = Marked });
        }
    }

    /// <summary>What stands in the jars today; the days of a filling run from the day it was filled.</summary>
    public static void Fill(Turn turn, LocalDate today)
    {
        Put(turn, "fluid-batch", "m1-clean-7", Filling("machine-1", "ammoniated", "clean", today.PlusDays(-17)));
        Put(turn, "fluid-batch", "m1-rinse-1-9", Filling("machine-1", "petroleum-rinse", "rinse-1", today.PlusDays(-5)));
    }

    /// <summary>Open Monday to Saturday noon; a week's holiday behind, a long weekend ahead, and one day away.</summary>
    private static JsonObject Calendar(LocalDate today)
    {
        var lastHoliday = today.PlusWeeks(-7).With(DateAdjusters.PreviousOrSame(IsoDayOfWeek.Monday));
        var awayDay = today.PlusWeeks(-3).With(DateAdjusters.PreviousOrSame(IsoDayOfWeek.Wednesday));
        var longWeekend = today.PlusWeeks(3).With(DateAdjusters.NextOrSame(IsoDayOfWeek.Friday));
        return new JsonObject
        {
            ["week"] = new JsonObject
            {
                ["monday"] = Hours("09:00", "18:00"),
                ["tuesday"] = Hours("09:00", "18:00"),
                ["wednesday"] = Hours("09:00", "18:00"),
                ["thursday"] = Hours("09:00", "18:00"),
                ["friday"] = Hours("09:00", "18:00"),
                ["saturday"] = Hours("09:00", "13:00"),
            },
            ["closures"] = new JsonArray(
                Closure(lastHoliday, lastHoliday.PlusDays(5), "the house was on holiday"),
                Closure(awayDay, awayDay, "all away at the parts fair"),
                Closure(longWeekend, longWeekend.PlusDays(1), "long weekend")),
            ["extraOpenDays"] = new JsonObject(),
        };
    }

    private static JsonObject Limit(string where, long amountMinor) => new() { ["where"] = where, ["currency"] = "CHF", ["amountMinor"] = amountMinor };

    private static JsonArray Hours(string opens, string closes) => [new JsonObject { ["opens"] = opens, ["closes"] = closes }];

    private static JsonObject Closure(LocalDate from, LocalDate through, string reason) =>
        new() { ["from"] = $"{from:uuuu-MM-dd}", ["through"] = $"{through:uuuu-MM-dd}", ["reason"] = reason };

    private static JsonObject Machine(string id, string name, string cleaner) => new()
    {
        ["id"] = id,
        ["name"] = $"{name} (DEMO)",
        ["places"] = 6,
        ["jars"] = new JsonArray(Jar("clean", cleaner), Jar("rinse-1", "petroleum-rinse"), Jar("rinse-2", "petroleum-rinse"), Jar("rinse-3", "alcohol")),
        ["remark"] = Marked,
    };

    private static JsonObject Filling(string machine, string fluid, string jar, LocalDate filledOn) => new()
    {
        ["fluid"] = fluid,
        ["machine"] = machine,
        ["jar"] = jar,
        ["filledOn"] = $"{filledOn:uuuu-MM-dd}",
        ["remark"] = Marked,
    };

    private static JsonObject Jar(string jar, string fluid) => new() { ["jar"] = jar, ["fluid"] = fluid };

    private static void Put(Turn turn, string kind, string id, JsonObject document) => ShopDocuments.Put(turn, kind, id, document.ToJsonString(WorkshopJson.Options));
}
