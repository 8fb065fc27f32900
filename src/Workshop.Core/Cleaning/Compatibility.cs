using System.Collections.Immutable;

namespace Workshop.Core.Cleaning;

/// <summary>What stands against a step, by one flag of the group.</summary>
/// <param name="Flag">The flag whose row says so.</param>
/// <param name="Limit">What would still do, in the unit of the fault (minutes, °C); null where it is no figure.</param>
public sealed record WashObjection(WashVerdict Verdict, WashFault Fault, string Flag, string? Jar, string? Fluid, int? Limit = null)
{
    /// <summary>The jar with its fluid, as people name it: <c>rinse-3 (alcohol)</c>.</summary>
    public string Place => Jar is null ? "" : Fluid is null ? Jar : $"{Jar} ({Fluid})";
}

/// <summary>What a step does to a group.</summary>
/// <param name="Step">1, 2, 3 …</param>
public sealed record StepVerdict(int Step, WashVerdict Verdict, ImmutableArray<WashObjection> Against);

/// <summary>What a whole programme does to a group: the worst of its steps.</summary>
public sealed record GroupVerdict
{
    public required WashVerdict Verdict { get; init; }

    public required ImmutableArray<StepVerdict> Steps { get; init; }

    /// <summary>What stands against it, the worst first, then in the order of the steps.</summary>
    public ImmutableArray<WashObjection> Against => [.. Steps.SelectMany(step => step.Against).OrderByDescending(one => one.Verdict)];

    /// <summary>Nobody is asked.</summary>
    public bool Passes => Verdict < WashVerdict.Ask;

    /// <summary>What the tables of its flags would have done instead.</summary>
    public ImmutableArray<string> Instead { get; init; } = [];

    public ImmutableArray<string> Before { get; init; } = [];

    public ImmutableArray<string> After { get; init; } = [];
}

/// <summary>
/// What a programme does to a group in a machine, by the shop's table and by nothing else. The worst verdict over all flags counts; of
/// minutes, speed and warmth the smallest. Minutes are those of one immersion, so that a programme that washes twice passes its limit twice.
/// </summary>
public static class Compatibility
{
    public static GroupVerdict Judge(IEnumerable<string> flags, Programme programme, CleaningMachine machine, CleaningRules rules)
    {
        var deciding = rules.FlagsThatDecide(flags);
        var parts = deciding.Select(flag => rules.Parts.GetValueOrDefault(flag)).OfType<PartsDemand>().ToArray();
        var steps = programme.Steps.Select((step, i) => Judge(i + 1, deciding, step, machine, rules)).ToImmutableArray();
        return new GroupVerdict
        {
            Verdict = steps.Select(step => step.Verdict).DefaultIfEmpty(WashVerdict.Yes).Max(),
            Steps = steps,
            Instead = [.. parts.Select(one => one.Instead).OfType<string>().Distinct()],
            Before = [.. parts.SelectMany(one => one.Before).Concat(programme.Before).Distinct()],
            After = [.. parts.SelectMany(one => one.After).Distinct()],
        };
    }

    /// <summary>The flags of a group that no machine may wash, whatever the programme.</summary>
    public static IEnumerable<string> NeverWashed(IEnumerable<string> flags, CleaningRules rules) =>
        flags.Where(flag => rules.Parts.GetValueOrDefault(flag)?.Never == true);

    /// <summary>The kind of machine a group is bound to by its flags; null where any will do.</summary>
    public static MachineKind? OnlyIn(IEnumerable<string> flags, CleaningRules rules) =>
        flags.Select(flag => rules.Parts.GetValueOrDefault(flag)?.OnlyIn).FirstOrDefault(kind => kind is not null);

    /// <summary>Machines with their programmes that wash the group without anybody being asked.</summary>
    public static IEnumerable<(CleaningMachine Machine, Programme Programme)> WouldDo(
        IEnumerable<string> flags, IEnumerable<CleaningMachine> machines, IReadOnlyCollection<Programme> programmes, CleaningRules rules)
    {
        var own = flags.ToArray();
        return
            from machine in machines
            from programme in programmes
            where machine.Runs(programme) && Judge(own, programme, machine, rules).Passes
            select (machine, programme);
    }

    private static StepVerdict Judge(int number, ImmutableArray<string> flags, ProgrammeStep step, CleaningMachine machine, CleaningRules rules)
    {
        var against = flags.SelectMany(flag => Against(flag, step, machine, rules)).ToImmutableArray();
        return new StepVerdict(number, against.Select(one => one.Verdict).DefaultIfEmpty(WashVerdict.Yes).Max(), against);
    }

    private static IEnumerable<WashObjection> Against(string flag, ProgrammeStep step, CleaningMachine machine, CleaningRules rules)
    {
        if (!rules.Parts.TryGetValue(flag, out var parts))
        {
            return [new WashObjection(WashVerdict.Ask, WashFault.FluidUnknown, flag, step.Wash, null)];
        }

        return parts.Never ? [new WashObjection(WashVerdict.Never, WashFault.NeverWashed, flag, step.Wash, null)]
            : parts.OnlyIn is { } only && only != machine.Kind ? [new WashObjection(WashVerdict.Never, WashFault.OtherMachine, flag, step.Wash, null)]
            : step.Wash is { } jar ? Immersion(flag, parts, jar, step, machine, rules)
            : Drying(flag, parts, step);
    }

    private static IEnumerable<WashObjection> Immersion(string flag, PartsDemand parts, string jar, ProgrammeStep step, CleaningMachine machine, CleaningRules rules)
    {
        if (!machine.Jars.TryGetValue(jar, out var filled))
        {
            yield return new WashObjection(WashVerdict.No, WashFault.NoSuchJar, flag, jar, null);
            yield break;
        }

        WashObjection Says(WashVerdict verdict, WashFault fault, int? limit = null) => new(verdict, fault, flag, jar, filled.Fluid, limit);

        // A flag that says nothing of any fluid (magnetised, rusty) leaves the word to the others.
        if (!parts.Fluids.IsEmpty)
        {
            if (rules.DemandOf(parts, filled.Fluid) is not { } demand)
            {
                yield return Says(WashVerdict.Ask, WashFault.FluidUnknown);
            }
            else
            {
                foreach (var one in Demanded(demand, step, rules, Says))
                {
                    yield return one;
                }
            }
        }

        if (step.Ultrasound && parts.Ultrasound is { } ultrasound)
        {
            if (ultrasound >= WashVerdict.Ask)
            {
                yield return Says(ultrasound, WashFault.Ultrasound);
            }
            else if (ultrasound == WashVerdict.Short && step.Minutes > rules.ShortMinutes)
            {
                yield return Says(WashVerdict.No, WashFault.Ultrasound, rules.ShortMinutes);
            }
        }
    }

    private static IEnumerable<WashObjection> Demanded(FluidDemand demand, ProgrammeStep step, CleaningRules rules, Func<WashVerdict, WashFault, int?, WashObjection> says)
    {
        if (demand.Verdict >= WashVerdict.Ask)
        {
            yield return says(demand.Verdict, WashFault.Fluid, null);
        }

        var most = demand.Verdict == WashVerdict.Short ? Math.Min(demand.MaxMinutes ?? rules.ShortMinutes, rules.ShortMinutes) : demand.MaxMinutes;
        if (step.Minutes > most)
        {
            yield return says(WashVerdict.No, WashFault.Minutes, most);
        }
        else if (step.Minutes > demand.AskAboveMinutes)
        {
            yield return says(WashVerdict.Ask, WashFault.Minutes, demand.AskAboveMinutes);
        }
        else if (demand.Verdict == WashVerdict.Short)
        {
            yield return says(WashVerdict.Short, WashFault.Minutes, most);
        }

        if ((step.Speed ?? TurnSpeed.Normal) > demand.MaxSpeed)
        {
            yield return says(WashVerdict.No, WashFault.Speed, null);
        }

        if (step.Celsius > demand.MaxFluidCelsius)
        {
            yield return says(WashVerdict.No, WashFault.Warmth, demand.MaxFluidCelsius);
        }
    }

    private static IEnumerable<WashObjection> Drying(string flag, PartsDemand parts, ProgrammeStep step)
    {
        if (step.Dry is not null && step.Celsius > parts.DryMaxCelsius)
        {
            yield return new WashObjection(WashVerdict.No, WashFault.Drying, flag, null, null, parts.DryMaxCelsius);
        }
        else if (step.Dry is not null && step.Celsius > parts.DryAskAboveCelsius)
        {
            yield return new WashObjection(WashVerdict.Ask, WashFault.Drying, flag, null, null, parts.DryAskAboveCelsius);
        }
    }
}
