using System.Collections.Immutable;
using Workshop.Core.Agenda;
using Workshop.Core.Groups;
using Workshop.Core.Holds;
using Workshop.Core.Journal;
using Workshop.Core.Reports;

namespace Workshop.Core.Corrections;

/// <summary>
/// Which entries of a job count, and as what: the first half of folding, before anything is applied. Corrections, settlements and mended
/// badges are read here and nowhere else; the journal itself never changes.
/// </summary>
/// <remarks>
/// Whether an entry is void depends on what was accepted after it, and never the other way round, so that the question always ends.
/// What was replaced stays replaced, also when the right value turns out to be wrong as well: somebody said that it was not so.
/// </remarks>
public sealed class Reckoning
{
    private readonly Dictionary<EventId, Entry> written;
    private readonly ILookup<EventId, Entry> corrections;
    private readonly ILookup<EventId, Entry> replacements;
    private readonly ILookup<EventId, Entry> settlements;
    private readonly ImmutableArray<Entry> mends;
    private readonly Dictionary<EventId, bool> voids = [];

    private Reckoning(ImmutableArray<Entry> ordered)
    {
        var accepted = ordered.OrderBy(entry => entry.Position).ToImmutableArray();
        written = accepted.ToDictionary(entry => entry.Id);
        corrections = accepted.Where(entry => entry.Event is CorrectionMade).ToLookup(entry => ((CorrectionMade)entry.Event).Of);
        replacements = accepted.Where(entry => entry.Judged.InsteadOf is not null).ToLookup(entry => entry.Judged.InsteadOf!.Entry);
        settlements = accepted.Where(entry => entry is { Event: ReportSettled, Disposition: Disposition.Applied }).ToLookup(entry => ((ReportSettled)entry.Event).Of);
        mends = [.. accepted.Where(entry => entry.Event is PersonCorrected)];
        Entries = accepted.Any(Changes) ? [.. ordered.Select(AsItCounts)] : ordered;
    }

    /// <summary>The entries in the order of their places, each as it counts now.</summary>
    public ImmutableArray<Entry> Entries { get; }

    public static Reckoning Of(IEnumerable<Entry> entries) => new([.. entries.OrderBy(entry => entry.Place)]);

    /// <summary>The entries in the order of their places, each as it counts now.</summary>
    public static ImmutableArray<Entry> InOrder(IEnumerable<Entry> entries)
    {
        var ordered = entries.OrderBy(entry => entry.Place).ToImmutableArray();
        return ordered.Any(Changes) ? new Reckoning(ordered).Entries : ordered;
    }

    /// <summary>Whether an entry says something about others that were accepted before it: after one the job is folded from the beginning.</summary>
    public static bool Changes(Entry entry) => entry.Event is CorrectionMade or ReportSettled or PersonCorrected || entry.Judged.InsteadOf is not null;

    /// <summary>The entry with this identity as it was written, or null where the job has none.</summary>
    public Entry? Find(EventId id) => written.GetValueOrDefault(id);

    /// <summary>The entry with this identity as it counts now, or null where the job has none.</summary>
    public Entry? Counted(EventId id) => Find(id) is { } entry ? AsItCounts(entry) : null;

    /// <summary>The correction that made an entry void.</summary>
    public Entry? CorrectedBy(EventId id) => corrections[id].FirstOrDefault(IsApplied);

    /// <summary>The entry that took an entry's place.</summary>
    public Entry? ReplacedBy(EventId id) => replacements[id].FirstOrDefault(IsApplied);

    /// <summary>The settlement of a report, while what led to it is not void.</summary>
    public Entry? SettledBy(EventId id) => settlements[id].LastOrDefault(settled => settled.CausedBy is not { } cause || !IsVoid(cause));

    /// <summary>The newest entry of the chain an entry belongs to: itself where nothing took its place.</summary>
    public Entry Newest(Entry entry) => ReplacedBy(entry.Id) is { } newer ? Newest(newer) : entry;

    /// <summary>The mending that says who an entry's person was, or null.</summary>
    public Entry? MendedBy(Entry entry) => mends.LastOrDefault(mend => Reaches((PersonCorrected)mend.Event, entry) && mend.Position > entry.Position);

    /// <summary>Void are what was corrected, what was replaced, and all that these caused, but for what was said: that is never taken back.</summary>
    public bool IsVoid(EventId id)
    {
        if (voids.TryGetValue(id, out var known))
        {
            return known;
        }

        voids[id] = false;
        return voids[id] = CorrectedBy(id) is not null || ReplacedBy(id) is not null || (Find(id) is { } entry && RestsOnVoid(entry));
    }

    private bool RestsOnVoid(Entry entry) =>
        !WasSaid(entry.Event) && ((entry.CausedBy is { } cause && (IsVoid(cause) || (OfARun(entry.Event) && SettledBy(cause) is { Event: ReportSettled { As: SettledAs.DidNotHappen } }))) || (entry.Event is ReportSettled settled && IsVoid(settled.Of)));

    // What became of a run is nothing to a group that was never in it.
    private static bool OfARun(WorkshopEvent one) => one is GroupWashed or GroupUnknown;

    private static bool WasSaid(WorkshopEvent one) => one is DueAnnounced;

    private bool IsApplied(Entry entry) =>
        entry.Disposition == Disposition.Applied || SettledBy(entry.Id) is { Event: ReportSettled { As: SettledAs.Happened } };

    private Entry AsItCounts(Entry entry)
    {
        if (IsVoid(entry.Id))
        {
            return entry with { Fate = Fate.Void };
        }

        var counted = MendedBy(entry) is { Event: PersonCorrected mended } ? entry with { Judged = entry.Judged with { Person = mended.Person } } : entry;
        if (entry is { Event: HoldPlaced { Hold: HoldReason.Query }, Id.Source: EventId.Service, CausedBy: { } report } && SettledBy(report) is not null)
        {
            return counted with { Fate = Fate.Answered };
        }

        return entry.Disposition != Disposition.Noted || SettledBy(entry.Id) is not { } settlement ? counted
            : ((ReportSettled)settlement.Event).As == SettledAs.DidNotHappen ? counted with { Fate = Fate.DidNotHappen }
            : counted with
            {
                Disposition = Disposition.Applied,
                Judged = counted.Judged with
                {
                    Passing = counted.Judged.Passing.AddRange(settlement.Judged.Passing),
                    WaiversUsed = counted.Judged.WaiversUsed.AddRange(settlement.Judged.WaiversUsed),
                },
            };
    }

    private static bool Reaches(PersonCorrected mend, Entry entry) =>
        entry.Id.Source == mend.Source && entry.Sequence >= mend.FromSequence && entry.Sequence <= mend.ToSequence;
}
