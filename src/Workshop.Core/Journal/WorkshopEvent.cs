using System.Collections.Immutable;
using Workshop.Core.Words;

namespace Workshop.Core.Journal;

/// <summary>What an event says, without who said it and when. Each area declares its own; <see cref="EventCatalogue"/> lists them all.</summary>
public abstract record WorkshopEvent
{
    /// <summary>The event's type as the contract spells it, for example <c>stage.started</c>.</summary>
    public string Type => EventCatalogue.TypeOf(this);
}

/// <summary>A fault in the event alone, whatever the job's state: answered 422, late or not.</summary>
/// <param name="Pointer">JSON Pointer into the event's <c>data</c>, for example <c>/offsetSeconds</c>.</param>
public sealed record Fault(string Pointer, string Detail)
{
    public Fault(string pointer, Phrase said) : this(pointer, said.ToString()) => Said = said;

    /// <summary>The detail for people; null where it tells only the sender's programmer something.</summary>
    public Phrase? Said { get; init; }
}

/// <summary>The three members every event's data may have besides its own, and where and by whom it was said.</summary>
public sealed record Manner
{
    public static readonly Manner Plain = new();

    /// <summary>The event reports what has already been done, whatever its time.</summary>
    public bool Already { get; init; }

    /// <summary>Gates the person was told of and goes on in spite of.</summary>
    public ImmutableArray<string> Despite { get; init; } = [];

    /// <summary>The entry whose place this one takes.</summary>
    public EventId? InsteadOf { get; init; }

    public string? Bench { get; init; }

    /// <summary>The badge, as sent.</summary>
    public string? Person { get; init; }
}
