using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Workshop.Core.Cleaning;
using Workshop.Core.Journal;

namespace Workshop.Service.Storage.Shop;

/// <summary>A jar of a machine, in the order in which they stand.</summary>
public sealed record JarDocument
{
    /// <summary>As programmes name it, for example <c>clean</c> or <c>rinse-1</c>.</summary>
    [StringLength(60, MinimumLength = 1)]
    public required string Jar { get; init; }

    /// <summary>The kind of fluid that belongs into it, for example <c>ammoniated</c>.</summary>
    [StringLength(60, MinimumLength = 1)]
    public required string Fluid { get; init; }

    /// <summary>Its maker says that ultrasound may be used in it with flammable fluids.</summary>
    public bool MadeForFlammableUltrasound { get; init; }
}

/// <summary>A cleaning machine with its jars and places for cages.</summary>
public sealed record CleaningMachineDocument : IShopDocument
{
    public string? Id { get; init; }

    [StringLength(100, MinimumLength = 1)]
    public string? Name { get; init; }

    /// <summary>Movements by default; a bath for cases and bracelets is one of its own.</summary>
    public MachineKind Kind { get; init; }

    /// <summary>Cages that go into one run.</summary>
    [Range(1, 50)]
    public int Places { get; init; } = 6;

    [Length(1, 12)]
    public required ImmutableArray<JarDocument> Jars { get; init; }

    public bool OutOfUse { get; init; }

    [StringLength(1_000)]
    public string? Remark { get; init; }

    /// <param name="id">The id of the document.</param>
    public CleaningMachine ToMachine(string id) => new()
    {
        Id = id,
        Kind = Kind,
        Places = Places,
        Jars = Jars.DistinctBy(jar => jar.Jar).ToImmutableSortedDictionary(
            jar => jar.Jar, jar => new MachineJar { Fluid = jar.Fluid, MadeForFlammableUltrasound = jar.MadeForFlammableUltrasound }, StringComparer.Ordinal),
    };

    public IEnumerable<Fault> Faults(DocumentCheck check)
    {
        foreach (var (i, jar) in Jars.Index())
        {
            if (Jars.Take(i).Any(other => other.Jar == jar.Jar))
            {
                yield return new Fault($"/jars/{i}/jar", "Another jar has this name already");
            }

            if (check.Rules.Cleaning.Fluids.TryGetValue(jar.Fluid, out var fluid) && fluid.MachineKind is { } kind && kind != Kind)
            {
                yield return new Fault($"/jars/{i}/fluid", "This fluid belongs into another kind of machine");
            }
        }

        var machine = ToMachine(check.Id);
        foreach (var programme in check.Rules.CleaningRoom.Programmes.Values.OrderBy(one => one.Id, StringComparer.Ordinal))
        {
            foreach (var fault in ProgrammeSafety.Faults(programme, machine, check.Rules.Cleaning))
            {
                yield return new Fault("/jars", $"The programme '{programme.Id}' would not be safe here: {fault.Detail}");
            }
        }
    }
}

/// <summary>What a machine does with a run, step by step.</summary>
public sealed record ProgrammeDocument : IShopDocument
{
    public string? Id { get; init; }

    [StringLength(100, MinimumLength = 1)]
    public string? Name { get; init; }

    public MachineKind MachineKind { get; init; }

    /// <summary>Of programmes that would do equally, the one with the lowest number is proposed.</summary>
    [Range(1, 100)]
    public int Preference { get; init; } = 1;

    /// <summary>Done before, for example <c>old-grease-off-by-hand</c>.</summary>
    [Length(0, 10)]
    public ImmutableArray<string> Before { get; init; } = [];

    [Length(1, 40)]
    public required ImmutableArray<ProgrammeStep> Steps { get; init; }

    [StringLength(1_000)]
    public string? Remark { get; init; }

    /// <summary>What heat would do in which machine, each with the source of its figure. Computed when it is saved.</summary>
    public ImmutableArray<string>? Cautions { get; init; }

    /// <param name="id">The id of the document.</param>
    public Programme ToProgramme(string id) => new() { Id = id, MachineKind = MachineKind, Preference = Preference, Before = Before, Steps = Steps };

    public IEnumerable<Fault> Faults(DocumentCheck check)
    {
        var programme = ToProgramme(check.Id);
        return ProgrammeSafety.Faults(programme).ToArray() is { Length: > 0 } own ? own
            : check.Rules.CleaningRoom.Machines.Values.OrderBy(one => one.Id, StringComparer.Ordinal).SelectMany(machine => ProgrammeSafety.Faults(programme, machine, check.Rules.Cleaning));
    }

    IShopDocument IShopDocument.Completed(DocumentCheck check)
    {
        var programme = ToProgramme(check.Id);
        ImmutableArray<string> cautions = [.. check.Rules.CleaningRoom.Machines.Values.OrderBy(one => one.Id, StringComparer.Ordinal)
            .SelectMany(machine => ProgrammeSafety.Cautions(programme, machine, check.Rules.Cleaning))];
        return this with { Cautions = cautions.IsEmpty ? null : cautions };
    }

    public IEnumerable<string> Remarks() => Cautions ?? [];
}

/// <summary>A numbered cage of metal mesh.</summary>
public sealed record CageDocument : IShopDocument
{
    public string? Id { get; init; }

    /// <summary>The number punched into it.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string? Number { get; init; }

    /// <summary>The kind of machine it goes into.</summary>
    public MachineKind MachineKind { get; init; }

    /// <summary>It has no lid: it never shares a run with another job.</summary>
    public bool Open { get; init; }

    /// <summary>How fine its mesh is, in mm.</summary>
    [Range(0.05, 20)]
    public decimal? MeshMillimetres { get; init; }

    /// <summary>The label on it.</summary>
    [StringLength(20)]
    public string? Label { get; init; }

    public bool OutOfUse { get; init; }

    [StringLength(1_000)]
    public string? Remark { get; init; }

    string? IShopDocument.OnLabel => Label;

    /// <param name="id">The id of the document.</param>
    public Cage ToCage(string id) => new(id, MachineKind, Open);

    public IEnumerable<Fault> Faults(DocumentCheck check) => [];
}
