using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Groups;

/// <summary>How a group of parts stands: on its way, or in one of the four ends that cleaning knows.</summary>
public enum GroupState
{
    Open,
    InRun,

    /// <summary>Its run was aborted: not washed, and nobody knows how far it came.</summary>
    Unknown,
    Washed,
    HandCleaned,
    NotWashed,
    Replaced,
}

/// <summary>What became of a group in a cage.</summary>
public enum WashState
{
    Waiting,
    Washed,
    Unknown,
}

/// <summary>A step of a group: who, when, and the entry that says so.</summary>
public sealed record GroupStep(EventId Entry, Instant At, string? By, string? Bench)
{
    public static GroupStep Of(Entry entry) => new(entry.Id, entry.Effective, entry.Person, entry.Judged.Bench);
}

/// <summary>A count of a group's parts.</summary>
/// <param name="Cage">The cage it was counted into or out of; null where the whole group was counted.</param>
public sealed record PartsCount(CountPoint Point, int Count, GroupStep Step, string? Cage = null);

/// <summary>A count that is not what it should be.</summary>
/// <param name="Seen">The count before, that had them all; null where nobody had counted.</param>
public sealed record CountDifference(string Group, CountPoint Point, int Expected, int Counted, GroupStep Step, PartsCount? Seen)
{
    public bool IsLoss => Counted < Expected;
}

/// <summary>The group, or some of it, in a cage for a run.</summary>
/// <param name="Over">The group was opened again or has ended otherwise since; what becomes of this run is no end of the group.</param>
public sealed record GroupLoad(string Cage, string Run, int? Count, GroupStep In, WashState State = WashState.Waiting, bool Over = false)
{
    public GroupStep? Out { get; init; }

    public int? CountOut { get; init; }

    public string? Machine { get; init; }

    public string? Programme { get; init; }

    /// <summary>The entry that says what became of the run.</summary>
    public GroupStep? Result { get; init; }
}

/// <summary>One group of parts: what belongs to it, how it stands, and every step that brought it there.</summary>
public sealed record PartsGroup
{
    public required string Id { get; init; }

    public ImmutableArray<string> Members { get; init; } = [];

    public ImmutableArray<string> Flags { get; init; } = [];

    /// <summary>The bench has declared it; null for one that is known only from what was said of it since.</summary>
    public GroupStep? Declared { get; init; }

    /// <summary>Washed in no machine, whoever asks; as the flags were judged when they were said.</summary>
    public bool NeverWashed { get; init; }

    public GroupState State { get; init; }

    /// <summary>Why it is not to be washed, was opened again, or is unknown; the part, where it was replaced.</summary>
    public string? Reason { get; init; }

    /// <summary>The step that brought the present state; null while nothing was said.</summary>
    public GroupStep? Since { get; init; }

    public ImmutableArray<GroupLoad> Loads { get; init; } = [];

    public ImmutableArray<PartsCount> Counts { get; init; } = [];

    public ImmutableArray<CountDifference> Differences { get; init; } = [];

    /// <summary>Parts that are out, by name.</summary>
    public ImmutableArray<string> PartsOut { get; init; } = [];

    /// <summary>Parts that were put in, by name.</summary>
    public ImmutableArray<string> PartsFitted { get; init; } = [];

    /// <summary>As many as were declared, minus replaced, plus fitted; null where nobody has counted them when they were declared.</summary>
    public int? Owed { get; init; }

    /// <summary>As many as were there at the last count, minus replaced, plus fitted.</summary>
    public int? Present { get; init; }

    /// <summary>Looked at since it ended.</summary>
    public GroupStep? Inspected { get; init; }

    public bool Ended => State is GroupState.Washed or GroupState.HandCleaned or GroupState.NotWashed or GroupState.Replaced;

    public bool NotFitted => State == GroupState.NotWashed && Reason == GroupNotWashed.NotFitted;

    /// <summary>It was in a machine although it must never be.</summary>
    public bool WashedAgainstTheRule => NeverWashed && Loads.Any(load => load.State == WashState.Washed);

    /// <summary>Loads whose outcome decides how the group stands.</summary>
    public IEnumerable<GroupLoad> Current => Loads.Where(load => !load.Over);

    /// <summary>Parts in the cages of the present loads; null where one of them was not counted.</summary>
    public int? InCages => Current.Any() && Current.All(load => load.Count is not null) ? Current.Sum(load => load.Count) : null;

    /// <summary>Whoever had it last, by the newest of all steps that name one.</summary>
    public GroupStep? LastSeen => Steps.Where(step => step.By is not null).MaxBy(step => step.At) ?? Steps.MaxBy(step => step.At);

    public PartsCount? CountAt(CountPoint point) => Counts.LastOrDefault(count => count.Point == point);

    private IEnumerable<GroupStep> Steps =>
        new[] { Declared, Since, Inspected }.OfType<GroupStep>().Concat(Counts.Select(count => count.Step)).Concat(Loads.SelectMany(load => new[] { load.In, load.Out }).OfType<GroupStep>());
}
