using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Journal;
using Workshop.Core.Notes;

namespace Workshop.Core.Holds;

/// <summary>One hold, from when to when.</summary>
/// <param name="Cause">The entry that placed it.</param>
/// <param name="LiftedBy">The entry that lifted it, or null while it stands.</param>
public sealed record Hold(HoldReason Reason, EventId Cause, Instant From, Instant? Until, bool StopsPromise, string? Text, LocalDate? LookAgainOn, EventId? LiftedBy)
{
    public bool Stands => Until is null;
}

/// <summary>All holds of a job, ended ones too.</summary>
public sealed record HoldBook
{
    public ImmutableArray<Hold> All { get; init; } = [];

    public IEnumerable<Hold> Standing => All.Where(hold => hold.Stands);

    public bool Holds(HoldReason reason) => All.Any(hold => hold.Reason == reason && hold.Stands);

    public HoldBook Apply(Entry entry) => entry.Event switch
    {
        HoldPlaced placed => Place(placed.Hold, entry, placed.StopsPromise, placed.Reason, placed.Until),
        HoldLifted lifted => Lift(lifted.Hold, entry),
        MixUpSuspected suspected => Place(HoldReason.MixUp, entry, text: suspected.Other is { } other ? $"perhaps exchanged with {other}" : "numbers at casing disagree"),
        DamageSeen { AsReceived: not true } damage => Place(HoldReason.Damage, entry, text: damage.Condition),
        _ => this,
    };

    private HoldBook Place(HoldReason reason, Entry entry, bool? stopsPromise = null, string? text = null, LocalDate? until = null) =>
        this with { All = All.Add(new Hold(reason, entry.Id, entry.Effective, null, stopsPromise ?? HoldTable.Of(reason).StopsPromise, text, until, null)) };

    private HoldBook Lift(HoldReason reason, Entry entry) =>
        this with { All = [.. All.Select(hold => hold.Reason == reason && hold.Stands ? hold with { Until = entry.Effective, LiftedBy = entry.Id } : hold)] };
}
