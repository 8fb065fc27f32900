using System.Globalization;
using Workshop.Core.Jobs;
using Workshop.Core.Trials;
using Workshop.Core.Words;

namespace Workshop.Core.Gates;

/// <summary>What stands against a day of a trial.</summary>
internal static class TrialGates
{
    /// <summary>A day has one figure. Another one says which entry it stands instead of, so that nobody wins a trial by measuring until it fits.</summary>
    public static IEnumerable<Objection> Told(Job job, Asking asking, TrialDayRecorded told)
    {
        if (job.Trials.Find(told.Trial, told.Day) is not { } before || before.Says(told))
        {
            yield break;
        }

        yield return GateTable.Objects(
            "trial-day-told", asking.Rules, Phrase.Of("Day {0} was told with another figure", told.Day), Phrase.Of("the same again with 'insteadOf', where the first was wrong"),
            names: [("trial", told.Trial), ("day", told.Day.ToString(CultureInfo.InvariantCulture)), ("entry", before.Id.ToString())]);
    }
}
