using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Core.WaterTests;

/// <summary>From the least to the most, bounds included.</summary>
public readonly record struct Between(decimal Least, decimal Most)
{
    public bool Holds(decimal read) => read >= Least && read <= Most;
}

/// <summary>
/// How watches are tested for tightness. Pressures in bar over ambient. Common practice of the trade without a published source, and a shop's own
/// to change; the tester's own instructions, local rules and licensed practice come first.
/// </summary>
public sealed record WaterRules
{
    public static WaterRules Usual { get; } = new();

    /// <summary>Under ambient, so negative.</summary>
    public Between VacuumBar { get; init; } = new(-0.7m, -0.5m);

    /// <summary>For a watch against splashes, and for one whose rating nobody knows.</summary>
    public Between SplashBar { get; init; } = new(2, 3);

    /// <summary>Cased and dry, a watch is tested at its rating up to here.</summary>
    [Range(0.1, 1_000)]
    public decimal DryMostBar { get; init; } = 10;

    /// <summary>From this rating on the case is tested without its movement first.</summary>
    [Range(0.1, 1_000)]
    public decimal EmptyCaseFromBar { get; init; } = 10;

    /// <summary>A diver's watch is tested in water at so much of its rating.</summary>
    [Range(100, 200)]
    public decimal DiverPercent { get; init; } = 125;

    /// <summary>At room temperature before a test: a cold watch reads false.</summary>
    [Range(0, 1_440)]
    public decimal RoomMinutes { get; init; } = 30;

    public Between WarmCelsius { get; init; } = new(40, 45);

    public Between WarmMinutes { get; init; } = new(10, 20);

    [Range(0.1, 60)]
    public decimal DropMinutes { get; init; } = 1;

    /// <summary>A watch that is worn in water is tested again after so many months.</summary>
    [Range(1, 120)]
    public int AgainAfterMonths { get; init; } = 12;

    /// <summary>A watch made earlier is taken for vintage. From memory.</summary>
    [Range(1_500, 3_000)]
    public int VintageBefore { get; init; } = 1970;

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        foreach (var (member, between) in ((string, Between)[])[("vacuumBar", VacuumBar), ("splashBar", SplashBar), ("warmCelsius", WarmCelsius), ("warmMinutes", WarmMinutes)])
        {
            if (between.Least > between.Most)
            {
                yield return new Fault($"{pointer}/{member}", "The most is no less than the least");
            }
        }

        if (VacuumBar.Least < -1 || VacuumBar.Most > 0)
        {
            yield return new Fault($"{pointer}/vacuumBar", "A vacuum is 0 to -1 bar: there is no less than nothing");
        }

        if (SplashBar.Least < 0)
        {
            yield return new Fault($"{pointer}/splashBar", "A pressure is more than nothing");
        }

        if (WarmCelsius.Most > 60)
        {
            yield return new Fault($"{pointer}/warmCelsius", "No watch is made warmer than 60 °C: oil and gaskets suffer");
        }
    }
}
