using NodaTime;
using Workshop.Core.Stops;

namespace Workshop.Core.ReserveTests;

/// <summary>What a test of the reserve came to.</summary>
public enum ReserveVerdict
{
    /// <summary>It ran its hours.</summary>
    Pass,

    /// <summary>It stopped before its hours were over.</summary>
    Short,

    /// <summary>It stopped, and nobody can tell whether before or after.</summary>
    Inconclusive,

    /// <summary>It runs, and its hours are not over.</summary>
    RunningOn,

    /// <summary>The movement was taken up again.</summary>
    Void,
}

/// <summary>What would settle a test that says nothing.</summary>
public enum ReserveSettling
{
    /// <summary>The day that the calendar shows, or whether it is day or night by the dial.</summary>
    ReadTheDay,

    /// <summary>The hands: nobody has read them.</summary>
    ReadTheHands,

    /// <summary>Another test, looked at a little before its hours are over.</summary>
    TestAgain,
}

/// <summary>The hours a watch ran from full wind, and what they say.</summary>
/// <param name="Least">It ran for so long at least.</param>
/// <param name="Most">And for so long at most; null while it runs.</param>
/// <param name="Exact">The hands, or somebody who saw it, tell it: least and most are the same.</param>
/// <param name="ByException">Short, by no more than what is let pass by exception.</param>
public sealed record ReserveJudgement(ReserveVerdict Verdict, Duration Least, Duration? Most, bool Exact, bool ByException, ReserveSettling? Settling)
{
    /// <summary>Judges a test by what was seen and by the hands.</summary>
    /// <param name="zone">By which the watch was set.</param>
    public static ReserveJudgement Of(ReserveTest test, DateTimeZone zone)
    {
        var seen = test.LastSeenRunning - test.Set.At;
        var hours = Duration.FromHours((double)test.Terms.Hours);
        if (test.VoidSince is not null)
        {
            return new ReserveJudgement(ReserveVerdict.Void, seen, null, false, false, null);
        }

        if (test.FoundStoppedAt is not { } found)
        {
            return new ReserveJudgement(seen >= hours ? ReserveVerdict.Pass : ReserveVerdict.RunningOn, seen, null, false, false, null);
        }

        var (least, most, settling) = Ran(test, test.Looks[^1].Told, found, seen, zone);
        var verdict = least >= hours ? ReserveVerdict.Pass : most < hours ? ReserveVerdict.Short : ReserveVerdict.Inconclusive;
        var byException = verdict == ReserveVerdict.Short && least >= hours * (double)test.Terms.ShareByException;
        return new ReserveJudgement(verdict, least, most, least == most, byException, verdict == ReserveVerdict.Inconclusive ? settling : null);
    }

    private static (Duration Least, Duration Most, ReserveSettling Settling) Ran(ReserveTest test, ReserveTestRead read, Instant found, Duration seen, DateTimeZone zone)
    {
        if (read.StoppedAt is { } at && at >= test.LastSeenRunning && at <= found)
        {
            return (at - test.Set.At, at - test.Set.At, ReserveSettling.TestAgain);
        }

        var hands = read.ShownTime is { } shown ? new ShownHands(shown, shown.Second != 0 || read.ToTheSecond == true ? Duration.FromSeconds(1) : Duration.FromMinutes(1)) : (ShownHands?)null;
        var ran = RunTime.Of(test.Set, found, test.LastSeenRunning, hands, read.ShownDay, zone).Candidates;

        // Hands that fit no moment between the last look and the finding were read wrong, or moved: what was seen is what is left.
        return ran.IsEmpty
            ? (seen, found - test.Set.At, hands is null ? ReserveSettling.ReadTheHands : ReserveSettling.TestAgain)
            : (ran[0].RanFor, ran[^1].RanFor, read.ShownDay is null ? ReserveSettling.ReadTheDay : ReserveSettling.TestAgain);
    }
}
