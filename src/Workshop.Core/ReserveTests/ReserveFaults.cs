using Workshop.Core.Journal;
using Workshop.Core.Words;

namespace Workshop.Core.ReserveTests;

/// <summary>What is wrong in an event of a test of the reserve alone.</summary>
internal static class ReserveFaults
{
    private const int HoursAtMost = 2_000;
    private const int DaysOfAMonth = 31;

    public static IEnumerable<Fault> Of(ReserveTestStarted started) => Day(started.ShownDay).Concat(Hours(started.Hours));

    public static IEnumerable<Fault> Of(ReserveTestRead read)
    {
        if (read.Running == true == (read.Stopped == true))
        {
            yield return new Fault("/running", Phrase.Of("It runs, or it has stopped: one of the two."));
        }

        if (read.Stopped != true && (read.ShownTime is not null || read.ShownDay is not null || read.StoppedAt is not null))
        {
            yield return new Fault("/shownTime", Phrase.Of("What the hands show is read from a stopped watch."));
        }

        foreach (var fault in Day(read.ShownDay))
        {
            yield return fault;
        }
    }

    private static IEnumerable<Fault> Day(int? day)
    {
        if (day is < 1 or > DaysOfAMonth)
        {
            yield return new Fault("/shownDay", Phrase.Of("A calendar shows 1 to {0}.", DaysOfAMonth));
        }
    }

    private static IEnumerable<Fault> Hours(decimal? hours)
    {
        if (hours is < 1 or > HoursAtMost)
        {
            yield return new Fault("/hours", Phrase.Of("A reserve is 1 to {0} hours.", HoursAtMost));
        }
    }
}
