using System.Collections.Immutable;
using NodaTime;
using Workshop.Core.Journal;

namespace Workshop.Core.Waivers;

/// <summary>A waiver: one gate, one job, used by the next event that needs it.</summary>
/// <param name="UsableUntil">The end of the local day it was given on; null lasts until used.</param>
public sealed record Waiver(EventId Id, string Gate, string? GivenBy, string Reason, Instant From, Instant? UsableUntil, EventId? UsedBy)
{
    public bool IsOpenAt(Instant at) => UsedBy is null && From <= at && (UsableUntil is not { } until || at < until);
}

public sealed record WaiverBook
{
    public ImmutableArray<Waiver> All { get; init; } = [];

    /// <summary>The oldest waiver of a gate that may be used at this moment.</summary>
    public Waiver? For(string gate, Instant at) => All.FirstOrDefault(waiver => waiver.Gate == gate && waiver.IsOpenAt(at));

    /// <summary>All that may be used at this moment.</summary>
    public IEnumerable<Waiver> OpenAt(Instant at) => All.Where(waiver => waiver.IsOpenAt(at));

    public WaiverBook Apply(Entry entry)
    {
        var after = entry.Event is WaiverGiven given
            ? this with { All = All.Add(new Waiver(entry.Id, given.Gate, entry.Person, given.Reason, entry.Effective, entry.Judged.UsableUntil, null)) }
            : this;
        return entry.Judged.WaiversUsed.IsEmpty ? after
            : after with { All = [.. after.All.Select(waiver => entry.Judged.WaiversUsed.Contains(waiver.Id) ? waiver with { UsedBy = waiver.UsedBy ?? entry.Id } : waiver)] };
    }
}
