using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;

namespace Workshop.Core.Cleaning;

/// <summary>One step of a programme: an immersion, a spin, or drying; one of the three.</summary>
public sealed record ProgrammeStep
{
    /// <summary>The jar it is washed in, for example <c>clean</c> or <c>rinse-1</c>.</summary>
    [StringLength(60, MinimumLength = 1)]
    public string? Wash { get; init; }

    /// <summary>Minutes of the immersion.</summary>
    [Range(1, 120)]
    public int? Minutes { get; init; }

    public TurnSpeed? Speed { get; init; }

    public bool Ultrasound { get; init; }

    /// <summary>°C: of the fluid for an immersion, of the air for drying.</summary>
    [Range(0, 120)]
    public int? Celsius { get; init; }

    /// <summary>Minutes of spinning off.</summary>
    [Range(1, 30)]
    public int? Spin { get; init; }

    /// <summary>Minutes of drying.</summary>
    [Range(1, 240)]
    public int? Dry { get; init; }

    /// <summary>Minutes it takes.</summary>
    public int Lasts => (Wash is null ? 0 : Minutes ?? 0) + (Spin ?? 0) + (Dry ?? 0);
}

/// <summary>What a machine does with a run, step by step.</summary>
public sealed record Programme
{
    public required string Id { get; init; }

    public MachineKind MachineKind { get; init; }

    /// <summary>Of programmes that would do equally, the one with the lowest number is proposed.</summary>
    public int Preference { get; init; } = 1;

    /// <summary>Done before, for example <c>old-grease-off-by-hand</c>.</summary>
    public ImmutableArray<string> Before { get; init; } = [];

    public required ImmutableArray<ProgrammeStep> Steps { get; init; }

    /// <summary>The jars it goes through, each once, in order.</summary>
    public IEnumerable<string> Jars => Steps.Select(step => step.Wash).OfType<string>().Distinct();

    public int Minutes => Steps.Sum(step => step.Lasts);
}

/// <summary>A jar of a machine and what belongs into it.</summary>
public sealed record MachineJar
{
    /// <summary>The kind of fluid, for example <c>ammoniated</c>.</summary>
    [StringLength(60, MinimumLength = 1)]
    public required string Fluid { get; init; }

    /// <summary>The maker of the machine has built it for ultrasound in flammable fluids.</summary>
    public bool MadeForFlammableUltrasound { get; init; }
}

/// <summary>A cleaning machine with its jars and places for cages.</summary>
public sealed record CleaningMachine
{
    public required string Id { get; init; }

    public MachineKind Kind { get; init; }

    /// <summary>How many cages go into one run.</summary>
    public int Places { get; init; } = 1;

    public required ImmutableSortedDictionary<string, MachineJar> Jars { get; init; }

    /// <summary>The machine has every jar of the programme and is of its kind.</summary>
    public bool Runs(Programme programme) => Kind == programme.MachineKind && programme.Jars.All(Jars.ContainsKey);
}

/// <summary>A numbered cage.</summary>
/// <param name="Open">It has no lid.</param>
public sealed record Cage(string Id, MachineKind MachineKind = MachineKind.Movement, bool Open = false);
