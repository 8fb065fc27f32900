using Workshop.Core.Jobs;
using Workshop.Core.Journal;
using Workshop.Core.Parts;
using Workshop.Core.Shop;

namespace Workshop.Core.Letters;

/// <summary>Days of parts that slipped by more than the shop lets pass without a word.</summary>
internal static class PartSlips
{
    public static IEnumerable<LetterOccasion> Of(Job job, IEnumerable<Entry> entries, ShopRules rules)
    {
        var slips = entries
            .Where(entry => entry.Counts && entry.Event is PartExpected { Was: { } was, ExpectedOn: { } now } && rules.Calendar.OpenDaysBetween(was, now) > rules.Promises.MessageBeyondWorkingDays)
            .Select(entry => (Told: (PartExpected)entry.Event, entry.Effective))
            .ToArray();
        foreach (var (i, (told, at)) in slips.Index())
        {
            var newest = slips.Skip(i + 1).All(later => (later.Told.Order, later.Told.Part) != (told.Order, told.Part));
            var waits = job.Parts.Ordered.Any(one => one.Order == (told.Order ?? "") && one.Part == told.Part && one.Open > 0);
            yield return new LetterOccasion(
                LetterMoment.PartDelayed, $"{i + 1}", at, !waits || job.Standings.IsReady || job.Standings.HandedOver ? LetterDrop.Passed : newest ? null : LetterDrop.Newer);
        }
    }
}
