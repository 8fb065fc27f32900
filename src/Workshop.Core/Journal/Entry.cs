using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Corrections;
using Workshop.Core.Labels;

namespace Workshop.Core.Journal;

/// <summary>An event's identity: who sent it (<c>/devices/bench-2/1</c>, <c>/desk/…</c>, <c>/service</c>) and the sender's own id.</summary>
public readonly record struct EventId(string Source, string Id)
{
    /// <summary>The source of whatever the service says itself.</summary>
    public const string Service = "/service";

    public override string ToString() => $"{Source}#{Id}";
}

/// <summary>
/// An entry's place in its stream: effective time, then source (compared ordinally), then the source's sequence, then the
/// order of arrival. A consequence takes the source and sequence of its cause.
/// </summary>
/// <param name="InPlaceOf">For an entry that took another's place: the position of the first that stood there, so that nothing stands between them.</param>
public readonly record struct Place(Instant Effective, string OrderSource, long OrderSequence, long Position, long? InPlaceOf = null) : IComparable<Place>
{
    public int CompareTo(Place other)
    {
        var order = Effective.CompareTo(other.Effective);
        order = order != 0 ? order : string.CompareOrdinal(OrderSource, other.OrderSource);
        order = order != 0 ? order : OrderSequence.CompareTo(other.OrderSequence);
        order = order != 0 ? order : (InPlaceOf ?? Position).CompareTo(other.InPlaceOf ?? other.Position);
        return order != 0 ? order : Position.CompareTo(other.Position);
    }
}

/// <summary><c>applied</c>, or <c>noted</c>: in the history, changes nothing, waits for a person.</summary>
public enum Disposition
{
    Applied,
    Noted,
}

/// <summary>Flags frozen in an entry when it was accepted.</summary>
public static class EntryFlag
{
    public const string Late = "late";
    public const string ForReview = "for-review";
    public const string ClockSuspect = "clock-suspect";
    public const string ClockStepped = "clock-stepped";
    public const string Gap = "gap";
    public const string OpeningImplied = "opening-implied";
    public const string AlreadySo = "already-so";
    public const string UnknownMember = "unknown-member";
    public const string Unproven = "unproven";
    public const string MeanOfDays = "mean-of-days";
    public const string PersonLeft = "person-left";
    public const string Implausible = "implausible";
    public const string UnlikeSequence = "unlike-sequence";
    public const string BeyondCalendar = "beyond-calendar";
    public const string CountDiffers = "count-differs";
    public const string PartTaken = "part-taken";
    public const string FunctionFiguresDiffer = "function-figures-differ";
    public const string AgainstCaution = "against-caution";
    public const string MidnightsDiffer = "midnights-differ";
    public const string UnlikePrediction = "unlike-prediction";
}

/// <summary>
/// One line of the journal: what happened, when and by whom, and what was decided about it when it was accepted.
/// Nothing in it ever changes; whatever else is known about a job is folded from these.
/// </summary>
public sealed record Entry
{
    public required EventId Id { get; init; }

    public required Place Place { get; init; }

    /// <summary>1, 2, 3 … within the stream, in order of acceptance.</summary>
    public required long StreamVersion { get; init; }

    public required Instant Received { get; init; }

    public required WorkshopEvent Event { get; init; }

    public Judged Judged { get; init; } = Judged.Nothing;

    public Disposition Disposition { get; init; }

    public ImmutableArray<string> Flags { get; init; } = [];

    /// <summary>The version of the shop's rules it was judged by.</summary>
    public long RulesVersion { get; init; }

    public EventId? CausedBy { get; init; }

    /// <summary>The sender's own running number; null for a command, and for what the service says.</summary>
    public long? Sequence { get; init; }

    /// <summary>What later entries have made of it; found by folding, never kept.</summary>
    public Fate Fate { get; init; }

    public long Position => Place.Position;

    public Instant Effective => Place.Effective;

    /// <summary>The person behind the badge, or null where nobody was named; mended where a manager said who it was.</summary>
    public string? Person => Judged.Person;

    public bool Counts => Disposition == Disposition.Applied && !OfNoEffect;

    /// <summary>Void, or settled as not having happened: in the history, changes nothing, waits for nobody.</summary>
    public bool OfNoEffect => Fate is Fate.Void or Fate.DidNotHappen;

    public bool Has(string flag) => Flags.Contains(flag);
}

/// <summary>An entry bound for a stream: <c>job/&lt;label&gt;</c>, <c>source/&lt;source&gt;</c>, <c>run/&lt;id&gt;</c> or <c>shop</c>.</summary>
public sealed record StreamEntry(string Stream, Entry Entry)
{
    public static string OfJob(Label job) => $"job/{job}";

    /// <summary>What a device says about itself: <c>source/devices/bench-2/1</c>.</summary>
    public static string OfSource(string source) => $"source{source}";
}
