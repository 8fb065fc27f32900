using Workshop.Core.Journal;

namespace Workshop.Core.Cleaning;

/// <summary>
/// What no shop may set up, whatever is washed: heat over parts that are still wet with something that burns, and ultrasound in a
/// flammable bath whose maker did not build it for that. Fixed.
/// </summary>
public static class ProgrammeSafety
{
    /// <summary>
    /// A liquid heated to within this of its flash point is handled as the next more dangerous class: OSHA 1910.106, 16.7 °C (30 °F).
    /// </summary>
    public const decimal BelowFlashPointCelsius = 16.7m;

    /// <summary>Faults of the programme itself. Pointers lead into <c>steps</c>.</summary>
    public static IEnumerable<Fault> Faults(Programme programme)
    {
        foreach (var (i, step) in programme.Steps.Index())
        {
            var kinds = (step.Wash is null ? 0 : 1) + (step.Spin is null ? 0 : 1) + (step.Dry is null ? 0 : 1);
            if (kinds != 1)
            {
                yield return new Fault($"/steps/{i}", "A step washes, spins or dries: one of the three");
            }
            else if (step.Wash is not null && step.Minutes is null)
            {
                yield return new Fault($"/steps/{i}/minutes", "How long is it in the jar?");
            }
            else if (step.Wash is null && (step.Ultrasound || step.Speed is not null || step.Minutes is not null))
            {
                yield return new Fault($"/steps/{i}", "Minutes, speed and ultrasound belong to a step in a jar");
            }
        }
    }

    /// <summary>Faults of a programme in a machine that has its jars; nothing for one that has not.</summary>
    public static IEnumerable<Fault> Faults(Programme programme, CleaningMachine machine, CleaningRules rules)
    {
        if (!machine.Runs(programme))
        {
            yield break;
        }

        string? wetWith = null;
        foreach (var (i, step) in programme.Steps.Index())
        {
            if (step.Wash is { } jar)
            {
                var filled = machine.Jars[jar];
                if (wetWith is not null && step.Celsius is { } warm && Warms(warm) && !rules.IsFlammable(filled.Fluid))
                {
                    yield return WetAndHot(i, wetWith, machine);
                }

                if (step.Ultrasound && rules.IsFlammable(filled.Fluid) && !filled.MadeForFlammableUltrasound)
                {
                    yield return new Fault(
                        $"/steps/{i}/ultrasound", $"{machine.Id}: {jar} holds {filled.Fluid}, which is flammable, and the machine is not said to be made for ultrasound in it");
                }

                wetWith = rules.IsFlammable(filled.Fluid) ? $"{jar} ({filled.Fluid})" : null;
            }
            else if (step.Spin is not null)
            {
                wetWith = null;
            }
            else if (wetWith is not null && step.Celsius is { } celsius && Warms(celsius))
            {
                yield return WetAndHot(i, wetWith, machine);
            }
        }
    }

    /// <summary>What is worth a caution in a machine: flammable jars that are heated near or above what their flash point allows.</summary>
    public static IEnumerable<string> Cautions(Programme programme, CleaningMachine machine, CleaningRules rules)
    {
        if (!machine.Runs(programme))
        {
            yield break;
        }

        foreach (var (i, step) in programme.Steps.Index())
        {
            if (step is not { Wash: { } jar, Celsius: { } celsius } || !rules.Fluids.TryGetValue(machine.Jars[jar].Fluid, out var kind) || !kind.Flammable)
            {
                continue;
            }

            if (kind.FlashPointCelsius is not { } flash)
            {
                yield return $"Step {i + 1}: {jar} ({machine.Jars[jar].Fluid}) of {machine.Id} is heated to {celsius} °C, and nobody has written down its flash point; the safety data sheet and local rules decide.";
            }
            else if (celsius > flash - BelowFlashPointCelsius)
            {
                yield return $"Step {i + 1}: {jar} ({machine.Jars[jar].Fluid}) of {machine.Id} is heated to {celsius} °C, above {flash - BelowFlashPointCelsius} °C (its flash point of {flash} °C less 16.7 °C, OSHA 1910.106): "
                    + "from there on it is handled as the next more dangerous class. Local rules and licensed practice decide.";
            }
        }
    }

    // Room air is no heat.
    private static bool Warms(int celsius) => celsius > 30;

    private static Fault WetAndHot(int step, string wetWith, CleaningMachine machine) =>
        new($"/steps/{step}", $"{machine.Id}: heat after {wetWith}, which is flammable, without a spin between; spin it off first");
}
