using System.Collections.Frozen;
using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Gates;
using Workshop.Core.Route;
using Workshop.Core.Shop;
using Workshop.Core.Warranties;
using Workshop.Core.WearChecks;

namespace Workshop.Tests.Core;

/// <summary>
/// The shop of these tests: Zurich, Monday to Friday from nine to six, two watchmakers, a desk and a manager, and the two kinds of
/// work that are shipped. Figures: common practice.
/// </summary>
public static class TestShop
{
    public const string Mara = "mara";
    public const string Jonas = "jonas";
    public const string Desk = "paula";
    public const string Manager = "ines";

    public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Zurich"];

    private static readonly ImmutableArray<string> FinalChecks =
    [
        "looks", "no-fibres", "hands-aligned", "crown", "date", "bracelet-and-bars", "time-set", "accessories-and-old-parts", "report-and-measurements", "water-statement",
    ];

    public static RouteDefinition FullAutomatic { get; } = FullRoute("full-automatic", 35, 45, 35, 120, 45, "modern-automatic", new RateWindow(-4, 10), 20, FinalChecks);

    public static RouteDefinition FullChronograph { get; } = FullRoute(
        "full-chronograph", 45, 90, 65, 270, 65, "modern-chronograph", new RateWindow(-4, 12), 35, [.. FinalChecks, "chronograph", "reset-to-zero"]);

    public static ShopRules Rules { get; } = With([FullAutomatic, FullChronograph]);

    /// <summary>The same shop with kinds of work of its own, closed days, strengths of gates, or one person alone.</summary>
    public static ShopRules With(
        IEnumerable<RouteDefinition>? routes = null,
        IEnumerable<Closure>? closures = null,
        IReadOnlyDictionary<string, Strength>? strengths = null,
        bool secondPerson = true) => new()
        {
            Version = 7,
            Calendar = Calendar(closures),
            Routes = (routes ?? [FullAutomatic, FullChronograph]).ToFrozenDictionary(route => route.Id),
            People = new[]
            {
                new ShopPerson(Mara, "Mara", Manager: false), new ShopPerson(Jonas, "Jonas", Manager: false),
                new ShopPerson(Desk, "Paula", Manager: false), new ShopPerson(Manager, "Ines", Manager: true),
            }.ToFrozenDictionary(person => person.Id),
            GateStrengths = (strengths ?? new Dictionary<string, Strength>()).ToFrozenDictionary(),
            SecondPersonAtFinalControl = secondPerson,
            Benches = ["bench-1", "bench-2"],
        };

    public static ShopCalendar Calendar(IEnumerable<Closure>? closures = null) => new(
        Zone,
        new[] { IsoDayOfWeek.Monday, IsoDayOfWeek.Tuesday, IsoDayOfWeek.Wednesday, IsoDayOfWeek.Thursday, IsoDayOfWeek.Friday }
            .ToDictionary(day => day, _ => ImmutableArray.Create(new OpenSpan(new LocalTime(9, 0), new LocalTime(18, 0)))),
        closures);

    /// <summary>A moment by the clock on the workshop's wall.</summary>
    public static Instant Local(int year, int month, int day, int hour, int minute = 0) =>
        new LocalDateTime(year, month, day, hour, minute).InZoneStrictly(Zone).ToInstant();

    private static RouteDefinition FullRoute(
        string id, int diagnosis, int takedown, int inspection, int rebuild, int dial, string kind, RateWindow window, int workingDays, ImmutableArray<string> checks)
    {
        RouteStage[] worked =
        [
            Planned(Stage.Intake, Branch.Front, null),
            Planned(Stage.Diagnosis, Branch.Front, diagnosis, Ask(Stage.Intake)),
            Planned(Stage.Quote, Branch.Front, null, Ask(Stage.Diagnosis)),
            Planned(Stage.Queue, Branch.Front, null, Ask(Stage.Quote)),
            Planned(Stage.Takedown, Branch.Movement, takedown, Ask(Stage.Quote)),
            Planned(Stage.Cleaning, Branch.Movement, 15, Ask(Stage.Takedown)),
            Planned(Stage.Inspection, Branch.Movement, inspection, Ask(Stage.Cleaning)),
            Planned(Stage.Rebuild, Branch.Movement, rebuild, Ask(Stage.Inspection), Stop(Stage.Quote)),
            Planned(Stage.Regulation, Branch.Movement, 40, Ask(Stage.Rebuild)),
            Planned(Stage.CaseStrip, Branch.Case, 15, Ask(Stage.Quote)),
            Planned(Stage.CaseWork, Branch.Case, 120, Ask(Stage.CaseStrip), Stop(Stage.Quote)),
            Planned(Stage.Gaskets, Branch.Case, 15, Ask(Stage.CaseWork)),
            Planned(Stage.DialAndHands, Branch.Assembly, dial, Ask(Stage.Regulation), Ask(Stage.Gaskets)),
            Planned(Stage.Casing, Branch.Assembly, 25, Ask(Stage.DialAndHands), Ask(Stage.Gaskets), Ask(Stage.Regulation)),
            Planned(Stage.WaterTest, Branch.Assembly, 15, Stop(Stage.Casing)),
            Planned(Stage.WearCheck, Branch.Assembly, 10, Stop(Stage.Casing), Ask(Stage.Regulation), Ask(Stage.WaterTest)),
            Planned(Stage.ReserveAndFunctions, Branch.Assembly, 15, Ask(Stage.Casing)),
        ];
        return new RouteDefinition
        {
            Id = id,
            Stages =
            [
                .. worked,
                Planned(Stage.FinalControl, Branch.Assembly, 15, [.. worked.Select(one => Stop(one.Stage))]),
                Planned(Stage.Settlement, Branch.Release, null, Ask(Stage.Quote)),
                Planned(Stage.Ready, Branch.Release, null, Stop(Stage.FinalControl), Stop(Stage.Settlement)),
                Planned(Stage.HandedOver, Branch.Release, null, Stop(Stage.FinalControl), Stop(Stage.Settlement)),
            ],
            ToleranceKind = kind,
            WornRate = window,
            Wear = new WearRules(),
            PromisedWorkingDays = workingDays,
            TargetWorkingDaysBefore = 4,
            FinalChecks = checks,
            Warranty =
            [
                new WarrantyOffer("movement", Period.FromMonths(24)),
                new WarrantyOffer("water-resistance", Period.FromMonths(12), OnlyIf: Stage.WaterTest),
            ],
        };
    }

    private static RouteStage Planned(Stage stage, Branch branch, int? minutes, params ReadOnlySpan<Need> needs) =>
        new() { Stage = stage, Branch = branch, Minutes = minutes, Needs = [.. needs] };

    private static Need Ask(Stage stage) => new(stage, Stop: false);

    private static Need Stop(Stage stage) => new(stage, Stop: true);
}
