using System.Collections.Immutable;
using Workshop.Core.Corrections;
using Workshop.Core.Gates;
using Workshop.Core.Journal;
using Workshop.Core.Shop;

namespace Workshop.Core.Jobs;

/// <summary>Two folds side by side, with and without an entry: which others are allowed only thanks to what it would change?</summary>
internal static class SideBySide
{
    /// <summary>
    /// The applied entries whose job gates pass as things are, and would not pass with one more entry; the newest first. One that would
    /// not pass is left out of the second fold, so that whatever rests on it is found too. A report that was released by what falls would
    /// only wait again, but it counted until then. Gates about facts are never asked again.
    /// </summary>
    /// <param name="one">A late entry, a correction, an entry that takes another's place, or a mended badge.</param>
    public static ImmutableArray<Entry> Harmed(GrowingJob growing, Entry one, ShopRules rules)
    {
        var (without, with) = (growing.Entries, growing.EntriesWith(one));
        var same = 0;
        while (same < without.Length && (ReferenceEquals(without[same], with[same]) || Alike(without[same], with[same])))
        {
            same++;
        }

        var now = growing.Fold(without.Take(same));
        var then = now;
        var harmed = ImmutableArray.CreateBuilder<Entry>();
        for (int i = same, j = same; j < with.Length; j++)
        {
            var after = with[j];
            if (after.Id == one.Id)
            {
                then = then.Apply(after);
                continue;
            }

            var before = without[i++];
            if (before.Counts && !after.OfNoEffect && !BadNews.IsMeasurement(before.Event) && Passes(now, before, rules) && !Passes(then, after, rules))
            {
                harmed.Add(before);
                after = after with { Fate = Fate.Void };
            }

            now = now.Apply(before);
            then = then.Apply(after);
        }

        harmed.Reverse();
        return harmed.ToImmutable();
    }

    private static bool Passes(Job job, Entry entry, ShopRules rules) =>
        JobGates.Ask(job, Asking.Again(entry, rules)).All(one => one.Strength == Strength.Note || entry.Judged.Passing.Contains(one.Gate));

    // Reckoned twice, an entry that somebody corrected before is two values that say the same.
    private static bool Alike(Entry one, Entry other) =>
        one.Id == other.Id && one.Fate == other.Fate && one.Disposition == other.Disposition && one.Person == other.Person
        && one.Judged.Passing.Length == other.Judged.Passing.Length && one.Judged.WaiversUsed.Length == other.Judged.WaiversUsed.Length;
}
