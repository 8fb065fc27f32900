using System.Collections.Immutable;

namespace Workshop.Core.Cleaning;

/// <content>The figures a shop begins with. Common practice throughout.</content>
public sealed partial record CleaningRules
{
    public const string Plain = "plain";

    private const string Ammoniated = "ammoniated";
    private const string Waterless = "waterless";
    private const string Alcohol = "alcohol";
    private const string SoapWater = "soap-water";

    /// <summary>A jar without a figure of its own. Ours, for want of a usual one.</summary>
    public static readonly FluidRuns OtherJars = new(30, 40);

    private static readonly ImmutableSortedDictionary<string, FluidKind> UsualFluids = Table(
        (Ammoniated, new FluidKind { Contains = ["water", "ammonia", "alkaline"] }),
        (Waterless, new FluidKind { Contains = ["petroleum"], Flammable = true }),
        ("petroleum-rinse", new FluidKind { Contains = ["petroleum"], Flammable = true, Like = Waterless }),
        ("water-rinse", new FluidKind { Contains = ["water"], Like = Ammoniated }),

        // The flash point is that of isopropanol, taken from a second-hand table; the safety data sheet of what is filled in counts.
        (Alcohol, new FluidKind { Contains = ["alcohol"], Flammable = true, FlashPointCelsius = 12 }),
        (SoapWater, new FluidKind { Contains = ["water", "soap"], MachineKind = MachineKind.Case }));

    // The runs of the second and third rinse are ours: nobody we know of has figures for them.
    private static readonly ImmutableSortedDictionary<string, FluidRuns> UsualRuns = Table(
        ("clean", new FluidRuns(25, 40)),
        ("rinse-1", new FluidRuns(15, 25)),
        ("rinse-2", OtherJars),
        ("rinse-3", OtherJars));

    private static readonly ImmutableSortedDictionary<string, PartsDemand> UsualParts = Table(
        (Plain, Sturdy() with
        {
            Fluids = Table(
                (Ammoniated, new FluidDemand(WashVerdict.Yes) { MaxMinutes = 8, AskAboveMinutes = 5 }),
                (Waterless, new FluidDemand(WashVerdict.Yes)),
                (Alcohol, new FluidDemand(WashVerdict.Yes))),
            Note = "ammonia stains brass when left standing",
        }),
        ("wheels", Sturdy()),
        ("barrel", Sturdy() with { Before = ["mainspring-out", "old-grease-off-by-hand"] }),
        ("shellac", Of(WashVerdict.Short, WashVerdict.Yes, WashVerdict.Never, WashVerdict.No, 50) with
        {
            DryAskAboveCelsius = 45,
            Instead = "gentle programme, or a short dip in light petroleum spirit by hand",
            Note = "alcohol dissolves shellac, warmth softens it",
        }),
        ("hairspring", new PartsDemand
        {
            Fluids = Table(
                (Ammoniated, new FluidDemand(WashVerdict.Yes) { MaxSpeed = TurnSpeed.Slow }),
                (Waterless, new FluidDemand(WashVerdict.Yes) { MaxSpeed = TurnSpeed.Slow }),
                (Alcohol, new FluidDemand(WashVerdict.Yes) { MaxSpeed = TurnSpeed.Slow })),
            Ultrasound = WashVerdict.Never,
            DryMaxCelsius = 50,
            Instead = "refitted to the bare plate, gentle programme",
        }),
        ("reverser", Of(WashVerdict.Ask, WashVerdict.Yes, WashVerdict.Yes, WashVerdict.Yes, 50) with { After = ["lubricating-dip"], Note = "water-based only as its maker says" }),
        ("ball-bearing-rotor", Of(WashVerdict.No, WashVerdict.Short, WashVerdict.No, WashVerdict.No, 45) with
        {
            Instead = "by hand, or gentle in waterless cleaner",
            Note = "grease in the bearing is not renewed by washing",
        }),
        ("plastic", Of(WashVerdict.Short, WashVerdict.No, WashVerdict.Short, WashVerdict.No, 40) with
        {
            Fluids = Table(
                (Ammoniated, new FluidDemand(WashVerdict.Short) { MaxFluidCelsius = 25 }),
                (Waterless, new FluidDemand(WashVerdict.No)),
                (Alcohol, new FluidDemand(WashVerdict.Short))),
            Instead = "by hand",
        }),
        ("gilt-or-silvered", Of(WashVerdict.Short, WashVerdict.Yes, WashVerdict.Yes, WashVerdict.Short, 50) with { Note = "watched; ammonia strips tired gilding" }),
        ("light-metal", Of(WashVerdict.No, WashVerdict.Yes, WashVerdict.Yes, WashVerdict.Short, 50) with
        {
            Fluids = Table(
                (Ammoniated, new FluidDemand(WashVerdict.No)),
                (SoapWater, new FluidDemand(WashVerdict.No)),
                (Waterless, new FluidDemand(WashVerdict.Yes)),
                (Alcohol, new FluidDemand(WashVerdict.Yes))),
        }),
        ("printed-or-painted", Unwashed("dust blower, putty")),
        ("dial-or-hands", Unwashed("closed box; dust blower, putty")),
        ("luminous", Unwashed("closed box; see the caution") with { Caution = "radium-suspected" }),
        ("lubricated-mainspring", Unwashed("replace")),
        ("gasket-or-glued", Unwashed("replace")),
        ("electronic", Unwashed("keep apart (coil, module, cell)")),
        ("unknown-material", Of(WashVerdict.No, WashVerdict.No, WashVerdict.No, WashVerdict.No, 40) with { Instead = "by hand" }),
        ("magnetised", new PartsDemand { Before = ["demagnetised"] }),
        ("rusty", new PartsDemand { OwnRun = true, CountsAs = 3, After = ["change-cleaning-fluid-next"] }),
        ("old-grease", new PartsDemand { CountsAs = 3, Before = ["old-grease-off-by-hand"] }),
        ("case-part", new PartsDemand
        {
            OnlyIn = MachineKind.Case,
            Fluids = Table((SoapWater, new FluidDemand(WashVerdict.Yes)), (Ammoniated, new FluidDemand(WashVerdict.Yes))),
            Ultrasound = WashVerdict.Yes,
            Instead = "own bath with soap",
        }));

    public static readonly CleaningRules Usual = new();

    private static PartsDemand Sturdy() => new()
    {
        Fluids = Table(
            (Ammoniated, new FluidDemand(WashVerdict.Yes) { MaxMinutes = 8 }),
            (Waterless, new FluidDemand(WashVerdict.Yes)),
            (Alcohol, new FluidDemand(WashVerdict.Yes))),
        Ultrasound = WashVerdict.Yes,
        DryMaxCelsius = 65,
    };

    private static PartsDemand Of(WashVerdict ammoniated, WashVerdict waterless, WashVerdict alcohol, WashVerdict ultrasound, int dryMaxCelsius) => new()
    {
        Fluids = Table((Ammoniated, new FluidDemand(ammoniated)), (Waterless, new FluidDemand(waterless)), (Alcohol, new FluidDemand(alcohol))),
        Ultrasound = ultrasound,
        DryMaxCelsius = dryMaxCelsius,
    };

    private static PartsDemand Unwashed(string instead) => new() { Never = true, Instead = instead };

    private static ImmutableSortedDictionary<string, T> Table<T>(params ReadOnlySpan<(string Name, T Row)> rows)
    {
        var table = ImmutableSortedDictionary.CreateBuilder<string, T>(StringComparer.Ordinal);
        foreach (var (name, row) in rows)
        {
            table.Add(name, row);
        }

        return table.ToImmutable();
    }
}
