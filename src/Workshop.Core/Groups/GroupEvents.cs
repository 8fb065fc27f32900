using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Groups;

/// <summary>When the parts of a group are counted.</summary>
public enum CountPoint
{
    Declared,
    Loaded,
    Unloaded,
    Inspection,
    Rebuild,
}

/// <summary>Something that is said of one group of parts of a watch.</summary>
public abstract record GroupEvent : WorkshopEvent
{
    /// <summary>A short name: one of the usual groups, or the bench's own.</summary>
    public required string Group { get; init; }
}

/// <summary>A group of parts is named with its members and what they are like. Said again, the newest word counts.</summary>
public sealed record GroupDeclared : GroupEvent
{
    /// <summary>Parts by name, those too that were put with this group on purpose.</summary>
    public ImmutableArray<string> Members { get; init; } = [];

    /// <summary>How many parts.</summary>
    public int? Count { get; init; }

    /// <summary>What decides how the parts may be washed; a group without flags is of plain metal.</summary>
    public ImmutableArray<string> Flags { get; init; } = [];
}

/// <summary>The group was cleaned by hand by whoever says so.</summary>
public sealed record GroupHandCleaned : GroupEvent;

/// <summary>The group is not to be washed, or the watch has none of it.</summary>
public sealed record GroupNotWashed : GroupEvent
{
    /// <summary>The reason of a group that this watch does not have.</summary>
    public const string NotFitted = "not-fitted";

    /// <summary>Free text, or <see cref="NotFitted"/>.</summary>
    public required string Reason { get; init; }
}

/// <summary>A part of the group is not coming back, something else takes its place. An open group ends with it.</summary>
public sealed record GroupReplaced : GroupEvent
{
    /// <summary>The part that is out, by name.</summary>
    public required string Part { get; init; }
}

/// <summary>The group is to be cleaned once more: film, dirt or a residue was seen. The other groups stay as they are.</summary>
public sealed record GroupReopened : GroupEvent
{
    /// <summary>Free text.</summary>
    public required string Reason { get; init; }
}

/// <summary>Somebody has looked at the group after it was cleaned.</summary>
public sealed record GroupInspected : GroupEvent;

/// <summary>The parts of a group were counted.</summary>
public sealed record CountRecorded : GroupEvent
{
    public required CountPoint At { get; init; }

    public required int Count { get; init; }
}

/// <summary>The parts of a group lie in a numbered cage, for a run.</summary>
public sealed record CageLoaded : GroupEvent
{
    public required string Cage { get; init; }

    /// <summary>Any UUID; a run nobody has heard of is planned by it.</summary>
    public required string Run { get; init; }

    /// <summary>How many parts were put into this cage; a group may lie in several.</summary>
    public int? Count { get; init; }
}

/// <summary>The cage was scanned empty: its parts are out, and it is free for others.</summary>
public sealed record CageEmptied : WorkshopEvent
{
    public required string Cage { get; init; }

    public string? Group { get; init; }

    public string? Run { get; init; }

    /// <summary>How many parts came out of this cage.</summary>
    public int? Count { get; init; }
}

/// <summary>The run that the group was in is finished.</summary>
public sealed record GroupWashed : GroupEvent
{
    public required string Run { get; init; }

    public required string Cage { get; init; }

    public required string Machine { get; init; }

    public required string Programme { get; init; }

    public ImmutableArray<string> Batches { get; init; } = [];
}

/// <summary>The run that the group was in was aborted: it is not washed, and nobody knows how far it came.</summary>
public sealed record GroupUnknown : GroupEvent
{
    public required string Run { get; init; }

    public required string Cage { get; init; }

    public required string Reason { get; init; }
}

/// <summary>Why the parts of another watch may be those that are missing or too many here.</summary>
public enum NearBy
{
    SameBench,
    SameRun,
}

/// <summary>Another watch that was open near by.</summary>
/// <param name="Job">Its label.</param>
/// <param name="Where">The bench or the run.</param>
public sealed record MixUpCandidate(string Job, NearBy Near, string Where);

/// <summary>A count that is not what it should be.</summary>
public abstract record CountEvent : GroupEvent
{
    public required CountPoint At { get; init; }

    /// <summary>What should have been there.</summary>
    public required int Expected { get; init; }

    public required int Counted { get; init; }

    /// <summary>Who had them last: the count before, by whom, when and at which bench.</summary>
    public CountPoint? SeenAt { get; init; }

    public string? SeenBy { get; init; }

    public Instant? SeenOn { get; init; }

    public string? SeenBench { get; init; }

    /// <summary>Other watches whose parts may have got among these, as things stood when it was found.</summary>
    public ImmutableArray<MixUpCandidate> Candidates { get; init; } = [];
}

/// <summary>Fewer parts than there should be: the job is held until a manager has decided.</summary>
public sealed record LossReported : CountEvent;

/// <summary>More parts than there should be: perhaps another watch's.</summary>
public sealed record CountDiffers : CountEvent;
