using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Journal;

namespace Workshop.Core.Cleaning;

/// <summary>A kind of fluid and what it contains.</summary>
public sealed record FluidKind
{
    /// <summary>For example <c>water</c>, <c>ammonia</c>, <c>petroleum</c>, <c>alcohol</c>.</summary>
    [Length(0, 20)]
    public ImmutableArray<string> Contains { get; init; } = [];

    public bool Flammable { get; init; }

    /// <summary>°C, from the safety data sheet of what is filled in; null where nobody has written it down.</summary>
    [Range(-60, 200)]
    public decimal? FlashPointCelsius { get; init; }

    /// <summary>The fluid whose row counts where the table has none for this one.</summary>
    [StringLength(60)]
    public string? Like { get; init; }

    /// <summary>The only kind of machine it belongs into.</summary>
    public MachineKind? MachineKind { get; init; }
}

/// <summary>What parts bear of one fluid. Minutes are those of one immersion, never summed over a programme.</summary>
public sealed record FluidDemand(WashVerdict Verdict)
{
    [Range(1, 120)]
    public int? MaxMinutes { get; init; }

    /// <summary>Above this somebody is asked.</summary>
    [Range(1, 120)]
    public int? AskAboveMinutes { get; init; }

    public TurnSpeed? MaxSpeed { get; init; }

    /// <summary>°C of the fluid.</summary>
    [Range(0, 100)]
    public int? MaxFluidCelsius { get; init; }
}

/// <summary>What parts with a flag bear, and what they ask for.</summary>
public sealed record PartsDemand
{
    /// <summary>Washed in no machine and no bath, whoever asks.</summary>
    public bool Never { get; init; }

    /// <summary>By fluid.</summary>
    public ImmutableSortedDictionary<string, FluidDemand> Fluids { get; init; } = ImmutableSortedDictionary.Create<string, FluidDemand>(StringComparer.Ordinal);

    public WashVerdict? Ultrasound { get; init; }

    /// <summary>°C of the drying air.</summary>
    [Range(20, 120)]
    public int? DryMaxCelsius { get; init; }

    /// <summary>°C above which somebody is asked.</summary>
    [Range(20, 120)]
    public int? DryAskAboveCelsius { get; init; }

    /// <summary>Done before they are washed, for example <c>demagnetised</c>.</summary>
    [Length(0, 10)]
    public ImmutableArray<string> Before { get; init; } = [];

    /// <summary>Done after they were washed, for example <c>lubricating-dip</c>.</summary>
    [Length(0, 10)]
    public ImmutableArray<string> After { get; init; } = [];

    /// <summary>They share a run with nothing else.</summary>
    public bool OwnRun { get; init; }

    /// <summary>As how many runs they count on every fluid they pass.</summary>
    [Range(1, 20)]
    public int CountsAs { get; init; } = 1;

    /// <summary>The only kind of machine for them; any other never.</summary>
    public MachineKind? OnlyIn { get; init; }

    /// <summary>The id of a caution that goes with them.</summary>
    [StringLength(60)]
    public string? Caution { get; init; }

    /// <summary>What to do where they may not be washed.</summary>
    [StringLength(200)]
    public string? Instead { get; init; }

    [StringLength(200)]
    public string? Note { get; init; }
}

/// <summary>What may be in one run together.</summary>
public sealed record SharingRules
{
    public WashVerdict TwoJobsInOneRun { get; init; } = WashVerdict.Yes;

    public WashVerdict SameCalibreInOneRun { get; init; } = WashVerdict.No;

    public WashVerdict CalibreUnknownInSharedRun { get; init; } = WashVerdict.Ask;

    /// <summary>A cage without a lid beside another job's.</summary>
    public WashVerdict OpenCageInSharedRun { get; init; } = WashVerdict.Never;
}

/// <summary>How many runs a filling of a jar is good for.</summary>
/// <param name="WarnRuns">From then on it is said that it wears out.</param>
/// <param name="LastRun">The last run that may start; the next is refused.</param>
public sealed record FluidRuns([property: Range(1, 1_000)] int WarnRuns, [property: Range(1, 1_000)] int LastRun);

/// <summary>
/// What may be washed in what, and together with what; common practice throughout, and the shop's own to change, but for what no rule
/// of a shop changes: whatever is <c>never</c> here by default stays so.
/// </summary>
public sealed partial record CleaningRules
{
    /// <summary>Minutes of an immersion that count as short.</summary>
    [Range(1, 30)]
    public int ShortMinutes { get; init; } = 4;

    /// <summary>Kinds of fluid by name.</summary>
    public ImmutableSortedDictionary<string, FluidKind> Fluids { get; init; } = UsualFluids;

    /// <summary>What parts bear, by the flag of their group; a group without flags is <c>plain</c>.</summary>
    public ImmutableSortedDictionary<string, PartsDemand> Parts { get; init; } = UsualParts;

    public SharingRules Sharing { get; init; } = new();

    /// <summary>Runs of a filling by the jar it stands in; a jar that is not named lasts as <see cref="OtherJars"/>. Its days stand with the agenda.</summary>
    public ImmutableSortedDictionary<string, FluidRuns> FluidRuns { get; init; } = UsualRuns;

    public FluidRuns RunsIn(string jar) => FluidRuns.GetValueOrDefault(jar, OtherJars);

    public bool IsFlammable(string fluid) => Fluids.TryGetValue(fluid, out var kind) && kind.Flammable;

    /// <summary>The flags that decide: those of the group, and <c>plain</c> where none of them says anything of fluids.</summary>
    public ImmutableArray<string> FlagsThatDecide(IEnumerable<string> flags)
    {
        var own = flags.Distinct().ToImmutableArray();
        return own.Any(flag => Parts.TryGetValue(flag, out var parts) && (parts.Never || parts.OnlyIn is not null || !parts.Fluids.IsEmpty)) ? own : own.Add(Plain);
    }

    /// <summary>What parts bear of a fluid; null where no row speaks of it.</summary>
    public FluidDemand? DemandOf(PartsDemand parts, string fluid) =>
        parts.Fluids.TryGetValue(fluid, out var own) ? own
        : Fluids.TryGetValue(fluid, out var kind) && kind.Like is { } like ? parts.Fluids.GetValueOrDefault(like)
        : null;

    /// <summary>As how many runs a group counts.</summary>
    public int CountsAs(IEnumerable<string> flags) => flags.Select(flag => Parts.GetValueOrDefault(flag)?.CountsAs ?? 1).DefaultIfEmpty(1).Max();

    /// <param name="pointer">Where the rules stand in the document.</param>
    public IEnumerable<Fault> Faults(string pointer)
    {
        foreach (var (name, kind) in Fluids.Where(one => one.Value.Like is { } like && !Fluids.ContainsKey(like)))
        {
            yield return new Fault($"{pointer}/fluids/{name}/like", $"There is no fluid '{kind.Like}' here");
        }

        foreach (var (flag, usual) in UsualParts)
        {
            foreach (var fault in Softened(pointer, flag, usual))
            {
                yield return fault;
            }
        }

        foreach (var (jar, _) in FluidRuns.Where(one => one.Value.WarnRuns > one.Value.LastRun))
        {
            yield return new Fault($"{pointer}/fluidRuns/{jar}/warnRuns", "The warning comes no later than the last run");
        }

        if (Sharing.OpenCageInSharedRun != WashVerdict.Never)
        {
            yield return new Fault($"{pointer}/sharing/openCageInSharedRun", Fixed);
        }
    }

    private const string Fixed = "This is fixed: no rule of a shop changes it";

    private IEnumerable<Fault> Softened(string pointer, string flag, PartsDemand usual)
    {
        var own = Parts.GetValueOrDefault(flag);
        if ((usual.Never && own?.Never != true) || (usual.OnlyIn is { } only && own?.OnlyIn != only))
        {
            yield return new Fault($"{pointer}/parts/{flag}", Fixed);
        }

        foreach (var (fluid, _) in usual.Fluids.Where(one => one.Value.Verdict == WashVerdict.Never && own?.Fluids.GetValueOrDefault(one.Key)?.Verdict != WashVerdict.Never))
        {
            yield return new Fault($"{pointer}/parts/{flag}/fluids/{fluid}", Fixed);
        }

        if (usual.Ultrasound == WashVerdict.Never && own?.Ultrasound != WashVerdict.Never)
        {
            yield return new Fault($"{pointer}/parts/{flag}/ultrasound", Fixed);
        }
    }
}
