using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;
using Workshop.Core.Labels;

namespace Workshop.Core.Cleaning;

/// <summary>Whose a cage is, from when until when.</summary>
/// <param name="Run">The run it was loaded for.</param>
/// <param name="By">The entry that loaded it.</param>
public sealed record CageBinding(Label Job, string Group, string Run, Instant From, Instant? Until, EventId By);

/// <summary>A group in a run, with what decides whether it may be there.</summary>
/// <param name="Calibre">The movement's calibre by name; null where nobody has written it down.</param>
/// <param name="Open">The cage has no lid.</param>
public sealed record RunNeighbour(Label Job, string Group, ImmutableArray<string> Flags, string? Calibre, bool Open = false);

/// <summary>What the turn knows when a cage is loaded or emptied.</summary>
public sealed record CageFacts
{
    /// <summary>The cage as the shop has entered it; null where it has not.</summary>
    public Cage? Cage { get; init; }

    /// <summary>Everything that holds the cage at the event's moment or later, but for what is meant itself.</summary>
    public ImmutableArray<CageBinding> Bindings { get; init; } = [];

    /// <summary>The run it is loaded for; null where nobody has heard of it.</summary>
    public Run? Run { get; init; }

    /// <summary>What is loaded.</summary>
    public RunNeighbour? Loaded { get; init; }

    /// <summary>What of other jobs and groups is in the run.</summary>
    public ImmutableArray<RunNeighbour> Others { get; init; } = [];
}

/// <summary>What stands in a jar when a run starts.</summary>
/// <param name="Batch">Its counters, as the machine's stream folds them.</param>
public sealed record JarFilling(string Jar, string Fluid, LocalDate FilledOn, FluidBatch Batch);

/// <summary>A run that is going on in a machine.</summary>
public sealed record RunningRun(string Run, Instant Since);

/// <summary>What the turn knows when something is told of a run.</summary>
public sealed record RunFacts
{
    public ImmutableArray<RunNeighbour> Contents { get; init; } = [];

    /// <summary>Fillings of the jars the programme goes through; jars nobody keeps a batch of are left out.</summary>
    public ImmutableArray<JarFilling> Fillings { get; init; } = [];

    /// <summary>Another run in the same machine.</summary>
    public RunningRun? Running { get; init; }
}
