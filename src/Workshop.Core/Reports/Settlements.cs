using System.Collections.Immutable;
using Workshop.Core.Journal;

namespace Workshop.Core.Reports;

/// <summary>Which entries count, and as what: the first half of folding, before anything is applied.</summary>
public static class Settlements
{
    /// <summary>The entries in the order of their places, reports that were settled as having happened among those that count.</summary>
    public static ImmutableArray<Entry> InOrder(IEnumerable<Entry> entries)
    {
        var ordered = entries.OrderBy(entry => entry.Place).ToImmutableArray();
        var happened = ordered
            .Where(entry => entry is { Counts: true, Event: ReportSettled })
            .OrderBy(entry => entry.Position)
            .Select(entry => (ReportSettled)entry.Event)
            .GroupBy(settled => settled.Of)
            .Where(settled => settled.Last().As == SettledAs.Happened)
            .Select(settled => settled.Key)
            .ToHashSet();
        return happened.Count == 0 ? ordered
            : [.. ordered.Select(entry => entry.Disposition == Disposition.Noted && happened.Contains(entry.Id) ? entry with { Disposition = Disposition.Applied } : entry)];
    }
}
