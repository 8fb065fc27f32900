using System.Collections.Frozen;
using System.Collections.Immutable;

namespace Workshop.Core.Cleaning;

/// <summary>What stands in the cleaning room: machines, programmes and numbered cages by id. Those out of use are not here.</summary>
public sealed record CleaningRoom
{
    public static readonly CleaningRoom Empty = new();

    public FrozenDictionary<string, CleaningMachine> Machines { get; init; } = FrozenDictionary<string, CleaningMachine>.Empty;

    public FrozenDictionary<string, Programme> Programmes { get; init; } = FrozenDictionary<string, Programme>.Empty;

    public FrozenDictionary<string, Cage> Cages { get; init; } = FrozenDictionary<string, Cage>.Empty;

    /// <summary>The programmes a machine has all jars for, the preferred ones first.</summary>
    public ImmutableArray<Programme> ProgrammesOf(CleaningMachine machine) =>
        [.. Programmes.Values.Where(machine.Runs).OrderBy(one => one.Preference).ThenBy(one => one.Id, StringComparer.Ordinal)];
}
