using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Intake;
using Workshop.Core.Labels;

namespace Workshop.Service.Demo;

/// <summary>Somebody of the demo's house.</summary>
/// <param name="Id">As entries name them.</param>
/// <param name="Bench">Where they usually sit; null for desk and office.</param>
internal sealed record DemoPerson(string Id, string Name, string Work, string? Bench, bool Manager, string Badge);

/// <summary>A bench of the demo and the device that stands there.</summary>
internal sealed record DemoBench(string Id, string Name, string Source);

/// <summary>A calibre nobody ever built.</summary>
internal sealed record DemoCalibre(string Id, string Maker, CalibreKind Kind, int VibrationsPerHour, int LiftAngleDegrees, int ReserveHours, bool Calendar);

/// <summary>A model nobody ever sold.</summary>
internal sealed record DemoModel(string Maker, string Name, DemoCalibre Calibre, int Year, int? WaterBar, bool LuminousPaint);

/// <summary>
/// The town of the demo, its people and its watches. Everything here is invented: no such town, maker, calibre or person. Telephone
/// numbers are from the range that the British regulator keeps free for drama (01632 960000 to 960999, from memory), mail addresses
/// end in names that RFC 2606 keeps free.
/// </summary>
internal static class DemoTown
{
    public const string Name = "Vennlowe";
    public const string ShopName = "DEMO The Watch Workshop at Vennlowe";

    /// <summary>The town is on no map, but its clocks go like those of Zurich.</summary>
    public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Zurich"];

    public const string FirstWatchmaker = "runa";
    public const string SecondWatchmaker = "jorid";
    public const string Polisher = "pell";
    public const string SecondEyes = "sanne";
    public const string Desk = "timo";
    public const string Manager = "edda";

    public static readonly ImmutableArray<DemoBench> Benches =
    [
        new("bench-1", "Movements, by the window", "/devices/vennlowe-1/1"),
        new("bench-2", "Movements, by the stove", "/devices/vennlowe-2/1"),
        new("bench-3", "Cases and polishing", "/devices/vennlowe-3/1"),
        new("bench-4", "Tests and final control", "/devices/vennlowe-4/1"),
    ];

    public static readonly ImmutableArray<DemoPerson> People =
    [
        new(FirstWatchmaker, "Runa Tessmark", "watchmaker, movements", "bench-1", false, Badge(3, 1, 4, 1, 5, 9)),
        new(SecondWatchmaker, "Jorid Amselow", "watchmaker, movements", "bench-2", false, Badge(2, 6, 5, 3, 5, 8)),
        new(Polisher, "Pell Oakridge", "cases and polishing", "bench-3", false, Badge(9, 7, 9, 3, 2, 3)),
        new(SecondEyes, "Sanne Virelli", "tests and final control", "bench-4", false, Badge(8, 4, 6, 2, 6, 4)),
        new(Desk, "Timo Garrand", "front desk", null, false, Badge(3, 3, 8, 3, 2, 7)),
        new(Manager, "Edda Lornholt", "manager", null, true, Badge(9, 5, 0, 2, 8, 8)),
    ];

    private static readonly DemoCalibre Tirvalle41 = new("tirvalle-41", "Tirvalle", CalibreKind.Automatic, 28_800, 52, 42, Calendar: true);
    private static readonly DemoCalibre Tirvalle47 = new("tirvalle-47c", "Tirvalle", CalibreKind.Chronograph, 28_800, 49, 48, Calendar: true);
    private static readonly DemoCalibre Oskendahl9 = new("oskendahl-9", "Oskendahl", CalibreKind.Automatic, 21_600, 51, 40, Calendar: false);
    private static readonly DemoCalibre Oskendahl12 = new("oskendahl-12k", "Oskendahl", CalibreKind.Chronograph, 21_600, 53, 44, Calendar: false);
    private static readonly DemoCalibre Brevinault7 = new("brevinault-7", "Brevinault", CalibreKind.Automatic, 28_800, 50, 70, Calendar: true);

    public static readonly ImmutableArray<DemoCalibre> Calibres = [Tirvalle41, Tirvalle47, Oskendahl9, Oskendahl12, Brevinault7];

    /// <summary>Automatics, in the order in which the demo's lives take them.</summary>
    public static readonly ImmutableArray<DemoModel> Automatics =
    [
        new("Tirvalle", "Harbour Calendar", Tirvalle41, 2009, 10, true),
        new("Oskendahl", "Field Steward", Oskendahl9, 2001, 5, true),
        new("Brevinault", "Long Evening", Brevinault7, 2016, 5, false),
        new("Tirvalle", "Lamplighter", Tirvalle41, 2013, 10, true),
        new("Brevinault", "Quiet Hour", Brevinault7, 2019, 3, false),
        new("Oskendahl", "Postmaster", Oskendahl9, 1998, 3, false),
    ];

    /// <summary>Chronographs.</summary>
    public static readonly ImmutableArray<DemoModel> Chronographs =
    [
        new("Tirvalle", "Regatta Counter", Tirvalle47, 2011, 10, true),
        new("Oskendahl", "Railway Chronograph", Oskendahl12, 2004, 5, false),
        new("Tirvalle", "Hillclimb", Tirvalle47, 2017, 10, true),
    ];

    /// <summary>From a time when dials were painted with what nobody uses any more.</summary>
    public static readonly DemoModel OldChronograph = new("Oskendahl", "Night Ferry", Oskendahl12, 1956, null, true);

    private static readonly string[] FirstNames =
    [
        "Alma", "Bodo", "Carin", "Dorian", "Elske", "Falk", "Greta", "Hanno", "Imke", "Joris",
        "Karla", "Linus", "Maike", "Nils", "Odile", "Piet", "Quirin", "Ronja", "Silke", "Tamme",
    ];

    private static readonly string[] Surnames = ["Adlersmeer", "Birkenstrom", "Corvalen", "Duvenhagel", "Eschenrode", "Fennimore-Lund", "Grauwinkel", "Hollerbeek"];

    private static readonly string[] Streets = ["Ferry Lane", "Mill Row", "Upper Market", "Lantern Street", "Old Tannery Yard"];

    /// <summary>The customer with a number from 0 on; no two have the same name.</summary>
    public static (string Name, string Mail, string Telephone, string Street) Customer(int number)
    {
        var (first, last) = (FirstNames[number % FirstNames.Length], Surnames[(number + number / FirstNames.Length) % Surnames.Length]);
        return ($"{first} {last}", $"{first}.{last}@example.com".ToLowerInvariant(), $"+44 1632 960{100 + number:000}", $"{number + 3} {Streets[number % Streets.Length]}");
    }

    public static DemoPerson Person(string id) => People.Single(one => one.Id == id);

    /// <summary>The device at a person's bench.</summary>
    public static DemoBench BenchOf(string person) => Benches.Single(bench => bench.Id == Person(person).Bench);

    private static string Badge(params ReadOnlySpan<int> free) => Label.Complete(LabelKind.Badge, free).ToString();
}
