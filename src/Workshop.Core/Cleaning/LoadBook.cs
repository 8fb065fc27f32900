using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Groups;
using Workshop.Core.Journal;
using Workshop.Core.Pieces;

namespace Workshop.Core.Cleaning;

/// <summary>A group of the job in a cage, for a run.</summary>
/// <param name="Id">The entry that says so.</param>
/// <param name="Doubted">It was reported against a gate and waits for a manager.</param>
/// <param name="Bound">The cage was this group's from here until it was scanned empty; a report that was settled binds none.</param>
public sealed record CageLoad(EventId Id, string Cage, string Group, string Run, Place At, string? By, int? Count, bool Doubted, bool Bound)
{
    public Instant? EmptiedAt { get; init; }

    public EventId? EmptiedBy { get; init; }

    public string? EmptiedByPerson { get; init; }

    public int? CountOut { get; init; }
}

/// <summary>
/// The cages of a job: which group was in which, for which run, from when until when. A cage is one job's and one group's from the moment
/// it is loaded until it is scanned empty, whatever becomes of the run.
/// </summary>
public sealed record LoadBook
{
    /// <summary>How the thing is called in the table of holdings.</summary>
    public const string ThingPrefix = "cages/";

    public ImmutableArray<CageLoad> Loads { get; init; } = [];

    /// <summary>The cage as a thing that is held: by the group, for the run.</summary>
    public ImmutableArray<Holding> Holdings =>
    [
        .. Loads.Where(one => one is { Bound: true, Doubted: false })
            .Select(one => new Holding(ThingPrefix + one.Cage, $"groups/{one.Group}", one.At.Effective, one.EmptiedAt, one.Id, one.EmptiedBy) { Run = one.Run }),
    ];

    /// <summary>The load that a cage was not scanned empty of yet.</summary>
    public CageLoad? Open(string cage) => Loads.LastOrDefault(load => IsIn(load, cage));

    /// <summary>It is so already. A report that was settled binds no cage, so that the same told again does.</summary>
    public bool Is(CageLoaded loaded) => Loads.Any(load => load.Bound && IsIn(load, loaded.Cage) && load.Group == loaded.Group && load.Run == loaded.Run);

    public LoadBook Apply(Entry entry) => entry.Event switch
    {
        CageLoaded loaded when !Is(loaded) => this with { Loads = Loads.Add(Load(entry, loaded, doubted: false)) },
        // Whatever was in it is out, also what was settled since.
        CageEmptied emptied when Open(emptied.Cage) is not null => this with
        {
            Loads = [.. Loads.Select(load => IsIn(load, emptied.Cage)
                ? load with { EmptiedAt = entry.Effective, EmptiedBy = entry.Id, EmptiedByPerson = entry.Person, CountOut = emptied.Count }
                : load)],
        },
        _ => this,
    };

    /// <summary>A report that waits for a manager: nothing changes, but what is in a run should know of it.</summary>
    public LoadBook HearNoted(Entry entry) => entry.Event is CageLoaded loaded ? this with { Loads = Loads.Add(Load(entry, loaded, doubted: true)) } : this;

    private CageLoad Load(Entry entry, CageLoaded loaded, bool doubted) => new(
        entry.Id, loaded.Cage, loaded.Group, loaded.Run, entry.Place, entry.Person, loaded.Count, doubted,
        Bound: !doubted && !entry.Has(EntryFlag.ForReview) && !Loads.Any(load => load.Bound && IsIn(load, loaded.Cage)));

    private static bool IsIn(CageLoad load, string cage) => load is { EmptiedAt: null, Doubted: false } && load.Cage == cage;
}
