using System.Collections.Immutable;
using Workshop.Core.Journal;
using Workshop.Core.Notes;

namespace Workshop.Core.Takedown;

/// <summary>The systems that stand on one another in a watch; taken down from the outside to the inside. Common practice.</summary>
public enum WatchSystem
{
    Case,
    DialSide,
    Automatic,
    Chronograph,
    PowerAndTrain,
    Escapement,
    Keyless,
}

/// <summary>How a screw's head stands in its bridge.</summary>
public enum ScrewHead
{
    Raised,
    Flush,
    Countersunk,
}

/// <summary>How a screw's head is finished.</summary>
public enum ScrewFinish
{
    Polished,
    Plain,
    Blued,
}

/// <summary>Screws of one place that are not to be exchanged with others.</summary>
/// <param name="Place">Where they sit, in the bench's words: <c>train bridge, beside the click</c>.</param>
/// <param name="Count">1 to 50.</param>
/// <param name="LengthMillimetres">Of the whole screw, head included; 0.1 to 20.</param>
public sealed record ScrewNote(string Place, int Count, ScrewHead? Head = null, ScrewFinish? Finish = null, decimal? LengthMillimetres = null);

/// <summary>A small part that lies with another group on purpose, so that it is asked for by name.</summary>
public sealed record KeptWith(string Member, string Group);

/// <summary>What both a step and the let-down say of their place in the takedown.</summary>
public abstract record TakedownEvent : WorkshopEvent
{
    /// <summary>
    /// The place in the sequence, from 1 on, with up to four decimals: what was forgotten between 3 and 4 is 3.5. The sequence is by
    /// this number, never by the time at which a step was told.
    /// </summary>
    public required decimal Step { get; init; }

    public WatchSystem? System { get; init; }

    /// <summary>A word for what the rules warn of, for example <c>spring-tension</c>, or the bench's own words.</summary>
    public string? Caution { get; init; }

    /// <summary>SHA-256 of each photo's bytes as they are sent, 64 hexadecimal digits; a photo may come later than the step.</summary>
    public ImmutableArray<string>? Photos { get; init; }

    /// <summary>The numbered holder the movement sits in.</summary>
    public string? Holder { get; init; }

    /// <summary>The numbered tray its parts lie in.</summary>
    public string? Tray { get; init; }

    /// <summary>What the bench calls it; null where the event says it already.</summary>
    public abstract string? Said { get; }

    /// <summary>The part that came out; <c>let-down</c> for the let-down itself.</summary>
    public abstract string? Out { get; }
}

/// <summary>One part, or one thing done, in the order in which the watch comes apart.</summary>
public sealed record TakedownStep : TakedownEvent
{
    /// <summary>What was done, in the bench's words.</summary>
    public required string Text { get; init; }

    /// <summary>A part that rules know by name (list <c>part</c>), an id of the calibre's plan, or free text that takes part in no rule.</summary>
    public string? Part { get; init; }

    public ImmutableArray<ScrewNote>? Screws { get; init; }

    /// <summary>What must have come out before this, each as a part is named.</summary>
    public ImmutableArray<string>? Needs { get; init; }

    public KeptWith? KeptWith { get; init; }

    public override string? Said => Text;

    public override string? Out => Part;
}

/// <summary>The mainspring was let down; confirmed by the person who did it.</summary>
public sealed record TakedownLetDown : TakedownEvent
{
    public string? Text { get; init; }

    public override string? Said => Text;

    public override string? Out => OrderRule.LetDown;
}

/// <summary>What somebody saw that is not as it should be, before cleaning hides the evidence.</summary>
public sealed record FindingRecorded : WorkshopEvent
{
    public WatchSystem? System { get; init; }

    public string? Part { get; init; }

    public required string Condition { get; init; }

    /// <summary>Whether it has to be put right.</summary>
    public required Severity Severity { get; init; }

    public ImmutableArray<string>? Photos { get; init; }

    /// <summary>It was so when the watch came in.</summary>
    public bool? AsReceived { get; init; }
}

public enum InspectionResult
{
    Ok,
    Replace,
    Rework,
}

/// <summary>A system, or one part of it, was looked at after cleaning.</summary>
public sealed record InspectionRecorded : WorkshopEvent
{
    public required WatchSystem System { get; init; }

    /// <summary>Where the result speaks of one part alone.</summary>
    public string? Part { get; init; }

    /// <summary><c>ok</c> closes what had been found there until then; <c>replace</c> and <c>rework</c> leave it open.</summary>
    public required InspectionResult Result { get; init; }

    public string? Note { get; init; }
}
