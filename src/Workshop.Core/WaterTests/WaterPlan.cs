using System.Collections.Immutable;

namespace Workshop.Core.WaterTests;

/// <summary>A step of testing a watch for tightness.</summary>
public enum WaterStep
{
    /// <summary>The case without its movement, at full pressure, in water if need be.</summary>
    EmptyCase,

    /// <summary>Cased, under a vacuum.</summary>
    Vacuum,

    /// <summary>Cased and dry, under pressure; the deformation of the case is read.</summary>
    Pressure,

    /// <summary>Warm, then a cool drop on the crystal.</summary>
    Condensation,

    /// <summary>In water, after a dry pass alone.</summary>
    InWater,
}

/// <summary>One step with its figures.</summary>
/// <param name="Bar">Bar over ambient, or below it where negative; null where there is none.</param>
/// <param name="IfNeeded">It is not asked of every watch.</param>
public sealed record PlannedStep(WaterStep Step, WaterTestMethod Method, Between? Bar, Between? Celsius = null, Between? Minutes = null, decimal? DropMinutes = null, bool IfNeeded = false);

/// <summary>How a watch is tested, in order. By common practice; the tester's own instructions come first.</summary>
public static class WaterPlan
{
    /// <returns>Nothing where it is never tested.</returns>
    public static ImmutableArray<PlannedStep> Of(WaterFacts facts, WaterRules rules)
    {
        if (!facts.Never().IsEmpty)
        {
            return [];
        }

        var steps = ImmutableArray.CreateBuilder<PlannedStep>();
        if (facts.RatingBar is { } full && full >= rules.EmptyCaseFromBar)
        {
            steps.Add(new PlannedStep(WaterStep.EmptyCase, WaterTestMethod.Dry, new Between(full, full)));
        }

        steps.Add(new PlannedStep(WaterStep.Vacuum, WaterTestMethod.Vacuum, rules.VacuumBar));
        steps.Add(new PlannedStep(WaterStep.Pressure, WaterTestMethod.Dry, DryBar(facts, rules)));
        steps.Add(new PlannedStep(WaterStep.Condensation, WaterTestMethod.Condensation, null, rules.WarmCelsius, rules.WarmMinutes, rules.DropMinutes));
        if (facts is { RatingBar: { } rating, Diver: true } && facts.Crystal != CrystalMaterial.Acrylic)
        {
            var bar = rating * rules.DiverPercent / 100;
            steps.Add(new PlannedStep(WaterStep.InWater, WaterTestMethod.Wet, new Between(bar, bar), IfNeeded: true));
        }

        return steps.ToImmutable();
    }

    // Against splashes up to the rating that the splash has; above it at the rating, as far as is done dry.
    private static Between DryBar(WaterFacts facts, WaterRules rules)
    {
        if (facts.RatingBar is not { } rating)
        {
            return rules.SplashBar;
        }

        var most = rating <= rules.SplashBar.Most ? Math.Min(rating, rules.SplashBar.Most) : Math.Min(rating, rules.DryMostBar);
        return new Between(rating <= rules.SplashBar.Most ? Math.Min(rules.SplashBar.Least, most) : most, most);
    }
}
