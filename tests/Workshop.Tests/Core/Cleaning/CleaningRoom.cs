using System.Collections.Immutable;
using Workshop.Core.Cleaning;

namespace Workshop.Tests.Core.Cleaning;

/// <summary>The cleaning room of these tests: two machines for movements, one for cases, and the four programmes that are shipped. Common practice.</summary>
public static class CleaningRoom
{
    public static CleaningRules Rules { get; } = new();

    /// <summary>Ammoniated cleaner, petroleum rinses, alcohol last.</summary>
    public static CleaningMachine One { get; } = Machine("machine-1", "ammoniated");

    /// <summary>Waterless cleaner, the same rinses.</summary>
    public static CleaningMachine Two { get; } = Machine("machine-2", "waterless");

    public static CleaningMachine CaseBath { get; } = new()
    {
        Id = "case-bath",
        Kind = MachineKind.Case,
        Places = 2,
        Jars = Jars(("soap-bath", "soap-water"), ("water", "water-rinse")),
    };

    public static Programme Standard { get; } = new() { Id = "standard", Steps = [.. Washes(5, 3, 3, 2), Spin, Dry(6, 60)] };

    public static Programme Gentle { get; } = new()
    {
        Id = "gentle",
        Preference = 2,
        Steps = [Wash("clean", 4, TurnSpeed.Slow), Wash("rinse-1", 3, TurnSpeed.Slow), Wash("rinse-2", 3, TurnSpeed.Slow), Spin, Dry(8, 45)],
    };

    public static Programme Heavy { get; } = new() { Id = "heavy", Preference = 3, Before = ["old-grease-off-by-hand"], Steps = [.. Washes(5, 3, 3, 2), .. Washes(5, 3, 3, 2), Spin, Dry(6, 60)] };

    public static Programme Case { get; } = new()
    {
        Id = "case",
        MachineKind = MachineKind.Case,
        Steps = [new ProgrammeStep { Wash = "soap-bath", Minutes = 5, Ultrasound = true }, new ProgrammeStep { Wash = "water", Minutes = 2 }, Dry(40, 45)],
    };

    public static ImmutableArray<Programme> Programmes { get; } = [Standard, Gentle, Heavy, Case];

    public static ProgrammeStep Spin => new() { Spin = 1 };

    public static ProgrammeStep Wash(string jar, int minutes, TurnSpeed speed = TurnSpeed.Normal) => new() { Wash = jar, Minutes = minutes, Speed = speed };

    public static ProgrammeStep Dry(int minutes, int celsius) => new() { Dry = minutes, Celsius = celsius };

    public static GroupVerdict Judge(Programme programme, CleaningMachine machine, params string[] flags) => Compatibility.Judge(flags, programme, machine, Rules);

    public static CleaningMachine Machine(string id, string cleaner, int places = 4) => new()
    {
        Id = id,
        Places = places,
        Jars = Jars(("clean", cleaner), ("rinse-1", "petroleum-rinse"), ("rinse-2", "petroleum-rinse"), ("rinse-3", "alcohol")),
    };

    private static ImmutableSortedDictionary<string, MachineJar> Jars(params (string Jar, string Fluid)[] jars) =>
        jars.ToImmutableSortedDictionary(one => one.Jar, one => new MachineJar { Fluid = one.Fluid }, StringComparer.Ordinal);

    private static ProgrammeStep[] Washes(int clean, int first, int second, int third) => [Wash("clean", clean), Wash("rinse-1", first), Wash("rinse-2", second), Wash("rinse-3", third)];
}
