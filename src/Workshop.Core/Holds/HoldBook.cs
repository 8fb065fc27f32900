using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Casing;
using Workshop.Core.Corrections;
using Workshop.Core.Groups;
using Workshop.Core.Journal;
using Workshop.Core.Notes;
using Workshop.Core.Parts;
using Workshop.Core.Reports;

namespace Workshop.Core.Holds;

/// <summary>One hold, from when to when.</summary>
/// <param name="Cause">The entry that placed it.</param>
/// <param name="LiftedBy">The entry that lifted it, or null while it stands.</param>
/// <param name="Because">For a hold the service placed: the entry it followed from. Settling that report ends it.</param>
/// <param name="Answered">The report it asked about is settled: what was done meanwhile and is told since is not held against anybody.</param>
public sealed record Hold(
    HoldReason Reason, EventId Cause, Instant From, Instant? Until, bool StopsPromise, string? Text, LocalDate? LookAgainOn, EventId? LiftedBy, EventId? Because, bool Answered = false)
{
    public bool Stands => Until is null && !Answered;
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
        HoldLifted lifted => Lift(hold => hold.Reason == lifted.Hold, entry),
        ReportSettled settled => Lift(hold => hold.Reason == HoldReason.Query && hold.Because == settled.Of, entry),
        MixUpSuspected suspected => Place(HoldReason.MixUp, entry, text: suspected.Other is { } other ? $"perhaps exchanged with {other}" : "numbers at casing disagree"),
        LossReported loss => Place(HoldReason.Loss, entry, text: $"{loss.Group}: {loss.Counted} of {loss.Expected} counted"),
        CountDiffers more => Place(HoldReason.Query, entry, text: $"{more.Group}: {more.Counted} counted, {more.Expected} expected"),
        PartLost lost => Place(HoldReason.Loss, entry, text: LostPart(lost.Part, lost.Group)),
        PartFound found => Lift(hold => hold.Reason == HoldReason.Loss && hold.Text == LostPart(found.Part, found.Group), entry),
        DamageSeen { AsReceived: not true } damage => Place(HoldReason.Damage, entry, text: damage.Condition),
        _ => this,
    };

    // A part that is found ends the hold of its own loss, no other.
    private static string LostPart(string part, string? group) => group is null ? $"lost: {part}" : $"lost: {part}, of {group}";

    private HoldBook Place(HoldReason reason, Entry entry, bool? stopsPromise = null, string? text = null, LocalDate? until = null) =>
        this with { All = All.Add(new Hold(reason, entry.Id, entry.Effective, null, stopsPromise ?? HoldTable.Of(reason).StopsPromise, text, until, null, entry.CausedBy, entry.Fate == Fate.Answered)) };

    private HoldBook Lift(Func<Hold, bool> which, Entry entry) =>
        this with { All = [.. All.Select(hold => hold.Until is null && which(hold) ? hold with { Until = entry.Effective, LiftedBy = entry.Id } : hold)] };
}
